"""Pressure drop across a sediment filter, cartridge after cartridge."""

from __future__ import annotations

from datetime import date, timedelta
from typing import NamedTuple

from model.equipment.registry import title_of
from model.equipment.sediment_filter import SedimentFilter
from model.forecast.situation import Situation
from model.forecast.trends.shape import TODAY, Level, Path, Point, Row, Span, Trend, Upright, at, past
from model.forecast.trends.windows import typed, window_of, window_words

AHEAD_DAYS = 120
_ROWS = 8


class Drop(NamedTuple):
    """Pressure before less pressure after, read on one day [bar]; `fitted`: when its cartridge was."""

    on: date
    bar: float
    fitted: date | None


def drops(now: Situation, stage: SedimentFilter) -> list[Drop]:
    """Every drop of which both pressures were read on one day, oldest first. What was read before a change of the
    cartridge, on its day, belongs to the old one."""
    changed = now.history.services(f"{stage.id}.replace_cartridge")
    out = {(one.on, one.taken.moment): one.taken.value for one in now.history.taken("pressure_out", stage.id)}
    found = []
    for one in now.history.taken("pressure_in", stage.id):
        key = (one.on, one.taken.moment)
        if key in out:
            before = [
                done.on
                for done in changed
                if (done.on, done.id) < (one.on, one.event) or (done.id == one.event and one.taken.moment != "before")
            ]
            found.append(Drop(one.on, max(one.taken.value - out[key], 0.0), before[-1] if before else None))
    return found


def pressure_drop(now: Situation, stage: SedimentFilter, name: str) -> Trend:
    """The drop [bar] at full flow over 18 months, with the changes and the drops of a clean and a full cartridge."""
    start = past(now.today)
    read = [one for one in drops(now, stage) if one.on >= start]
    changed = [one.on for one in now.history.services(f"{stage.id}.replace_cartridge") if one.on >= start]
    window = window_of(now, stage, "replace_cartridge")
    end = now.today + timedelta(days=AHEAD_DAYS)
    shown = (window[0], min(window[1], end)) if window and window[0] < end else None
    return Trend(
        id=f"drop.{stage.id}",
        name=name,
        title=f"Pressure drop at full flow, {title_of(stage)}",
        dimension="pressure",
        start=at(start),
        end=at(end),
        stage=stage.id,
        jobs=("replace_cartridge", "read_drop"),
        points=tuple(Point(x=at(one.on), y=one.bar) for one in read),
        paths=_by_cartridge(read),
        seen="one cartridge",
        levels=(Level(stage.clean_drop_bar, "clean"), Level(stage.change_drop_bar, "change")),
        uprights=(*(Upright(at(on), "cartridge changed") for on in changed), Upright(at(now.today), TODAY)),
        spans=(Span(at(shown[0]), at(shown[1]), "window of the change"),) if shown else (),
        from_zero=True,
        words=_words(now, stage, read),
        rows=tuple(_row(now, one) for one in reversed(read[-_ROWS:])),
        empty=""
        if read
        else f"No pressure drop yet: read both gauges on one day, one tap fully open: {_typed(now, stage)}",
    )


def _typed(now: Situation, stage: SedimentFilter) -> str:
    return f"{typed(now, 'pressure_in 50 psi', 'pressure_in 3.4 bar')} --at {stage.id}, and the same with pressure_out"


def _by_cartridge(read: list[Drop]) -> tuple[Path, ...]:
    by_one: dict[date | None, list[tuple[float, float]]] = {}
    for one in read:
        by_one.setdefault(one.fitted, []).append((at(one.on), one.bar))
    return tuple(Path(tuple(way), seen=True) for way in by_one.values() if len(way) > 1)


def _words(now: Situation, stage: SedimentFilter, read: list[Drop]) -> tuple[str, ...]:
    window = window_words(now, stage, "replace_cartridge", "the cartridge is full")
    if not read:
        return (window,)
    last, show = read[-1], now.known.show
    rise = (last.bar - stage.clean_drop_bar) / (stage.change_drop_bar - stage.clean_drop_bar)
    part = f"{max(rise, 0.0):.0%} of the way from clean to change"
    passed = ""
    if last.fitted is not None:
        passed = f", after {show(now.demand.litres(last.fitted, last.on), 'volume')} through this cartridge"
    return (f"{show(last.bar, 'pressure')} on {now.known.day(last.on)}: {part}{passed}.", window)


def _row(now: Situation, one: Drop) -> Row:
    passed = "no record of when fitted"
    if one.fitted is not None:
        passed = f"after {now.known.show(now.demand.litres(one.fitted, one.on), 'volume')}"
    return Row(now.known.day(one.on), passed, now.known.show(one.bar, "pressure"))
