"""The numbers of a year that are drawn and stand in tables: water, salt, nitrate, and costs against the forecast."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from model.clock import add_months
from model.equipment.softener import Softener, salt_kg
from model.forecast.costs import costs_of
from model.forecast.intervals import intervals
from model.forecast.situation import Situation
from model.forecast.trends.nitrate import nitrate_place
from model.home import Home
from model.plan_types import Range
from model.records.events import Purchase
from model.records.history import Dated


class Used(NamedTuple):
    """Mean water use [L/day] between two meter readings, the days cut at the ends of the year."""

    start: date
    end: date
    litres_per_day: float


class Salt(NamedTuple):
    """A salt depth read, as salt [kg]."""

    on: date
    stage: str
    kg: float
    low_kg: float


class MonthCost(NamedTuple):
    """A month: the forecast made before it, None where there was none, and what was paid."""

    month: str
    forecast: Range | None
    paid: float


def water_used(now: Situation, year: int) -> tuple[Used, ...]:
    """Use by meter interval, those that reach into the year."""
    first, last = date(year, 1, 1), date(year + 1, 1, 1)
    return tuple(
        Used(max(one.start, first), min(one.end, last), one.litres / (one.end - one.start).days)
        for one in intervals(now.house, now.history)[0]
        if one.start < last and one.end > first and one.end > one.start
    )


def salt_read(now: Situation, year: int) -> tuple[Salt, ...]:
    """Every salt depth of the year."""
    return tuple(
        Salt(one.on, stage.id, salt_kg(stage, one.taken.value), salt_kg(stage, stage.salt_low_cm))
        for stage in now.house.stages
        if isinstance(stage, Softener)
        for one in now.history.taken("salt_depth", stage.id)
        if one.on.year == year
    )


def nitrate_read(now: Situation, year: int) -> tuple[tuple[Dated, int], ...]:
    """Every nitrate of the year with its place: 0 raw, 1 after treatment, 2 at an RO tap."""
    read = [(one, nitrate_place(now, one)) for one in now.history.taken("nitrate") if one.on.year == year]
    return tuple((one, place) for one, place in read if place is not None)


def month_costs(home: Home, now: Situation, year: int) -> tuple[MonthCost, ...]:
    """Twelve months: what was forecast on the first of them, by what was on record then, and what receipts say."""
    paid = [0.0] * 12
    for one in now.history.of(Purchase):
        if one.on.year == year and one.price:
            paid[one.on.month - 1] += one.price
    forecast = _forecast(home, year, now.today)
    return tuple(MonthCost(f"{year}-{n + 1:02d}", forecast.get(n + 1), paid[n]) for n in range(12))


def began(home: Home) -> date:
    """The first day of which anything is on record."""
    return min([home.house.started, *(one.on for one in home.events)])


def _forecast(home: Home, year: int, today: date) -> dict[int, Range]:
    """The forecast of the year's first full month on record, by month. Nothing recorded later is known to it."""
    first = max(date(year, 1, 1), began(home))
    first = first if first.day == 1 else add_months(first.replace(day=1), 1)
    if first.year != year or first > today:
        return {}
    known = Home(home.house, tuple(one for one in home.events if one.on <= first))
    rows = costs_of(Situation(known, first), 13 - first.month).months
    return {first.month + k: row.cash for k, row in enumerate(rows)}
