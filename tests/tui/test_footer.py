"""The bar below shows only what works now, the way back at every size, and the keys of a dialog while one is open."""

from __future__ import annotations

import msgspec
import pytest
from textual.widgets import DataTable

from model.equipment.neutralizer import Neutralizer
from model.home import Home
from tests.tui.helpers import HOUSE, MemoryStore, a_store, an_app, press, see, until
from tests.tui.water_homes import sample_home
from tui.app import WellwardApp
from tui.widgets.frame import KeyBar

EMPTY = msgspec.structs.replace(HOUSE, stages=(), supplies=())


def _bar(app: WellwardApp) -> str:
    top = next(screen for screen in reversed(app.screen_stack) if screen.query(KeyBar))
    return str(top.query_one(KeyBar).content).replace("\xa0", " ")


async def test_a_dialog_shows_its_own_keys_and_gives_the_others_back() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "1 Week")
        assert "a Away" in _bar(app)
        await press(pilot, "r")
        await until(pilot, lambda: "^s Save" in _bar(app))
        assert "Away" not in _bar(app)
        assert "esc Back" in _bar(app)
        await press(pilot, "escape")
        await until(pilot, lambda: "a Away" in _bar(app))
        await press(pilot, "u")
        await until(pilot, lambda: "y Yes" in _bar(app))
        await press(pilot, "n")
        await until(pilot, lambda: "a Away" in _bar(app))


async def test_help_is_called_by_the_key_that_works_while_typing() -> None:
    app = an_app()
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "6")
        await until(pilot, lambda: "? Help" in _bar_of(app))
        await press(pilot, "slash")
        await until(pilot, lambda: "F1 Help" in _bar_of(app))
        assert "? Help" not in _bar_of(app)
        assert "Filter" not in _bar_of(app)
        assert "esc All" in _bar_of(app)
        await press(pilot, "escape")
        await until(pilot, lambda: "? Help" in _bar_of(app))


def _bar_of(app: WellwardApp) -> str:
    return str(app.screen.query_one(KeyBar).content).replace("\xa0", " ") if app.screen.query(KeyBar) else ""


@pytest.mark.parametrize(
    ("keys", "seen"),
    [(("i",), "Guide"), (("3", "v"), "What the valve does"), (("3", "o"), "salt runs out"), (("5", "w"), "People")],
)
async def test_the_way_back_is_shown_in_the_smallest_terminal(keys: tuple[str, ...], seen: str) -> None:
    stages = (*HOUSE.stages[:2], Neutralizer(id="neutralizer"), *HOUSE.stages[2:])
    app = an_app(a_store(house=msgspec.structs.replace(HOUSE, stages=stages)))
    async with app.run_test(size=(60, 20)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, *keys)
        await until(pilot, lambda: "esc Back" in _bar_of(app))
        assert "^p Find  ? Help  ^q Quit" in _bar_of(app)


async def test_the_smallest_terminal_cuts_no_column_and_offers_all_keys() -> None:
    app = an_app(sample_home())
    async with app.run_test(size=(60, 20)) as pilot:
        await see(pilot, app, "1 Week")
        text = await see(pilot, app, "lb to line")
        assert text.count("more: press w") == 1
        assert sum(line.startswith(" ! ") for line in text.splitlines()) >= 6
        for keys in (("4",), ("5",), ("t",), ("6",), ("7",)):
            await press(pilot, *keys)
            await pilot.pause()
            for table in app.screen.query(DataTable):
                assert table.virtual_size.width <= table.size.width, keys
            assert "r Reading  ^p Find  ? Help  ^q Quit" in _bar_of(app)


async def test_what_happens_stands_before_what_is_planned_on_week() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "1 Week")
        bar = _bar(app)
        assert 0 < bar.index("p Events") < bar.index("a Away")


async def test_an_empty_log_offers_nothing_that_needs_an_event() -> None:
    app = an_app(MemoryStore(Home(HOUSE)))
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "6")
        await until(pilot, lambda: app.current_mode == "log" and "Quit" in _bar_of(app))
        await pilot.pause(0.1)
        assert not any(word in _bar_of(app) for word in ("Take back", "Filter", "More", "All"))


async def test_the_house_itself_is_neither_taken_out_nor_moved() -> None:
    app = an_app()
    async with app.run_test(size=(120, 30)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "7")
        await until(pilot, lambda: "e Change" in _bar_of(app))
        assert not any(word in _bar_of(app) for word in ("Take out", "Move", "Replace"))
        await press(pilot, "down")
        await until(pilot, lambda: all(word in _bar_of(app) for word in ("d Take out", "o Move", "c Replace")))


async def test_escape_is_offered_on_house_only_where_it_goes_back() -> None:
    app = an_app()
    async with app.run_test(size=(120, 30)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "7")
        await until(pilot, lambda: "e Change" in _bar_of(app))
        assert "esc" not in _bar_of(app)
        await press(pilot, "enter")
        await until(pilot, lambda: "esc Back" in _bar_of(app))
        await press(pilot, "escape")
        await until(pilot, lambda: "esc" not in _bar_of(app))


async def test_without_a_neutralizer_there_is_no_valve_to_move() -> None:
    app = an_app()
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "3", "v")
        await see(pilot, app, "no neutralizer")
        await until(pilot, lambda: "esc Back" in _bar_of(app))
        assert not any(word in _bar_of(app) for word in ("Less", "More", "Wanted pH", "Set"))


async def test_an_empty_shelf_has_nothing_to_buy() -> None:
    app = an_app(MemoryStore(a_store(house=EMPTY).home))
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "4")
        await until(pilot, lambda: "n New supply" in _bar_of(app))
        assert "Buy" not in _bar_of(app)
        assert "Count" not in _bar_of(app)


async def test_a_job_opened_before_its_list_was_ever_shown_asks_nothing_of_the_list() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "1 Week")
        app.open_job("softener.refill_salt")
        await see(pilot, app, "CAUTIONS")
        await press(pilot, "escape", "2")
        await until(pilot, lambda: app.current_mode == "service" and "/ Filter" in _bar_of(app))
