"""The water that leaves the neutralizer: how its pH, hardness and clearness go."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import islice

from model.equipment.neutralizer import SPENT_PH, Neutralizer
from model.findings.readings import PAIR_DAYS, RECENT_DAYS, after, near, newest, newest_first, rests, said
from model.findings.rules.neutralizer import OVER_PH, still_deep
from model.findings.shape import Raised
from model.forecast.numbers.common import outlet_of
from model.forecast.situation import Situation
from model.records.bounds import top
from model.records.history import Dated
from model.unit_tables import GPG_MG_L

FALL_PH = 0.4
"""Twice in a row so far under what it was: more than a meter wanders. From memory; owner's default."""

USUAL_TOP_PH = 8.0
"""A pH above this counts as this: fresh media may start higher and settle. From memory; owner's default."""

LEAST_PH, MOST_PH = 4, 24
"""So many readings make a trend, and so many are looked at."""

MUCH_RISE_MG_L_CACO3 = 6.0 * GPG_MG_L
"""A bed adds up to so much hardness [mg/L as CaCO3]: 6 gpg. From memory; owner's default."""

CLOUDY_NTU = 5.0
"""From here on water looks cloudy [NTU]. From memory; owner's default."""

REFILLED_DAYS = 30
"""Cloudy within so many days of a top-up, it is the new media. From memory; owner's default."""

RISE_PH = 0.3
"""A glass that stood and fresh water further apart than this are not one reading. From memory; owner's default."""

_FILLED = ("top_up", "rebed")
_GLASS = ("overnight", "stood", "glass")


def falling_pH(now: Situation, stage: Neutralizer) -> Raised | None:
    """The pH sinks since the bed was last filled, though it is still over the limit."""
    read = newest(now, "pH", *after(now, stage))
    if read is None or read.taken.value < max(stage.floor_pH, SPENT_PH):
        return None
    since = _filled(now, stage) or date.min
    every = islice(newest_first(now, "pH", (read.taken.point,)), MOST_PH)
    own = [one for one in every if one.on > since and one.taken.value < OVER_PH]
    if len(own) < LEAST_PH:
        return None
    first = min(USUAL_TOP_PH, (own[-1].taken.value + own[-2].taken.value) / 2.0)
    if max(one.taken.value for one in own[:2]) > first - FALL_PH:
        return None
    text = f"pH {said(now, read)} after the neutralizer, from {said(now, own[-1])}: it sinks slowly."
    deep = still_deep(now, stage)
    return Raised("note", text, rests(now, read, own[1], own[-1], deep), ("channel", "bypass") if deep else ())


def _filled(now: Situation, stage: Neutralizer) -> date | None:
    days = (now.known.last_done(stage, job) for job in _FILLED)
    return max((day for day in days if day is not None), default=None)


def hardness_rise(now: Situation, stage: Neutralizer) -> Raised | None:
    """The bed adds more hardness than one usually does: more acid to use up, or more magnesia."""
    read = newest(now, "hardness", outlet_of(now, stage))
    raw = near(now, "hardness", ("source",), read.on, RECENT_DAYS) if read else None
    if read is None or raw is None or read.taken.qualifier == "<":
        return None
    rise = read.taken.value - top(raw.taken)
    if rise < MUCH_RISE_MG_L_CACO3:
        return None
    text = (
        f"Hardness {said(now, read)} after the neutralizer, {said(now, raw)} before it: "
        f"{now.known.show(rise, 'hardness')} more, which softener and salt have to carry."
    )
    return Raised("warning", text, rests(now, read, raw, newest(now, "pH", read.taken.point)))


def cloudy_after_top_up(now: Situation, stage: Neutralizer) -> Raised | None:
    """Cloudy water soon after media were put in, and not from the well."""
    filled, read = _filled(now, stage), newest(now, "turbidity", *after(now, stage))
    if filled is None or read is None or read.taken.value < CLOUDY_NTU:
        return None
    raw = near(now, "turbidity", ("source",), read.on)
    if not filled <= read.on <= filled + timedelta(days=REFILLED_DAYS) or (raw and top(raw.taken) >= CLOUDY_NTU):
        return None
    text = (
        f"Turbidity {said(now, read)}, media put in on {now.known.day(filled)}; particles shade germs from a UV lamp."
    )
    return Raised("note", text, rests(now, read, raw))


def pH_rises_standing(now: Situation, stage: Neutralizer) -> Raised | None:
    """A glass left to stand shows more than fresh water of the same tap: carbon dioxide leaves it."""
    high = _standing(now, after(now, stage))
    fresh = _fresh(now, high) if high else None
    if high is None or fresh is None or high.taken.value >= OVER_PH:
        return None
    if high.taken.value < fresh.taken.value + RISE_PH:
        return None
    text = f"pH {said(now, high)} in water that had stood, {said(now, fresh)} fresh: go by the fresh one."
    return Raised("note", text, rests(now, high, fresh))


def _standing(now: Situation, points: tuple[str, ...]) -> Dated | None:
    """The newest pH of water that had stood, by its state or how it was read."""
    since = now.today - timedelta(days=RECENT_DAYS)
    own = [one for point in points for one in now.history.standing("pH", point)[-1:] if one.on >= since]
    own += [one for one in islice(newest_first(now, "pH", points), MOST_PH) if _is_glass(one)]
    return max(own, key=lambda one: (one.on, one.event), default=None)


def _fresh(now: Situation, high: Dated) -> Dated | None:
    """The newest pH of running water at the same tap, of the same days."""
    same = (one for one in newest_first(now, "pH", (high.taken.point,)) if not _is_glass(one))
    fresh = next((one for one in same if one.on <= high.on + timedelta(days=PAIR_DAYS)), None)
    return fresh if fresh is not None and fresh.on >= high.on - timedelta(days=PAIR_DAYS) else None


def _is_glass(one: Dated) -> bool:
    return any(word in one.taken.method.casefold() for word in _GLASS)
