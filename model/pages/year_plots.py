"""The plots of a year, each with its numbers as a table."""

from __future__ import annotations

from collections.abc import Iterator

from model.equipment.registry import title_of
from model.forecast.situation import Situation
from model.home import Home
from model.pages.page import Block, Section, Table, Text
from model.pages.plot import Series, share_of_year, year_plot
from model.pages.year_numbers import MonthCost, month_costs, nitrate_read, salt_read, water_used
from model.records.bounds import for_health
from model.records.quantities import show_taken
from model.units import display_unit, from_si, money, show
from model.water.limits import NITRATE_LIMIT_MG_L_N

_PLACES = ("raw", "after treatment", "RO tap")
_FORMS = ("ring", "disc", "square")
_BAR = 0.032


def plot_sections(home: Home, now: Situation, year: int) -> Iterator[Section]:
    """Nitrate, water, salt and costs; without numbers a sentence stands in place of a plot."""
    yield Section("Nitrate, raw and treated", _nitrate(now, year))
    yield Section("Water used", _water(now, year))
    yield Section("Salt", _salt(now, year))
    yield Section("Costs against the forecast", _costs(now, month_costs(home, now, year)))


def _nitrate(now: Situation, year: int) -> tuple[Block, ...]:
    read = nitrate_read(now, year)
    if not read:
        return (Text("Nitrate was not read in this year. It has no taste: only a test tells."),)
    series = tuple(
        Series(
            name=name,
            form=_FORMS[n],
            points=tuple((share_of_year(one.on), for_health(one.taken)) for one, place in read if place == n),
        )
        for n, name in enumerate(_PLACES)
    )
    limit = NITRATE_LIMIT_MG_L_N, "limit"
    rows = tuple((str(one.on), _PLACES[place], show_taken(one.taken, now.house.units)) for one, place in read)
    drawn = year_plot("Nitrate", "mg/L as N", [one for one in series if one.points], limit)
    return (
        drawn,
        Text("Of a reading between two values, or below one, the upper is drawn."),
        Table(("day", "water", "read"), rows),
    )


def _water(now: Situation, year: int) -> tuple[Block, ...]:
    used, system = water_used(now, year), now.house.units
    if not used:
        return (Text("The meter was not read twice in this year."),)
    unit = display_unit("daily_flow", system)
    way: list[tuple[float, float]] = []
    for one in used:
        height = from_si(one.litres_per_day, unit, "daily_flow")
        end = share_of_year(one.end) if one.end.year == year else 1.0
        way += [(share_of_year(one.start), height), (end, height)]
    rows = tuple((str(one.start), str(one.end), show(one.litres_per_day, "daily_flow", system)) for one in used)
    drawn = year_plot(
        "Water used, mean between readings", unit, [Series(name="metered", form="line", points=tuple(way))]
    )
    return drawn, Table(("from", "to", "a day"), rows, numbers=2)


def _salt(now: Situation, year: int) -> tuple[Block, ...]:
    read, system = salt_read(now, year), now.house.units
    if not read:
        return (Text("No salt depth was read in this year."),)
    unit, titles = display_unit("mass", system), {stage.id: title_of(stage) for stage in now.house.stages}
    points = tuple((share_of_year(one.on), from_si(one.kg, unit, "mass")) for one in read)
    line = from_si(read[0].low_kg, unit, "mass"), "refill"
    rows = tuple((str(one.on), titles[one.stage], show(one.kg, "mass", system)) for one in read)
    drawn = year_plot("Salt in the tank, by depths read", unit, [Series(name="read", form="disc", points=points)], line)
    return drawn, Table(("day", "tank", "salt"), rows, numbers=2)


def _costs(now: Situation, months: tuple[MonthCost, ...]) -> tuple[Block, ...]:
    unit = now.house.currency
    paid = tuple((n / 12 + 0.045, one.paid) for n, one in enumerate(months))
    said = tuple((n / 12 + 0.008, one.forecast.expected) for n, one in enumerate(months) if one.forecast)
    series = (
        Series(name="forecast", form="open", points=said, width=_BAR),
        Series(name="paid", form="full", points=paid, width=_BAR),
    )
    rows = [(one.month, *_three(one, unit), money(one.paid, unit)) for one in months]
    expected = sum(one.forecast.expected for one in months if one.forecast)
    rows.append(("sum", money(expected, unit), "", "", money(sum(one.paid for one in months), unit)))
    told = "The forecast is the one that could be made on the first full month on record; paid is what receipts say."
    table = Table(("month", "forecast", "low", "high", "paid"), tuple(rows), numbers=1)
    return year_plot("Costs by month", unit, series), Text(told), table


def _three(one: MonthCost, unit: str) -> tuple[str, str, str]:
    if one.forecast is None:
        return "none", "", ""
    cash = one.forecast
    return money(cash.expected, unit), money(cash.low, unit), money(cash.high, unit)
