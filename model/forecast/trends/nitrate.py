"""Nitrate by season: the raw water and what treatment leaves, month against month."""

from __future__ import annotations

from model.equipment.reverse_osmosis import ReverseOsmosis
from model.equipment.softener import Softener
from model.forecast.situation import Situation
from model.forecast.trends.shape import Level, Point, Row, Trend, Upright
from model.forecast.words import MONTHS
from model.records.bounds import for_health, is_pad
from model.records.history import Dated
from model.records.points import main_train, ro_point
from model.records.quantities import show_taken
from model.water.limits import NITRATE_LIMIT_MG_L_N

PLACES = ("source", "after treatment", "RO tap")
_ROWS = 12
_READ = 'No nitrate yet: wellward read nitrate 6 "mg/L as N" --at source, and the same --at tap'


def nitrate_by_season(now: Situation) -> Trend:
    """Nitrate [mg/L as N] against the day of the year. A strip is an interval: its upper end is drawn."""
    read = [(one, place) for one in now.history.taken("nitrate") if (place := nitrate_place(now, one)) is not None]
    day = now.today.timetuple().tm_yday
    return Trend(
        id="nitrate",
        name="Nitrate",
        title="Nitrate by season, all years",
        dimension="nitrate",
        start=1.0,
        end=366.0,
        across="year",
        jobs=("nitrate_check", "nitrate_test", "breakthrough_profile"),
        series=PLACES,
        points=tuple(_point(now, one, place) for one, place in read),
        levels=(Level(NITRATE_LIMIT_MG_L_N, "limit"),),
        uprights=(Upright(float(day), "today"),),
        from_zero=True,
        words=_words(now, read),
        rows=tuple(_row(now, one, place) for one, place in reversed(read[-_ROWS:])),
        empty="" if read else _READ,
    )


def nitrate_place(now: Situation, one: Dated) -> int | None:
    """Which of the places a value was taken at; None for the hose and for water half-way, before any resin."""
    if one.taken.point == "source":
        return 0
    if one.taken.point in {ro_point(stage) for stage in now.house.stages if isinstance(stage, ReverseOsmosis)}:
        return 2
    train = main_train(now.house)
    first = next((place for place, stage in enumerate(train) if isinstance(stage, Softener)), len(train))
    return 1 if one.taken.point in {"tap", *(f"after_{stage.id}" for stage in train[first:])} else None


def _point(now: Situation, one: Dated, place: int) -> Point:
    return Point(
        x=float(one.on.timetuple().tm_yday),
        y=for_health(one.taken),
        series=place,
        old=one.on.year < now.today.year,
        qualifier=one.taken.qualifier,
    )


def _words(now: Situation, read: list[tuple[Dated, int]]) -> tuple[str, ...]:
    if not read:
        return ()
    found = [f"{_upper(PLACES[place])}: {_highest(now, read, place)}." for place in range(3) if _of(read, place)]
    pads = any(is_pad(one.taken) for one, _ in read)
    return (*found, "Of a strip's interval the upper end is drawn." if pads else "")


def _of(read: list[tuple[Dated, int]], place: int) -> list[Dated]:
    return [one for one, at_place in read if at_place == place]


def _highest(now: Situation, read: list[tuple[Dated, int]], place: int) -> str:
    every = _of(read, place)
    worst = max(every, key=lambda one: for_health(one.taken))
    over = sum(for_health(one.taken) >= NITRATE_LIMIT_MG_L_N for one in every)
    said = f"highest {show_taken(worst.taken, now.house.units)} ({now.known.day(worst.on)})"
    return f"{said}, {over or 'none'} of {len(every)} at or over the limit"


def _upper(words: str) -> str:
    return words[0].upper() + words[1:]


def _row(now: Situation, one: Dated, place: int) -> Row:
    how = "strip, " if is_pad(one.taken) else "laboratory, " if one.from_lab else ""
    when = f"{one.on.day} {MONTHS[one.on.month - 1]} {one.on.year}"
    return Row(when, f"{how}{PLACES[place]}", show_taken(one.taken, now.house.units))
