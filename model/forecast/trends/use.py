"""Water use of the house: what the meter said, and what is expected."""

from __future__ import annotations

from datetime import date, timedelta

from model.clock import add_months
from model.forecast.bands import use_band
from model.forecast.intervals import Interval, intervals
from model.forecast.situation import Situation
from model.forecast.trends.shape import TODAY, Band, Path, Row, Span, Trend, Upright, at, days_between, past
from model.forecast.trends.windows import three_words, typed
from model.records.events import Absence

FORECAST_MONTHS = 12
_ROWS = 8
_READ = "Not metered yet: read the meter twice, some days apart: "


def house_use(now: Situation) -> Trend:
    """Litres a day by meter interval over 18 months, and the next 12 with their band."""
    start, end = past(now.today), add_months(now.today, FORECAST_MONTHS)
    metered = [one for one in intervals(now.house, now.history)[0] if one.end > start]
    days = days_between(now.today, end)
    expected = use_band(now, days)
    middle = tuple((at(day), mid) for day, (_, mid, _) in zip(days, expected, strict=True))
    edges = tuple((at(day), low, high) for day, (low, _, high) in zip(days, expected, strict=True))
    return Trend(
        id="use",
        name="House use",
        title="Water use of the house",
        dimension="daily_flow",
        start=at(start),
        end=at(end),
        paths=(*_steps(metered), Path(middle)),
        seen="metered",
        reckoned="expected",
        band=Band("10 to 90 %", edges),
        uprights=(Upright(at(now.today), TODAY),),
        spans=_away(now, start, end),
        from_zero=True,
        words=_words(now, metered, days, expected),
        rows=(*_ahead(now), *(_row(now, one) for one in reversed(metered[-_ROWS:]))),
        empty="" if metered else _READ + typed(now, "meter 12345 gal", "meter 12345 L"),
    )


def litres_per_day(one: Interval) -> float:
    """Mean use of an interval [L/day]."""
    return one.litres / (one.end - one.start).days


def _steps(metered: list[Interval]) -> list[Path]:
    """One flat piece for each interval, joined where one follows on the other."""
    found: list[list[tuple[float, float]]] = []
    last: date | None = None
    for one in metered:
        if one.start != last:
            found.append([])
        found[-1] += [(at(one.start), litres_per_day(one)), (at(one.end), litres_per_day(one))]
        last = one.end
    return [Path(tuple(way), seen=True) for way in found]


def _away(now: Situation, start: date, end: date) -> tuple[Span, ...]:
    return tuple(
        Span(at(max(one.on, start)), at(min(one.until, end)), "away")
        for one in now.history.of(Absence)
        if one.until >= start and one.on <= end
    )


def _words(
    now: Situation, metered: list[Interval], days: list[date], expected: list[tuple[float, float, float]]
) -> tuple[str, ...]:
    show = now.known.show
    at_home = [three for three in expected if three[1] > 0.0] or expected
    low, middle, high = (sum(three[k] for three in at_home) / len(at_home) for k in range(3))
    average = three_words(now, (low, middle, high), "daily_flow")
    coming = f"The next {FORECAST_MONTHS} months: {average} on average; rests on {now.demand.basis()}."
    year = [one for one in metered if one.end > add_months(now.today, -12)]
    if not year:
        return (coming,)
    mean = sum(one.litres for one in year) / sum((one.end - one.start).days for one in year)
    last = year[-1]
    seen = (
        f"Metered over a year: {show(mean, 'daily_flow')}; in the last interval, to {now.known.day(last.end)}: "
        f"{show(litres_per_day(last), 'daily_flow')}."
    )
    return (seen, coming)


def _ahead(now: Situation) -> list[Row]:
    """The middle of three seasons to come."""
    days = [add_months(now.today, months) for months in (9, 6, 3)]
    return [
        Row(now.known.day(day), "expected", three_words(now, three, "daily_flow"))
        for day, three in zip(days, use_band(now, days), strict=True)
    ]


def _row(now: Situation, one: Interval) -> Row:
    days = (one.end - one.start).days
    away = sum(
        max((min(gone.until, one.end - timedelta(days=1)) - max(gone.on, one.start)).days + 1, 0)
        for gone in now.history.of(Absence)
    )
    what = f"metered, {days} day{'' if days == 1 else 's'}" + (f", {away} of them away" if away else "")
    return Row(f"to {now.known.day(one.end)}", what, now.known.show(litres_per_day(one), "daily_flow"))
