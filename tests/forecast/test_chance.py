"""The chance of having run out, against the normal table and by hand."""

from __future__ import annotations

from datetime import date, timedelta

import msgspec
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from model.equipment.base import Stock
from model.forecast.chance import chance_out, day_of_chance, expected_left
from model.forecast.demand import Demand
from model.records.history import History
from tests.forecast.homes import START, TODAY, home, meter


def demand(litres_per_day: float = 500.0) -> Demand:
    made = home(*meter(litres_per_day))
    return Demand(made.house, History(made.events, TODAY), START)


STEADY = demand()


def stock(**changed: object) -> Stock:
    plain = Stock(
        job="x", driver="hours", unit="kg", since=TODAY, left=100.0, left_sd=0.0, full=100.0, per_day=1.0, spread=0.2
    )
    return msgspec.structs.replace(plain, **changed)


@pytest.mark.parametrize(
    ("z", "chance"),
    [(-2.326, 0.01), (-1.282, 0.10), (0.0, 0.50), (1.282, 0.90), (2.326, 0.99)],
    ids=lambda value: f"normal table {value}",
)
def test_the_chance_is_that_of_the_normal_table(z: float, chance: float) -> None:
    """Used over left is e to the power of z spreads: the chance is the table's."""
    days = 300
    left = days / 2.718281828459045 ** (z * 0.2)
    assert chance_out(stock(left=left), STEADY, TODAY + timedelta(days=days)) == pytest.approx(chance, abs=5e-4)


def test_by_hand_half_the_chance_on_the_day_the_mean_runs_out() -> None:
    """100 kg at 1 kg a day: day 100."""
    assert day_of_chance(stock(), STEADY, 0.5) == TODAY + timedelta(days=100)


def test_by_hand_by_litres() -> None:
    """30 kg at 5 kg per 5,000 L and 500 L a day: 60 days, give or take the learned season."""
    by_litres = stock(left=30.0, per_day=0.0, per_litre=0.001)
    reached = day_of_chance(by_litres, STEADY, 0.5)
    assert reached is not None
    assert abs((reached - TODAY).days - 60) <= 2


def test_what_is_already_gone_is_gone() -> None:
    assert day_of_chance(stock(left=0.0), STEADY, 0.01) == TODAY
    assert expected_left(stock(since=TODAY - timedelta(days=500)), STEADY, TODAY) == 0.0


def test_what_is_hardly_used_has_no_date() -> None:
    assert day_of_chance(stock(per_day=1e-6), STEADY, 0.5) is None


stocks = st.builds(
    stock,
    left=st.floats(0.5, 5000.0),
    left_sd=st.floats(0.0, 50.0),
    per_day=st.floats(0.0, 10.0),
    per_litre=st.floats(0.0, 0.05),
    spread=st.floats(0.01, 0.6),
    since=st.dates(date(2026, 2, 1), TODAY),
)
chances = st.sampled_from([0.01, 0.1, 0.5, 0.9])


def _or_never(day: date | None) -> date:
    return day or date.max


@given(stocks, chances, st.floats(1.0, 4.0))
def test_more_use_is_never_later(one: Stock, chance: float, times: float) -> None:
    assume(one.per_day + one.per_litre > 0)
    more = msgspec.structs.replace(one, per_day=one.per_day * times, per_litre=one.per_litre * times)
    assert _or_never(day_of_chance(more, STEADY, chance)) <= _or_never(day_of_chance(one, STEADY, chance))


@given(stocks, st.sampled_from([0.01, 0.1, 0.5]), st.floats(1.0, 4.0))
def test_more_left_is_never_earlier(one: Stock, chance: float, times: float) -> None:
    more = msgspec.structs.replace(one, left=one.left * times)
    assert _or_never(day_of_chance(more, STEADY, chance)) >= _or_never(day_of_chance(one, STEADY, chance))


@given(stocks)
def test_the_window_is_in_order(one: Stock) -> None:
    early, middle, late = (_or_never(day_of_chance(one, STEADY, chance)) for chance in (0.1, 0.5, 0.9))
    assert early <= middle <= late


@given(stocks, st.integers(0, 2000))
def test_the_chance_stays_a_chance(one: Stock, days: int) -> None:
    assert 0.0 <= chance_out(one, STEADY, one.since + timedelta(days=days)) <= 1.0
