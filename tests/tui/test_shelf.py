"""Shelf: what to order, and writing down what was bought, counted and listed."""

from __future__ import annotations

from datetime import date, timedelta

import msgspec
import pytest
from textual.widgets import Input

from model.errors import BadInput
from model.home import House
from model.plan_types import Shelf
from model.records.events import Purchase, ShelfCount, SupplyAdded
from tests.tui.helpers import HOUSE, TODAY, a_store, an_app, events, press, see, until
from tui.app import WellwardApp
from tui.dialogs.purchase import read_quantity
from tui.widgets.amounts import amount_words
from tui.widgets.shelf_words import order_words, ordered, packs_words, supply_words

SALT = Shelf(
    supply="salt",
    title="Salt",
    unit="kg",
    pack=18.0,
    price=8.5,
    price_basis="invented default, not yet a receipt",
    on_shelf=5.0,
    needed_on=TODAY + timedelta(days=3),
    needed=20.0,
    order_by=TODAY,
    per_year=200.0,
)
LAMP = msgspec.structs.replace(SALT, supply="lamp", title="Lamp", unit="each", pack=1.0, needed_on=None, order_by=None)


def on_shelf(app: WellwardApp, supply: str) -> float:
    return next(row.on_shelf for row in app.session.view.plan.shelf if row.supply == supply)


def chosen(app: WellwardApp) -> Shelf:
    return next(row for row in ordered(app.session.view.plan.shelf))


@pytest.mark.parametrize(
    ("typed", "kilograms"),
    [
        ("2", 36.0),
        ("2 packs", 36.0),
        ("1 bag", 18.0),
        ("10 kg", 10.0),
        ("100 lb", 45.359237),
        ("0.5", 9.0),
    ],
)
def test_an_amount_is_in_packs_unless_it_says_its_unit(typed: str, kilograms: float) -> None:
    assert read_quantity(typed, SALT) == pytest.approx(kilograms, rel=1e-12)


@pytest.mark.parametrize("typed", ["", "two", "-1", "0", "3 gal", "1e400", "nan", "inf kg"])
def test_what_is_no_amount_is_refused(typed: str) -> None:
    with pytest.raises(BadInput):
        read_quantity(typed, SALT)


def test_pieces_take_no_unit() -> None:
    assert read_quantity("3", LAMP) == 3.0
    assert read_quantity("0", LAMP, zero_ok=True) == 0.0
    with pytest.raises(BadInput):
        read_quantity("3 kg", LAMP)


# 20 / 18 is 1.1 packs, so two; 36 kg is two packs exactly.
@pytest.mark.parametrize(("short", "words"), [(0.0, ""), (0.1, "1 pack"), (20.0, "2 packs"), (36.0, "2 packs")])
def test_packs_are_rounded_up(short: float, words: str) -> None:
    assert packs_words(SALT, short) == words


@pytest.mark.parametrize(
    ("amount", "unit", "system", "words"),
    [
        (45.359237, "kg", "us", "100 lb"),
        (45.0, "kg", "metric", "45 kg"),
        (3.0, "each", "us", "3"),
        (2.0, "jar", "us", "2 jar"),
    ],
)
def test_amounts_are_in_the_owner_s_units(amount: float, unit: str, system: str, words: str) -> None:
    assert amount_words(amount, unit, system) == words  # type: ignore[arg-type]


def test_what_to_order_now_stands_first() -> None:
    later = msgspec.structs.replace(SALT, supply="o", title="O-ring", order_by=TODAY + timedelta(days=9))
    assert [row.supply for row in ordered((LAMP, later, SALT))] == ["salt", "o", "lamp"]
    view = an_app().session.view
    told = order_words([SALT, later, LAMP], view).plain
    assert told.startswith("! Order now")
    assert "Salt: 11 lb on the shelf, needed on Sat 28 Nov; buy 2 packs" in told
    missing = msgspec.structs.replace(SALT, needed_on=date(2026, 11, 20), order_by=date(2026, 11, 13))
    assert "was needed on Fri 20 Nov" in order_words([missing], view).plain
    assert "the day to order was Fri 13 Nov: order now" in supply_words(missing, view).plain
    assert "O-ring" not in told
    assert "The next is O-ring, by Fri 4 Dec" in order_words([later, LAMP], view).plain
    assert "within the forecast" in order_words([LAMP], view).plain


def test_a_default_price_is_called_one() -> None:
    told = supply_words(SALT, an_app().session.view).plain
    assert "costs $8.50 (invented default, not yet a receipt)" in told


async def test_buying_by_keys() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "4")
        await see(pilot, app, "Order by")
        row = chosen(app)
        await press(pilot, "b")
        await see(pilot, app, f"Buy: {row.title}")
        await press(pilot, "3", "tab", *"25.50", "enter")
        await until(pilot, lambda: isinstance(events(app)[-1], Purchase))
        bought = events(app)[-1]
        assert isinstance(bought, Purchase)
        assert (bought.supply, bought.quantity, bought.price, bought.on) == (row.supply, 3 * row.pack, 25.5, TODAY)
        assert on_shelf(app, row.supply) == row.on_shelf + 3 * row.pack
        assert len(app.screen_stack) == 1


async def test_counting_by_keys() -> None:
    app = an_app()
    async with app.run_test(size=(120, 40)) as pilot:
        await press(pilot, "4")
        await see(pilot, app, "Order by")
        row = chosen(app)
        await press(pilot, "c")
        await see(pilot, app, "By the records there should be")
        await press(pilot, "0", "enter")
        await until(pilot, lambda: isinstance(events(app)[-1], ShelfCount))
        assert on_shelf(app, row.supply) == 0.0


async def test_a_new_supply_by_keys() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "4")
        await see(pilot, app, "Order by")
        await press(pilot, "n")
        await see(pilot, app, "New supply")
        app.screen.query_one("#entry_title", Input).value = "Lamp 40 W"
        await press(pilot, "enter")
        await until(pilot, lambda: isinstance(events(app)[-1], SupplyAdded))
        assert app.session.view.house.supplies[-1].id == "lamp_40_w"
        await see(pilot, app, "Lamp 40 W")


async def test_a_refused_purchase_says_why_and_escape_records_nothing() -> None:
    app = an_app()
    before = len(events(app))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "4")
        await see(pilot, app, "Order by")
        await press(pilot, "b")
        await see(pilot, app, "Buy:")
        await press(pilot, "x", "enter")
        await see(pilot, app, "Not saved.")
        app.screen.query_one("#entry_quantity", Input).value = "1"
        app.screen.query_one("#entry_on", Input).value = "2027-01-01"
        await press(pilot, "enter")
        await see(pilot, app, "lies in the future")
        await press(pilot, "escape")
        await until(pilot, lambda: len(app.screen_stack) == 1)
        assert len(events(app)) == before


async def test_the_mouse_buys_too() -> None:
    app = an_app()
    async with app.run_test(size=(120, 40)) as pilot:
        await press(pilot, "4", "b")
        await see(pilot, app, "Buy:")
        await pilot.click("#form_save")
        await until(pilot, lambda: isinstance(events(app)[-1], Purchase))


async def test_an_empty_shelf_says_what_to_do() -> None:
    app = an_app(a_store(house=House(name="New", started=date(2026, 11, 25))))
    async with app.run_test(size=(80, 24)) as pilot:
        await press(pilot, "4")
        await see(pilot, app, "Press n to add a supply")
        await press(pilot, "b")
        await until(pilot, lambda: len(app.screen_stack) == 1)


async def test_markup_in_a_title_is_shown_as_typed() -> None:
    supplies = (msgspec.structs.replace(HOUSE.supplies[0], title="Salt [/b] x"), HOUSE.supplies[1])
    app = an_app(a_store(house=msgspec.structs.replace(HOUSE, supplies=supplies)))
    async with app.run_test(size=(120, 40)) as pilot:
        await press(pilot, "4")
        await see(pilot, app, "Salt [/b] x")
