"""Order dates: the day the shelf may fail a job, less the wait; more stock, wait or use moves them the right way."""

from __future__ import annotations

from datetime import date, timedelta

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.home import Home
from model.plan import plan
from model.plan_types import Shelf
from model.records.events import AnyEvent
from tests.forecast.homes import SUPPLIES, TODAY, due, home, house, meter, raw_water, salt_filled

FILLED = salt_filled(date(2026, 11, 1), 50.0)
BY_TASK = {
    "salt": "softener.refill_salt",
    "calcite": "neutralizer.top_up",
    "cartridge": "sediment_filter.replace_cartridge",
    "lamp": "ultraviolet.replace_lamp",
    "prefilters": "reverse_osmosis.replace_prefilters",
    "coliform_test": "well.coliform_test",
    "gasket": "part.replace",
}


def a_home(litres: float, on_shelf: float | None = 0.0, lead_days: int = 7) -> Home:
    """The house with so much of everything on the shelf."""
    events: list[AnyEvent] = [raw_water(), *meter(litres), FILLED]
    stocked = tuple(msgspec.structs.replace(one, on_shelf=on_shelf, lead_days=lead_days) for one in SUPPLIES)
    return Home(house(supplies=stocked), home(*events).events)


def row(made: Home, supply: str) -> Shelf:
    return next(one for one in plan(made, TODAY).shelf if one.supply == supply)


@pytest.mark.parametrize("supply", BY_TASK)
@pytest.mark.parametrize("litres", [60.0, 500.0])
def test_an_empty_shelf_is_needed_on_the_day_to_act(supply: str, litres: float) -> None:
    shown = plan(a_home(litres), TODAY)
    found = next(one for one in shown.shelf if one.supply == supply)
    act_on = due(shown, BY_TASK[supply]).act_on
    if act_on < date(2027, 12, 25):
        assert found.needed_on == act_on
        assert found.order_by == act_on - timedelta(days=7)
    else:
        assert found.needed_on is None


def test_a_job_that_is_overdue_says_since_when_its_part_is_missing() -> None:
    """The coliform test was never recorded: asked for from the day the home was written down."""
    found = row(a_home(500.0, lead_days=10), "coliform_test")
    assert found.needed_on == date(2026, 1, 1)
    assert found.order_by == date(2025, 12, 22)


def test_one_cartridge_serves_until_the_next_is_due() -> None:
    """A second change comes at the calendar's cap, half a year after the first at the latest."""
    none, one = (row(a_home(150.0, packs), "cartridge") for packs in (0.0, 1.0))
    assert none.needed_on is not None
    assert one.needed_on is not None
    assert max(none.needed_on, TODAY) < one.needed_on <= max(none.needed_on, TODAY) + timedelta(days=184)


SUPPLY = st.sampled_from(sorted(BY_TASK))


def later_or_never(first: date | None, second: date | None) -> bool:
    return (second or date.max) >= (first or date.max)


@given(SUPPLY, st.floats(80.0, 900.0), st.floats(0.0, 200.0), st.floats(0.0, 200.0))
@settings(max_examples=7, deadline=None)
def test_more_on_the_shelf_is_never_ordered_sooner(supply: str, litres: float, some: float, more: float) -> None:
    less, full = (row(a_home(litres, amount), supply).order_by for amount in (some, some + more))
    assert later_or_never(less, full)


@given(SUPPLY, st.floats(80.0, 900.0), st.floats(0.0, 90.0), st.integers(0, 60), st.integers(0, 60))
@settings(max_examples=5, deadline=None)
def test_a_longer_wait_is_never_ordered_later(supply: str, litres: float, there: float, wait: int, more: int) -> None:
    short, long = (row(a_home(litres, there, days), supply).order_by for days in (wait, wait + more))
    assert later_or_never(long, short)


@given(SUPPLY, st.floats(80.0, 900.0), st.floats(1.0, 2.5), st.floats(0.0, 90.0))
@settings(max_examples=10, deadline=None)
def test_more_use_is_never_ordered_later(supply: str, litres: float, times: float, there: float) -> None:
    little, much = (row(a_home(use, there), supply).order_by for use in (litres, litres * times))
    assert later_or_never(much, little)
