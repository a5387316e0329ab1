"""What the coming months will cost in consumables, with the forecast's uncertainty carried through."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date

import msgspec

from model.clock import add_months
from model.equipment.base import Job
from model.forecast.chances import Chances, added, gathered, mixed, spread_of
from model.forecast.needs import Need, unsupplied, yearly
from model.forecast.normal import SHARED_POINTS
from model.forecast.purchases import Group, Paid, groups_of
from model.forecast.shelf import price_of
from model.forecast.situation import Situation
from model.home import Home, Supply
from model.plan_types import CostItem, CostMonth, Costs, Range


def cost_forecast(home: Home, today: date, months: int = 12) -> Costs:
    """Cash by supply and by month over the next `months` (1 or more), from the shelf first, in whole packs.

    The water use is one uncertainty that all stages share; what is left and how fast it goes is another for each group
    of supplies used together. Both are taken at fixed, equally likely points: nothing is drawn at random. `expected` is
    the mean, so items and months each add up to the total; `low` and `high` are the 10 and 90 % points of each
    sum by itself. Prices are taken as known.
    """
    return costs_of(Situation(home, today), months)


def costs_of(now: Situation, months: int) -> Costs:
    """As `cost_forecast`, for a situation already worked out."""
    starts = [add_months(now.today, k) for k in range(months + 1)]
    groups = groups_of(now, starts, lambda job: True)
    paid = {supply: one for group in groups for supply, one in _by_supply(group).items()}
    rates = yearly(now)
    items = tuple(
        item for supply in now.house.supplies if (item := _item(now, supply, paid.get(supply.id), rates)) is not None
    )
    return Costs(
        start=now.today,
        end=starts[-1],
        currency=now.house.currency,
        total=spread_of(mixed(totals(groups)), sum(item.cash.expected for item in items)),
        items=items,
        months=_months(groups, starts, paid),
        long_run_per_year=sum(item.long_run_per_year for item in items),
        notes=_notes(now, items),
    )


def consumables(now: Situation, months: int, counts: Callable[[Job], bool]) -> list[Chances]:
    """What the jobs that count cost over so many months, at each point of the shared water use."""
    return totals(groups_of(now, [now.today, add_months(now.today, months)], counts))


def totals(groups: list[Group]) -> list[Chances]:
    """What all groups cost together at each point of the shared water use, where they are independent."""
    return [_sum_at(groups, shared, lambda paid: sum(paid.months)) for shared in range(SHARED_POINTS)]


def _sum_at(groups: list[Group], shared: int, cash: Callable[[Paid], float]) -> Chances:
    found: Chances = {0.0: 1.0}
    for group in groups:
        points = [(sum(cash(paid) for paid in point.values()), weight) for point, weight in group.at(shared)]
        found = added(found, gathered(points))
    return found


class _OfSupply(msgspec.Struct, frozen=True):
    """One supply over all points: what is used, the expected cash by month, and all its cash with its bounds."""

    used: float
    months: list[float]
    cash: Range


def _by_supply(group: Group) -> dict[str, _OfSupply]:
    shared = range(len(group.points))
    points = [(point, weight / len(shared)) for one in shared for point, weight in group.at(one)]
    return {supply: _of_supply([(point[supply], weight) for point, weight in points]) for supply in points[0][0]}


def _of_supply(points: list[tuple[Paid, float]]) -> _OfSupply:
    weights = [weight for _, weight in points]
    months = [_mean(row, weights) for row in zip(*(paid.months for paid, _ in points), strict=True)]
    cash = gathered((sum(paid.months), weight) for paid, weight in points)
    return _OfSupply(_mean([paid.used for paid, _ in points], weights), months, spread_of(cash, sum(months)))


def _mean(values: Sequence[float], weights: list[float]) -> float:
    """The weighted mean; to the last digit the value itself where all are the same."""
    if min(values) == max(values):
        return values[0]
    return sum(value * weight for value, weight in zip(values, weights, strict=True)) / sum(weights)


def _item(now: Situation, supply: Supply, paid: _OfSupply | None, rates: tuple[Need, ...]) -> CostItem | None:
    """One supply; also one that these months do not need but the years do."""
    always = [need for need in rates if need.supply == supply.id]
    if not always or paid is None:
        return None
    price, _ = price_of(now, supply)
    return CostItem(
        supply=supply.id,
        title=supply.title,
        stage=always[0].stage,
        quantity=paid.used,
        unit=supply.unit,
        cash=paid.cash,
        long_run_per_year=sum(need.per_year for need in always) * price / supply.pack,
    )


def _months(groups: list[Group], starts: list[date], paid: dict[str, _OfSupply]) -> tuple[CostMonth, ...]:
    expected = [sum(one.months[k] for one in paid.values()) for k in range(len(starts) - 1)]
    return tuple(
        CostMonth(month=f"{start:%Y-%m}", starts=start, cash=spread_of(_month(groups, k), expected[k]))
        for k, start in enumerate(starts[:-1])
    )


def _month(groups: list[Group], month: int) -> Chances:
    """What all groups cost in one month."""
    return mixed(_sum_at(groups, shared, lambda paid: paid.months[month]) for shared in range(SHARED_POINTS))


def _notes(now: Situation, items: tuple[CostItem, ...]) -> tuple[str, ...]:
    notes = [f"Not counted, no supply named: {part}." for part in unsupplied(now)]
    costed = {item.supply for item in items}
    for supply in now.house.supplies:
        price, basis = price_of(now, supply)
        if supply.id in costed and price <= 0:
            notes.append(f"{supply.title}: no price yet, counted as nothing.")
        elif supply.id in costed and "default" in basis:
            notes.append(f"{supply.title}: price is an invented default until a receipt is entered.")
    return tuple(notes)
