"""`/` lists only what has the words typed, Escape lists all again and then goes back: alike on every list."""

from __future__ import annotations

from textual.pilot import Pilot
from textual.widgets import DataTable, OptionList

from tests.tui.helpers import MemoryStore, a_store, an_app, press, see, shown, until
from tui.app import WellwardApp
from tui.screens.house import HouseScreen
from tui.screens.listed import FilterLine, ListScreen
from tui.screens.what_if import WhatIfScreen

LISTS = [
    (("2",), "cartridge", "Change the sed", "Refill the sa"),
    (("4",), "pellets", "Salt [b]", "5 micron"),
    (("5", "w"), "salt dose", "Salt per regen", "People in the"),
    (("6",), "cartridge", "Change the sed", "Refill the sa"),
    (("7",), "micron", "Sediment", "Softener"),
]
"""The keys to a list, words to type, what is left, what is gone."""


async def test_only_what_has_the_words_is_listed() -> None:
    app = an_app(a_store())
    async with app.run_test(size=(60, 20)) as pilot:
        await see(pilot, app, "1 Week")
        for keys, words, there, gone in LISTS:
            await press(pilot, *keys)
            await _filters(pilot, app, words, there, gone)
            if len(app.screen_stack) > 1:
                await press(pilot, "escape")


async def _filters(pilot: Pilot[None], app: WellwardApp, words: str, there: str, gone: str) -> None:
    await until(pilot, lambda: isinstance(app.screen, ListScreen) and there in _listed(app.screen))
    screen = app.screen
    assert isinstance(screen, ListScreen)
    assert gone in _listed(screen)
    await press(pilot, "slash", *("space" if one == " " else one for one in words), "enter")
    await until(pilot, lambda: screen.query_one(screen.LIST).has_focus)
    listed = _listed(screen)
    assert there in listed
    assert gone not in listed
    await press(pilot, "escape")
    await until(pilot, lambda: gone in _listed(screen))
    assert app.screen is screen
    assert not screen.query_one(FilterLine).display


def _listed(screen: ListScreen) -> str:
    widget = screen.query_one(screen.LIST)
    if isinstance(widget, OptionList):
        return "\n".join(str(one.prompt) for one in widget.options)
    assert isinstance(widget, DataTable)
    return "\n".join(" ".join(str(cell) for cell in widget.get_row_at(at)) for at in range(widget.row_count))


async def test_escape_lists_all_before_it_leaves_what_if() -> None:
    app = an_app()
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "5", "w")
        await until(pilot, lambda: isinstance(app.screen, WhatIfScreen))
        await press(pilot, "slash", *"salt", "escape")
        await see(pilot, app, "People in the house")
        assert isinstance(app.screen, WhatIfScreen)
        await press(pilot, "escape")
        await until(pilot, lambda: not isinstance(app.screen, WhatIfScreen))


async def test_words_that_nothing_has_do_no_harm() -> None:
    app = an_app()
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "1 Week")
        for area in ("2", "4", "7"):
            await press(pilot, area, "slash", *"zzz[", "enter")
            await until(pilot, lambda: isinstance(app.screen, ListScreen))
            await press(pilot, "enter", "e", "b", "x", "d", "o", "c", "t", "down", "up")
            await press(pilot, *["escape"] * 3)
            await until(pilot, lambda: len(app.screen_stack) == 1)


async def test_house_turns_to_the_setting_that_has_the_word() -> None:
    app = an_app()
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "7")
        await until(pilot, lambda: isinstance(app.screen, HouseScreen))
        await press(pilot, "slash", *"salt", "space", *"dose", "enter")
        screen = app.screen
        assert isinstance(screen, HouseScreen)
        await until(pilot, lambda: (field := screen._field()) is not None and field.name == "salt_dose_kg")


async def test_an_empty_house_has_nothing_to_filter() -> None:
    import msgspec

    from tests.tui.helpers import HOUSE

    app = an_app(MemoryStore(a_store(house=msgspec.structs.replace(HOUSE, stages=(), supplies=())).home))
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "1 Week")
        for area in ("2", "4", "6"):
            await press(pilot, area)
            await until(pilot, lambda: isinstance(app.screen, ListScreen))
            await press(pilot, "slash")
            assert not app.screen.query_one(FilterLine).display
            assert "Filter" not in shown(app)
