"""The acid neutralizer."""

from __future__ import annotations

from datetime import timedelta

from model.equipment.neutralizer import SPENT_PH, Neutralizer
from model.findings.context import stood
from model.findings.readings import after, newest, newest_end, newest_first, newest_of_all, rests, said
from model.findings.rules.stocks import unlike
from model.findings.shape import Raised
from model.forecast.situation import Situation
from model.records.history import Dated

OVER_PH = 9.0
"""From here on water is over-corrected: slippery and bitter. Common practice, no source."""

DEEP_DAYS = 150
"""A bed depth read within these days still says whether the bed is deep enough. From memory; owner's default."""

LEAST_FREEBOARD_CM = 25.0
"""Room that a bed needs above it [cm]: 10 in; 13 to 14 are usual. From memory; owner's default."""

OVERFILLED_CM = 5.0
"""So far over its full depth a bed is overfilled [cm]: more than a tape is off. From memory; owner's default."""


def still_acid(now: Situation, stage: Neutralizer) -> Raised | None:
    """The newest pH after the bed under the owner's floor, or under what counts as neutralized."""
    limit = max(stage.floor_pH, SPENT_PH)
    read = _under(now, stage, limit)
    if read is None:
        return None
    depth, raw, full = newest(now, "bed_depth", stage.id), newest(now, "pH", "source"), still_deep(now, stage)
    told = f" The bed was still {said(now, full)}." if full else ""
    text = f"pH {said(now, read)} after the neutralizer, under {limit:.1f}.{told}"
    return Raised("warning", text, rests(now, read, depth, raw), ("channel", "bypass") if full else ())


def still_deep(now: Situation, stage: Neutralizer) -> Dated | None:
    """The bed depth that was read not long ago and is enough, None where there is none."""
    depth = newest(now, "bed_depth", stage.id)
    if depth is None or depth.on < now.today - timedelta(days=DEEP_DAYS):
        return None
    return depth if depth.taken.value >= stage.minimum_bed_cm else None


def little_freeboard(now: Situation, stage: Neutralizer) -> Raised | None:
    """A bed that reaches too near to the rim, or over its full depth: it has no room to lift in a backwash."""
    room, depth = newest(now, "freeboard", stage.id), newest(now, "bed_depth", stage.id)
    told = [f"freeboard {said(now, room)}"] if room and room.taken.value < LEAST_FREEBOARD_CM else []
    over = depth is not None and depth.taken.value > stage.full_bed_cm + OVERFILLED_CM
    told += (
        [f"bed {said(now, depth)}, {now.known.show(stage.full_bed_cm, 'length')} when full"] if depth and over else []
    )
    if not told:
        return None
    text = f"{' and '.join(told)}: too little room to lift the media in a backwash."
    return Raised("warning", text[0].upper() + text[1:], rests(now, room, depth))


def _under(now: Situation, stage: Neutralizer, limit: float) -> Dated | None:
    """The newest pH of running water after the bed where it lies under the limit, as a number or as a strip's end."""
    points = after(now, stage)
    end = newest_end(now, "pH", points)
    if end is not None and end.taken.qualifier == "<" and end.taken.value <= limit:
        return end
    read = newest(now, "pH", *points)
    return read if read is not None and read.taken.value < limit else None


def _beyond(now: Situation, stage: Neutralizer, *, at_rest: bool) -> Dated | None:
    """A newest pH after the bed that only says "more than", from where it is over-corrected."""
    end = newest_end(now, "pH", after(now, stage), at_rest=at_rest)
    over = end is not None and end.taken.qualifier == ">" and end.taken.value >= OVER_PH
    return end if over else None


def bed_stays(now: Situation, stage: Neutralizer) -> Raised | None:
    """The bed stands higher than what dissolves was reckoned to leave."""
    return unlike(now, stage, "top_up", "bed_depth", ("high", "stuck"), "note", "too little dissolves")


def bed_lost(now: Situation, stage: Neutralizer) -> Raised | None:
    """The bed stands lower than what dissolves was reckoned to leave."""
    return unlike(now, stage, "top_up", "bed_depth", ("low",), "note", "more goes than the pH explains")


def over_corrected_standing(now: Situation, stage: Neutralizer) -> Raised | None:
    """A high pH of water that stood, or a high one with a usual one read at the same place on the same day."""
    high = _beyond(now, stage, at_rest=True) or _high_standing(now, stage)
    if high is None:
        return None
    text = f"pH {said(now, high)} in water that had stood: run the tap before use, and fill no aquarium from it."
    return Raised("note", text, rests(now, high, _flowing(now, high)), () if stage.magnesia_share > 0.0 else ("meter",))


def _high_standing(now: Situation, stage: Neutralizer) -> Dated | None:
    read = newest_of_all(now, "pH", after(now, stage))
    # Notes are only looked at where there is something to explain.
    if all(one.taken.value < OVER_PH for one in read):
        return None
    high = next((one for one in read if _stood(now, one)), None)
    return high if high is not None and high.taken.value >= OVER_PH else None


def over_corrected(now: Situation, stage: Neutralizer) -> Raised | None:
    """A high pH of water that flowed, as far as is known."""
    read = _beyond(now, stage, at_rest=False) or _high_flowing(now, stage)
    if read is None:
        return None
    text = f"pH {said(now, read)} after the neutralizer: bitter and slippery, and scale may form."
    return Raised("warning", text, rests(now, read), ("magnesia",) if stage.magnesia_share > 0.3 else ())


def _high_flowing(now: Situation, stage: Neutralizer) -> Dated | None:
    points = after(now, stage)
    newest_one = newest(now, "pH", *points)
    if newest_one is None or (newest_one.taken.value < OVER_PH and not stood(now, newest_one)):
        return None
    read = next((one for one in newest_first(now, "pH", points) if not _stood(now, one)), None)
    return read if read is not None and read.taken.value >= OVER_PH else None


def _stood(now: Situation, one: Dated) -> bool:
    return stood(now, one) or (one.taken.value >= OVER_PH and _flowing(now, one) is not None)


def _flowing(now: Situation, one: Dated) -> Dated | None:
    """A usual pH read at the same place on the same day."""
    same = (other for other in newest_first(now, "pH", (one.taken.point,)) if other.on == one.on and other is not one)
    return next((other for other in same if other.taken.value < OVER_PH), None)
