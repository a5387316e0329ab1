"""The RO membrane: cold water against a worn membrane, and solids that stand the wrong way round."""

from __future__ import annotations

from datetime import date, timedelta

from model.equipment.reverse_osmosis import ReverseOsmosis, rejections
from model.findings.readings import RECENT_DAYS, near, newest, newest_first, rests, said
from model.findings.shape import Raised
from model.forecast.numbers.reverse_osmosis import Condition, flows
from model.forecast.situation import Situation
from model.records.history import Dated

SLOW_SHARE = 0.8
"""A flow under this share of the first is one that people notice. From memory; owner's default."""

SOUND_SHARE, WORN_SHARE = 0.9, 0.85
"""Flow with cold and pressure taken out, over the first: from here on sound, up to there worn. Source of 0.9: US Army
TM 10-4610-309-14, WP 0016; 0.85 from memory; owner's default."""

MUCH_SHARE = 1.1
"""With many solids and this much flow, a seal leaks. From memory; owner's default."""


def cold_water(now: Situation, stage: ReverseOsmosis) -> Raised | None:
    """Less water than at first, though the membrane is as good once cold and pressure are taken out."""
    first, last = _ends(now, stage)
    if first is None or last is None or last.ratio < SOUND_SHARE * first.ratio:
        return None
    then, read = _flow(now, stage, first.on), _flow(now, stage, last.on)
    if then is None or read is None or read.taken.value > SLOW_SHARE * then.taken.value or _leaks(now, stage):
        return None
    cold = near(now, "temperature", (stage.id, "ro", "tap", "source"), last.on, 45)
    share = last.ratio / first.ratio
    text = (
        f"RO flow {said(now, read)}, {said(now, then)} before; with cold and pressure taken out it makes {share:.0%} "
        "of that. It needs nothing."
    )
    return Raised("note", text, rests(now, read, then, cold))


def worn_membrane(now: Situation, stage: ReverseOsmosis) -> Raised | None:
    """Less water with cold and pressure taken out, or fewer solids held back than the owner's limit."""
    first, last = _ends(now, stage)
    share = last.ratio / first.ratio if first and last and first.ratio > 0.0 else 1.0
    kept, leaks = rejections(stage, now.history), _leaks(now, stage)
    if share > WORN_SHARE and not leaks:
        return None
    told = [f"makes {share:.0%} of its first flow with cold and pressure taken out"] if share <= WORN_SHARE else []
    told += (
        [f"holds back {kept[-1][1]:.0%} of the solids, {stage.replace_below_rejection:.0%} at least"] if leaks else []
    )
    read = _flow(now, stage, last.on) if last else None
    solids = (newest(now, "ro_product_tds", stage.id), newest(now, "ro_feed_tds", stage.id)) if leaks else ()
    first_cause = ("o_ring", "chlorine") if share >= MUCH_SHARE else ("fouled",) if share > WORN_SHARE else ()
    return Raised("warning", f"The membrane {' and '.join(told)}.", rests(now, read, *solids), first_cause)


def _leaks(now: Situation, stage: ReverseOsmosis) -> bool:
    kept = rejections(stage, now.history)
    recent = bool(kept) and kept[-1][0] >= now.today - timedelta(days=RECENT_DAYS)
    return recent and kept[-1][1] < stage.replace_below_rejection


def _ends(now: Situation, stage: ReverseOsmosis) -> tuple[Condition | None, Condition | None]:
    if newest(now, "ro_flow", stage.id) is None:
        return None, None
    seen = flows(now, stage)
    return (seen[0], seen[-1]) if len(seen) > 1 else (None, None)


def _flow(now: Situation, stage: ReverseOsmosis, on: date) -> Dated | None:
    return next((one for one in reversed(now.history.taken("ro_flow", stage.id)) if one.on == on), None)


def solids_reversed(now: Situation, stage: ReverseOsmosis) -> Raised | None:
    """As many solids after the membrane as before it, or more, on one day."""
    after = newest(now, "ro_product_tds", stage.id)
    if after is None:
        return None
    same = (one for one in newest_first(now, "ro_feed_tds", (stage.id,)) if one.on == after.on)
    before = next((one for one in same if one.taken.moment == after.taken.moment), None)
    if before is None or after.taken.value < before.taken.value:
        return None
    text = f"Solids {said(now, after)} after the membrane, {said(now, before)} before it."
    return Raised("warning", text, rests(now, after, before))
