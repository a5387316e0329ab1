"""The spread of costs, held against an enumeration written here day by day; and what is known stays without spread."""

from __future__ import annotations

from datetime import timedelta
from itertools import product
from math import ceil, exp
from statistics import NormalDist, fmean

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.equipment.base import Stock
from model.equipment.part import Part
from model.equipment.registry import AnyStage
from model.forecast.chances import added, gathered, mean, mixed, spread_of
from model.forecast.costs import cost_forecast, costs_of
from model.forecast.normal import OWN_POINTS, SHARED_POINTS, points, quantile
from model.forecast.situation import Situation
from model.home import Home, Supply
from tests.forecast.homes import TODAY, house, numbered, reading

DAYS = 365
SHARED = [NormalDist().inv_cdf((k + 0.5) / 41) for k in range(41)]
OWN = [NormalDist().inv_cdf((k + 0.5) / 15) for k in range(15)]


def small_home(packs_of_first: float = 1.0) -> Home:
    """Two parts worn by the water alone, one supply each, and one worn by the calendar."""
    stages: tuple[AnyStage, ...] = (
        Part(id="part", life_l=9_000.0, supplies={"part": "bag"}, installed_on=TODAY - timedelta(days=10)),
        Part(id="part_2", life_l=23_000.0, supplies={"part": "sock"}, installed_on=TODAY - timedelta(days=30)),
        Part(id="part_3", life_days=100.0, supplies={"part": "cell"}, installed_on=TODAY - timedelta(days=50)),
    )
    supplies = (
        Supply(id="bag", title="Bag", pack=packs_of_first, price=4.0, on_shelf=2.0),
        Supply(id="sock", title="Sock", price=31.0),
        Supply(id="cell", title="Cell", price=7.0),
    )
    meter = [reading(TODAY - timedelta(weeks=40 - k), "meter", 7 * k * 300.0, "house") for k in range(41)]
    return Home(house(stages, supplies=supplies), numbered(*meter))


def margin_by_hand(now: Situation, stock: Stock) -> float:
    """What is expected to be left on the first day on which the part may be done with the owner's risk."""
    risk = NormalDist().inv_cdf(1.0 - now.house.risk_other)
    for day in range(2000):
        on = TODAY + timedelta(days=day)
        used = now.demand.litres(stock.since, on)
        coming = now.demand.litres(TODAY, on) / used
        off = (stock.spread**2 + (coming * now.demand.forecast_log_sd(day)) ** 2) ** 0.5
        if used * exp(risk * off) >= stock.left:
            return stock.left - used
    raise AssertionError("it never comes to its end")


def cash_by_hand(now: Situation, stock: Stock, supply: Supply, margin: float, litres: list[float], own: float) -> float:
    """Cash of a year for one part, walked day by day. `litres`: summed by day; `own`: factor on the draw."""
    gone = now.demand.litres(stock.since, TODAY)
    shelf, paid, reached, limit = supply.on_shelf, 0.0, 0.0, stock.left - margin
    for summed in litres:
        gone, reached = gone + max(summed - reached, 0.0), max(summed, reached)
        if gone * own >= limit:
            if shelf < 1.0:
                packs = ceil((1.0 - shelf) / supply.pack)
                paid, shelf = paid + packs * supply.price, shelf + packs * supply.pack
            shelf, gone, limit = shelf - 1.0, 0.0, stock.full - margin
    return paid


def by_hand(now: Situation) -> tuple[dict[str, list[float]], list[float]]:
    """Cash of each supply over all pairs of water and own draw, and of both over all triples, each equally likely."""
    expected = [now.demand.litres(TODAY, TODAY + timedelta(days=day)) for day in range(DAYS)]
    spreads = [now.demand.forecast_log_sd(day) for day in range(DAYS)]
    takers = []
    for stage, supply in zip(("part", "part_2"), now.house.supplies, strict=False):
        (stock,) = now.stocks[stage]
        takers.append((stock, supply, margin_by_hand(now, stock)))
    each: dict[str, list[float]] = {"bag": [], "sock": []}
    both: list[float] = []
    for water in SHARED:
        litres = [one * exp(water * spread) for one, spread in zip(expected, spreads, strict=True)]
        found = [
            [cash_by_hand(now, stock, supply, margin, litres, exp(own * stock.spread)) for own in OWN]
            for stock, supply, margin in takers
        ]
        each["bag"] += found[0]
        each["sock"] += found[1]
        both += [a + b for a, b in product(*found)]
    return each, both


def tenths(values: list[float]) -> tuple[float, float]:
    ordered = sorted(values)
    return ordered[len(ordered) // 10], ordered[len(ordered) * 9 // 10]


@pytest.mark.parametrize("pack", [1.0, 5.0])
def test_costs_agree_with_an_enumeration_day_by_day(pack: float) -> None:
    now = Situation(small_home(pack), TODAY)
    found = costs_of(now, 12)
    items = {item.supply: item.cash for item in found.items}
    each, both = by_hand(now)
    for supply, price in (("bag", 4.0), ("sock", 31.0)):
        low, high = tenths(each[supply])
        assert items[supply].expected == pytest.approx(fmean(each[supply]), rel=0.01)
        assert items[supply].low == pytest.approx(low, abs=price)
        assert items[supply].high == pytest.approx(high, abs=price)
    cells = items["cell"].expected
    low, high = tenths(both)
    assert found.total.expected == pytest.approx(cells + fmean(both), rel=0.01)
    assert found.total.low == pytest.approx(cells + low, rel=0.03)
    assert found.total.high == pytest.approx(cells + high, rel=0.03)


def test_what_only_the_calendar_drives_has_no_spread() -> None:
    """Every 100 days from the 50th on: the 50th, 150th, 250th and 350th of the year."""
    cells = {item.supply: item for item in cost_forecast(small_home(), TODAY).items}["cell"]
    assert cells.cash.low == cells.cash.expected == cells.cash.high == 28.0
    assert cells.quantity == 4.0


def test_the_same_home_costs_the_same_again() -> None:
    assert cost_forecast(small_home(), TODAY, 24) == cost_forecast(small_home(), TODAY, 24)


def test_shared_water_makes_the_sum_wider_than_independent_parts_would() -> None:
    found = cost_forecast(small_home(), TODAY, 60)
    apart = sum((item.cash.high - item.cash.low) ** 2 for item in found.items) ** 0.5
    assert found.total.high - found.total.low > 1.1 * apart


@pytest.mark.parametrize("count", [SHARED_POINTS, OWN_POINTS])
def test_points_are_those_of_a_standard_normal(count: int) -> None:
    """The mean is 0, the variance nearly 1, and the 10 and 90 % points lie in slices of their own."""
    found = points(count)
    assert fmean(found) == pytest.approx(0.0, abs=1e-12)
    assert 0.88 < fmean(one**2 for one in found) < 1.0
    assert (count / 10) % 1.0 == pytest.approx(0.5)


@given(st.floats(1e-200, 0.999))
def test_quantiles_are_those_of_the_standard_library(chance: float) -> None:
    assert quantile(chance) == pytest.approx(NormalDist().inv_cdf(chance), abs=1e-6)


amounts = st.lists(st.floats(0.0, 500.0), min_size=1, max_size=5)


@given(st.lists(amounts, min_size=1, max_size=6))
@settings(max_examples=40)
def test_adding_keeps_the_mean_and_every_chance(groups: list[list[float]]) -> None:
    """However many amounts are joined on the way."""
    total = {0.0: 1.0}
    for group in groups:
        total = added(total, gathered((one, 1.0 / len(group)) for one in group))
    assert sum(total.values()) == pytest.approx(1.0)
    assert mean(total) == pytest.approx(sum(fmean(group) for group in groups), abs=1e-2)
    shown = spread_of(mixed([total]), mean(total))
    assert shown.low <= shown.expected <= shown.high


def test_a_rare_pack_widens_the_range_to_hold_the_mean() -> None:
    shown = spread_of({0.0: 0.95, 100.0: 0.05}, 5.0)
    assert (shown.low, shown.expected, shown.high) == (0.0, 5.0, 5.0)
