"""Money: sums that agree, whole packs, the shelf first, and nothing made of salt or media that was not used."""

from __future__ import annotations

from datetime import date, timedelta

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.clock import add_months
from model.forecast.costs import cost_forecast
from model.forecast.needs import needs
from model.forecast.parts import suggested_parts
from model.forecast.shelf import on_shelf
from model.forecast.situation import Situation
from model.home import Home
from model.plan import plan
from model.records.events import AnyEvent, Purchase, Service, ShelfCount
from tests.forecast.homes import SUPPLIES, TODAY, home, meter, raw_water, salt_filled, undone

LIVED: list[AnyEvent] = [raw_water(), *meter(500.0), salt_filled(date(2026, 11, 1), 50.0)]


@given(st.integers(1, 30), st.floats(80.0, 2000.0))
@settings(max_examples=6, deadline=None)
def test_the_sums_agree(months: int, litres: float) -> None:
    found = cost_forecast(home(raw_water(), *meter(litres)), TODAY, months)
    assert len(found.months) == months
    assert found.total.expected == pytest.approx(sum(item.cash.expected for item in found.items))
    assert found.total.expected == pytest.approx(sum(month.cash.expected for month in found.months))
    assert found.total.low <= found.total.expected <= found.total.high
    for item in found.items:
        assert item.cash.low <= item.cash.expected <= item.cash.high


def test_months_start_on_todays_day() -> None:
    found = cost_forecast(home(*LIVED), date(2026, 1, 31), 3)
    assert [month.starts for month in found.months] == [date(2026, 1, 31), date(2026, 2, 28), date(2026, 3, 31)]
    assert [month.month for month in found.months] == ["2026-01", "2026-02", "2026-03"]


def test_salt_of_a_year_is_the_salt_of_its_regenerations() -> None:
    """500 L a day, 4 kg each 4,000 L and half a day more until the night: 171.8 kg a year.

    4 x 365 x 500 / 4,250. What is needed over four years, less one refill at most."""
    now = Situation(home(*LIVED), TODAY)
    salt = [need for need in needs(now, add_months(TODAY, 48)) if need.supply == "salt"]
    assert sum(need.quantity for need in salt) == pytest.approx(4 * 182.5, rel=0.12)
    assert salt[1].per_year == pytest.approx(171.8, rel=0.05)


def test_salt_expected_over_years_is_the_salt_of_its_regenerations() -> None:
    """As above, over the whole spread: the mean of a log-normal use lies a little above its middle."""
    salt = {item.supply: item for item in cost_forecast(home(*LIVED), TODAY, 48).items}["salt"]
    assert 0.95 * 4 * 182.5 < salt.quantity < 1.2 * 4 * 182.5
    assert salt.cash.low < salt.cash.expected < salt.cash.high


def test_media_of_a_year_is_what_the_water_gained() -> None:
    """Each m3 takes what its calcium gained, by mass, and 7 % more is lost in backwash."""
    now = Situation(home(*LIVED), TODAY)
    fed, out = now.carried.fed["neutralizer"], now.carried.treated["neutralizer"]
    assert fed is not None
    assert out is not None
    kg_per_year = (out.calcium_mg_l - fed.calcium_mg_l) * 100.087 / 40.078 * 1e-6 * 1.07 * 500 * 365.25
    (stock,) = now.stocks["neutralizer"]
    assert stock.per_litre * 500 * 365.25 == pytest.approx(kg_per_year, rel=1e-6)


@given(st.lists(st.tuples(st.sampled_from(["buy", "use", "count"]), st.floats(0.0, 500.0)), max_size=15))
def test_the_shelf_is_what_came_less_what_went(steps: list[tuple[str, float]]) -> None:
    events: list[AnyEvent] = []
    expected = 20.0
    for day, (what, amount) in enumerate(steps):
        on = TODAY - timedelta(days=100 - day)
        if what == "buy":
            events.append(Purchase(on=on, supply="salt", quantity=amount))
            expected += amount
        elif what == "use":
            events.append(Service(on=on, task="softener.refill_salt", used={"salt": amount}))
            expected = max(expected - amount, 0.0)
        else:
            events.append(ShelfCount(on=on, supply="salt", quantity=amount))
            expected = amount
    assert on_shelf(Situation(home(*events), TODAY))["salt"] == pytest.approx(expected)


def test_the_shelf_serves_before_the_shop() -> None:
    full = Purchase(on=TODAY, supply="salt", quantity=2000.0)
    salt = {item.supply: item for item in cost_forecast(home(*LIVED, full), TODAY).items}["salt"]
    assert salt.cash.expected == 0.0
    assert salt.long_run_per_year > 0.0


def test_packs_are_whole_and_the_last_receipt_sets_the_price() -> None:
    """A receipt of 40 kg for 30.00 makes a pack of 20 kg 15.00."""
    bought = Purchase(on=TODAY, supply="salt", quantity=40.0, price=30.0)
    salt = {item.supply: item for item in cost_forecast(home(*LIVED, bought), TODAY, 24).items}["salt"]
    assert salt.cash.low > 0
    assert salt.cash.low % 15.0 == pytest.approx(0.0)
    assert salt.cash.high % 15.0 == pytest.approx(0.0)


@pytest.mark.parametrize(
    ("receipts", "price"),
    [
        ([(60.0, 33.0)], 11.0),
        ([(20.0, 8.0), (60.0, 33.0)], 11.0),
        ([(60.0, 33.0), (20.0, 0.0)], 11.0),
        ([(60.0, 33.0), (20.0, None)], 11.0),
        ([(20.0, 0.0)], 9.0),
    ],
    ids=["several packs", "the newest counts", "a gift", "no total", "only a gift"],
)
def test_receipts_set_the_price_of_a_pack(receipts: list[tuple[float, float | None]], price: float) -> None:
    bought = [Purchase(on=TODAY, supply="salt", quantity=kg, price=paid) for kg, paid in receipts]
    row = {one.supply: one for one in plan(home(*LIVED, *bought), TODAY).shelf}["salt"]
    assert row.price == pytest.approx(price)
    assert row.on_shelf == pytest.approx(sum(kg for kg, _ in receipts))


def test_a_receipt_taken_back_gives_the_price_before_again() -> None:
    bought = home(*LIVED, Purchase(on=TODAY, supply="salt", quantity=40.0, price=30.0))
    assert cost_forecast(undone(bought, len(bought.events)), TODAY) == cost_forecast(home(*LIVED), TODAY)


@given(st.floats(100.0, 900.0), st.floats(1.1, 2.0))
@settings(max_examples=6, deadline=None)
def test_more_water_never_costs_less_in_the_long_run(litres: float, times: float) -> None:
    less = cost_forecast(home(raw_water(), *meter(litres)), TODAY, 1).long_run_per_year
    assert cost_forecast(home(raw_water(), *meter(litres * times)), TODAY, 1).long_run_per_year >= less * 0.999


def test_order_by_is_the_need_less_the_wait() -> None:
    shown = {row.supply: row for row in plan(home(*LIVED), TODAY).shelf}
    assert shown["salt"].needed_on is not None
    assert shown["salt"].order_by == shown["salt"].needed_on - timedelta(days=7)


def test_parts_without_a_supply_or_price_are_named() -> None:
    made = home(*LIVED)
    free = tuple(msgspec.structs.replace(supply, price=0.0) for supply in SUPPLIES)
    notes = cost_forecast(Home(msgspec.structs.replace(made.house, supplies=free), made.events), TODAY).notes
    assert "Salt: no price yet, counted as nothing." in notes
    assert any("well: nitrate test" in note for note in notes)


def test_a_refill_is_offered_in_whole_packs() -> None:
    assert suggested_parts(Situation(home(*LIVED), TODAY), "softener.refill_salt")["salt"] % 20.0 == 0.0
    assert suggested_parts(Situation(home(*LIVED), TODAY), "ultraviolet.replace_lamp") == {"lamp": 1.0}
