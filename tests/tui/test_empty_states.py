"""Where nothing is known yet the screen says what to do next, with the key that does it."""

from __future__ import annotations

import msgspec
import pytest
from textual.widgets import DataTable, Static

from model.home import Home
from tests.tui.helpers import HOUSE, MemoryStore, a_store, an_app, press, see, shown, until
from tui.widgets.empty_words import in_keys

PRICED = msgspec.structs.replace(
    HOUSE, supplies=tuple(msgspec.structs.replace(one, price=7.5) for one in HOUSE.supplies)
)


@pytest.mark.parametrize("size", [(60, 20), (100, 30)], ids=["60x20", "100x30"])
async def test_a_year_without_any_price_says_how_to_write_one_down(size: tuple[int, int]) -> None:
    app = an_app(a_store())
    async with app.run_test(size=size) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "5")
        text = await see(pilot, app, "No price is known yet")
        assert "Press 4 for Shelf, then b" in " ".join(text.split())
        assert "0.00  0.00" not in text
        assert not app.screen.query_one("#months").display
        await press(pilot, "4", "b")
        await see(pilot, app, "Paid in all")


async def test_a_year_with_prices_shows_its_months() -> None:
    app = an_app(a_store(house=PRICED))
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "5")
        await see(pilot, app, "By month")
        assert "No price is known yet" not in shown(app)


async def test_house_shows_no_price_where_there_is_none() -> None:
    app = an_app(a_store())
    async with app.run_test(size=(100, 40)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "7", "end", "up", "up", "up")
        await see(pilot, app, "no price yet")
        assert "$0.00" not in shown(app)


async def test_an_empty_log_names_the_keys_that_fill_it() -> None:
    app = an_app(MemoryStore(Home(HOUSE)))
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "6")
        await see(pilot, app, "Nothing is recorded yet. r writes down a reading, l what")
        assert "0 events" not in shown(app)
        assert app.screen.query_one(DataTable).row_count == 0


async def test_words_that_no_event_has_are_said() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "6", "slash", *"zzz")
        await see(pilot, app, "Escape shows all again")


@pytest.mark.parametrize("size", [(60, 20), (80, 24)], ids=["60x20", "80x24"])
async def test_water_without_a_report_names_keys_and_breaks_no_word(size: tuple[int, int]) -> None:
    app = an_app(MemoryStore(Home(HOUSE)))
    async with app.run_test(size=size) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "3")
        await see(pilot, app, "Well")
        await until(pilot, lambda: app.current_mode == "water")
        told = str(app.screen.query_one("#train", Static).content)
        assert "Press r to write down a reading, or l to type in what a laboratory found." in " ".join(told.split())
        assert max(len(line) for line in told.splitlines()) <= size[0] - 2


async def test_a_plot_without_readings_names_the_keys() -> None:
    app = an_app(MemoryStore(Home(HOUSE)))
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "3", "t")
        text = " ".join((await see(pilot, app, "press r")).split())
        assert "press r for a reading, l for a laboratory result" in text


def test_what_names_no_command_is_left_alone() -> None:
    assert in_keys("Nothing to plot.") == "Nothing to plot."
