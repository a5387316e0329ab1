"""What the coming months will cost in consumables."""

from __future__ import annotations

from datetime import date
from math import ceil

from model.clock import add_months
from model.forecast.needs import Need, needs, unsupplied, yearly
from model.forecast.shelf import on_shelf, price_of
from model.forecast.situation import Situation
from model.home import Home, Supply
from model.plan_types import CostItem, CostMonth, Costs, Range

Z90 = 1.2816
"""Standard deviations from the middle to the 10 and 90 % points of a normal. Source: normal table."""


def cost_forecast(home: Home, today: date, months: int = 12) -> Costs:
    """Cash by supply and by month over the next `months` (1 or more), from the shelf first, in whole packs.

    `expected` follows the expected water use, `low` and `high` the 10 and 90 % use, which all stages share.
    """
    return costs_of(Situation(home, today), months)


def costs_of(now: Situation, months: int) -> Costs:
    """As `cost_forecast`, for a situation already worked out."""
    starts = [add_months(now.today, k) for k in range(months + 1)]
    paths = [needs(now, starts[-1], deviation) for deviation in (0.0, -Z90, Z90)]
    there = on_shelf(now)
    cash = {
        supply.id: [_cash_by_month(now, supply, there[supply.id], _for(supply, path), starts) for path in paths]
        for supply in now.house.supplies
    }
    rates = yearly(now)
    items = tuple(
        item
        for supply in now.house.supplies
        if (item := _item(now, supply, paths[0], cash[supply.id], rates)) is not None
    )
    rows = tuple(
        _month(starts[k], [[by_month[k] for by_month in three] for three in cash.values()]) for k in range(months)
    )
    return Costs(
        start=now.today,
        end=starts[-1],
        currency=now.house.currency,
        total=Range(
            sum(item.cash.expected for item in items),
            sum(item.cash.low for item in items),
            sum(item.cash.high for item in items),
        ),
        items=items,
        months=rows,
        long_run_per_year=sum(item.long_run_per_year for item in items),
        notes=_notes(now, items),
    )


def _for(supply: Supply, path: tuple[Need, ...]) -> list[Need]:
    return [need for need in path if need.supply == supply.id]


def _cash_by_month(now: Situation, supply: Supply, stock: float, path: list[Need], starts: list[date]) -> list[float]:
    """Cash paid in each month: the shelf serves first, then whole packs are bought on the day of need."""
    price, _ = price_of(now, supply)
    paid = [0.0] * (len(starts) - 1)
    for need in path:
        short = need.quantity - stock
        packs = ceil(short / supply.pack - 1e-9) if short > 1e-9 else 0
        stock += packs * supply.pack - need.quantity
        paid[sum(start <= need.on for start in starts) - 1] += packs * price
    return paid


def _item(
    now: Situation, supply: Supply, path: tuple[Need, ...], cash: list[list[float]], rates: tuple[Need, ...]
) -> CostItem | None:
    """One supply; also one that these months do not need but the years do."""
    mine, always = _for(supply, path), _for(supply, rates)
    if not always:
        return None
    price, _ = price_of(now, supply)
    return CostItem(
        supply=supply.id,
        title=supply.title,
        stage=always[0].stage,
        quantity=sum(need.quantity for need in mine),
        unit=supply.unit,
        cash=_range([sum(by_month) for by_month in cash]),
        long_run_per_year=sum(need.per_year for need in always) * price / supply.pack,
    )


def _month(start: date, by_supply: list[list[float]]) -> CostMonth:
    sums = [sum(three[path] for three in by_supply) for path in range(3)]
    return CostMonth(month=f"{start:%Y-%m}", starts=start, cash=_range(sums))


def _range(paths: list[float]) -> Range:
    """Expected, with the least and most of the three paths: whole packs can put a month's low above its middle."""
    return Range(paths[0], min(paths), max(paths))


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
