"""Salt in the brine tank: what was measured, what is reckoned, and the window of the next refill."""

from __future__ import annotations

from datetime import date, timedelta

from model.equipment.base import Stock
from model.equipment.registry import title_of
from model.equipment.softener import Softener, salt_kg
from model.forecast.bands import left_band
from model.forecast.situation import Situation
from model.forecast.trends.shape import (
    TODAY,
    Band,
    Level,
    Path,
    Point,
    Row,
    Span,
    Trend,
    Upright,
    at,
    days_between,
)
from model.forecast.trends.ways import joined
from model.forecast.trends.windows import three_words, typed, window_of, window_words
from model.records.history import Dated

PAST_DAYS = 240
LEAST_AHEAD_DAYS, MOST_AHEAD_DAYS = 30, 400
_ROWS = 8
_READ = "No salt depth in eight months. Measure it from the tank's floor: "


def salt_left(now: Situation, stage: Softener) -> Trend:
    """Salt [kg] by the depths read, and from the last of them on with its 10 to 90 % band down to the refill line."""
    stock = next((one for one in now.stocks.get(stage.id, ()) if one.job == "refill_salt"), None)
    start, line = now.today - timedelta(days=PAST_DAYS), salt_kg(stage, stage.salt_low_cm)
    read = [one for one in now.history.taken("salt_depth", stage.id) if one.on >= start]
    window = window_of(now, stage, "refill_salt")
    end = _end(now, window)
    days = days_between(max(stock.since, start), end) if stock else []
    band = left_band(now, stock, days) if stock else []
    middle = _down_to([(at(day), line + mid) for day, (_, mid, _) in zip(days, band, strict=True)], line)
    edges = tuple((at(day), line + low, line + high) for day, (low, _, high) in zip(days, band, strict=True))
    refills = [one.on for one in now.history.services(f"{stage.id}.refill_salt") if one.on >= start]
    return Trend(
        id=f"salt.{stage.id}",
        name="Salt",
        title=f"Salt left, {title_of(stage)}",
        dimension="mass",
        start=at(start),
        end=at(end),
        stage=stage.id,
        jobs=("refill_salt", "salt_check"),
        series=("measured",),
        points=tuple(Point(x=at(one.on), y=salt_kg(stage, one.taken.value)) for one in read),
        paths=(*joined(read, refills, lambda depth_cm: salt_kg(stage, depth_cm)), *((Path(middle),) if middle else ())),
        seen="between readings",
        reckoned="reckoned",
        band=Band("10 to 90 %", edges) if edges else None,
        levels=(Level(line, "refill line"),),
        uprights=(*(Upright(at(on), "refilled") for on in refills), Upright(at(now.today), TODAY)),
        spans=(Span(at(window[0]), at(min(window[1], end)), "window of the refill line"),) if window else (),
        from_zero=True,
        words=_words(now, stage, stock),
        rows=(*_ahead(now, stock, line), *(_row(now, stage, one) for one in reversed(read[-_ROWS:]))),
        empty="" if read else _READ + typed(now, "salt_depth 14 in", "salt_depth 36 cm"),
    )


def _end(now: Situation, window: tuple[date, date] | None) -> date:
    """A fortnight after the window closes, within bounds."""
    last = window[1] + timedelta(days=14) if window else now.today
    least, most = (now.today + timedelta(days=days) for days in (LEAST_AHEAD_DAYS, MOST_AHEAD_DAYS))
    return min(max(last, least), most)


def _down_to(way: list[tuple[float, float]], line: float) -> tuple[tuple[float, float], ...]:
    """The line up to the first point at which nothing is left above the refill line."""
    ends = next((place for place, (_, y) in enumerate(way) if y <= line), len(way))
    return tuple(way[: ends + 1])


def _words(now: Situation, stage: Softener, stock: Stock | None) -> tuple[str, ...]:
    if stock is None:
        return ("How fast salt goes is not known: it takes the valve's setting, or the hardness of the water.",)
    line = salt_kg(stage, stage.salt_low_cm)
    low, middle, high = left_band(now, stock, [now.today])[0]
    at_line = f"{now.known.show(line, 'mass')}, {now.known.show(stage.salt_low_cm, 'length')} of depth"
    if middle <= 0.0:
        return (f"By reckoning the salt has come to its refill line, {at_line}: measure it.",)
    there = three_words(now, (line + low, line + middle, line + high), "mass")
    left = f"In the tank today: {there}; refill at {at_line}."
    return (left, window_words(now, stage, "refill_salt", "the refill line is reached"))


def _ahead(now: Situation, stock: Stock | None, line: float) -> list[Row]:
    if stock is None:
        return []
    days = [now.today + timedelta(days=days) for days in (30, 14, 0)]
    return [
        Row(
            "today" if day == now.today else now.known.day(day),
            "reckoned",
            three_words(now, (line + low, line + mid, line + high), "mass"),
        )
        for day, (low, mid, high) in zip(days, left_band(now, stock, days), strict=True)
        if mid > 0.0
    ]


def _row(now: Situation, stage: Softener, one: Dated) -> Row:
    when = {"before": "measured before the refill", "after": "measured after the refill"}
    said = f"{now.known.show(salt_kg(stage, one.taken.value), 'mass')} ({now.known.show(one.taken.value, 'length')})"
    return Row(now.known.day(one.on), when.get(one.taken.moment, "measured"), said)
