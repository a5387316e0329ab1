"""The RO membrane: what it keeps back, and what it makes, corrected for cold and pressure."""

from __future__ import annotations

from datetime import date, timedelta
from typing import NamedTuple

from model.equipment.registry import title_of
from model.equipment.relations.reverse_osmosis import rejection
from model.equipment.reverse_osmosis import ReverseOsmosis
from model.forecast.numbers.reverse_osmosis import FLOW_FALL_SHARE, flow_condition
from model.forecast.situation import Situation
from model.forecast.trends.shape import TODAY, Level, Path, Point, Row, Span, Trend, Upright, at, past
from model.forecast.trends.windows import typed, window_of, window_words

AHEAD_DAYS = 60
_ROWS = 8
_TASK = "replace_membrane"


class Kept(NamedTuple):
    """A share of a membrane on a day, 0-1 or above; `fitted`: when that membrane was, None for the first on record."""

    on: date
    share: float
    fitted: date | None


def rejections_seen(now: Situation, stage: ReverseOsmosis) -> list[Kept]:
    """Rejection of dissolved solids, 0-1, on every day when solids were read before and after; all membranes."""
    product = {(one.on, one.taken.moment): one.taken.value for one in now.history.taken("ro_product_tds", stage.id)}
    return [
        Kept(one.on, min(max(rejection(one.taken.value, product[key]), 0.0), 1.0), _fitted(now, stage, one.on))
        for one in now.history.taken("ro_feed_tds", stage.id)
        if (key := (one.on, one.taken.moment)) in product and one.taken.value > 0.0
    ]


def flows_seen(now: Situation, stage: ReverseOsmosis) -> list[Kept]:
    """Normalized product flow over the first of the same membrane, where pressure and temperature were read near."""
    first: dict[date | None, float] = {}
    found = []
    for one in now.history.taken("ro_flow", stage.id):
        seen = flow_condition(now, stage, one.on, one.taken.value)
        if seen is not None and seen.ratio > 0.0:
            fitted = _fitted(now, stage, one.on)
            found.append(Kept(one.on, seen.ratio / first.setdefault(fitted, seen.ratio), fitted))
    return found


def _fitted(now: Situation, stage: ReverseOsmosis, on: date) -> date | None:
    """When the membrane of a day was fitted. What was read on the day of the change counts as of the new one."""
    return max((one.on for one in now.history.services(f"{stage.id}.{_TASK}") if one.on <= on), default=None)


def membrane_rejection(now: Situation, stage: ReverseOsmosis) -> Trend:
    """Rejection [%] over 18 months and the rejection at which the membrane is done."""
    read = [one for one in rejections_seen(now, stage) if one.on >= past(now.today)]
    levels = (Level(100.0 * stage.replace_below_rejection, "change below"),)
    words: tuple[str, ...] = ()
    if read:
        seen = f"{read[-1].share:.0%} kept back on {now.known.day(read[-1].on)}"
        first = f", {read[0].share:.0%} on {now.known.day(read[0].on)}" if len(read) > 1 else ""
        words = (f"{seen}{first}.", window_words(now, stage, _TASK, "the change point is reached"))
    empty = (
        "No rejection yet: read solids before and after the membrane on one day: wellward read ro_feed_tds 250, "
        "then ro_product_tds 20"
    )
    return _trend(
        now, stage, read, "rejection", "RO rejection", "Solids kept back", levels, words, "" if read else empty
    )


def membrane_flow(now: Situation, stage: ReverseOsmosis) -> Trend:
    """Normalized product flow [% of the membrane's first] over 18 months, and the fall that says clean or look."""
    read = [one for one in flows_seen(now, stage) if one.on >= past(now.today)]
    words: tuple[str, ...] = ()
    if read:
        words = (
            f"On {now.known.day(read[-1].on)} the membrane made {read[-1].share:.0%} of its first value, corrected for "
            "cold and net pressure.",
            f"A fall of {FLOW_FALL_SHARE:.0%} says: look at prefilters and pressure, then clean or change it.",
        )
    empty = (
        "No product flow yet: read it with temperature and pressure near the day: "
        f"{typed(now, 'ro_flow 40 gal/day', 'ro_flow 150 L/day')}, then temperature and feed_pressure"
    )
    levels = (Level(100.0 * (1.0 - FLOW_FALL_SHARE), "look below"),)
    title = "Product flow of its first, corrected"
    return _trend(now, stage, read, "flow", "RO flow", title, levels, words, "" if read else empty)


def _trend(
    now: Situation,
    stage: ReverseOsmosis,
    read: list[Kept],
    id_: str,
    name: str,
    title: str,
    levels: tuple[Level, ...],
    words: tuple[str, ...],
    empty: str,
) -> Trend:
    start, end = past(now.today), now.today + timedelta(days=AHEAD_DAYS)
    changed = [one.on for one in now.history.services(f"{stage.id}.{_TASK}") if one.on >= start]
    window = window_of(now, stage, _TASK) if id_ == "rejection" else None
    by_one: dict[date | None, list[tuple[float, float]]] = {}
    for one in read:
        by_one.setdefault(one.fitted, []).append((at(one.on), 100.0 * one.share))
    return Trend(
        id=f"{id_}.{stage.id}",
        name=name,
        title=f"{title}, {title_of(stage)}",
        dimension="percent",
        start=at(start),
        end=at(max(end, window[1]) if window else end),
        stage=stage.id,
        jobs=("performance_check", _TASK) if id_ == "rejection" else (),
        points=tuple(Point(x=at(one.on), y=100.0 * one.share) for one in read),
        paths=tuple(Path(tuple(way), seen=True) for way in by_one.values() if len(way) > 1),
        seen="one membrane",
        levels=levels,
        uprights=(*(Upright(at(on), "membrane changed") for on in changed), Upright(at(now.today), TODAY)),
        spans=(Span(at(window[0]), at(window[1]), "window of the change"),) if window else (),
        words=words,
        rows=tuple(Row(now.known.day(one.on), "read", f"{one.share:.1%}") for one in reversed(read[-_ROWS:])),
        empty=empty,
    )
