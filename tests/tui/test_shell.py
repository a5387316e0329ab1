"""The shell: areas, help, palette, undo, themes, and any size of terminal."""

from __future__ import annotations

from datetime import date

import pytest
from textual.command import CommandPalette
from textual.widgets import OptionList

from model.errors import StoreError
from model.home import Home
from model.records.events import AnyEvent, Correction, Incident
from tests.tui.helpers import HOUSE, TODAY, MemoryStore, a_store, an_app, events, press, see, shown, until
from tui.commands import AREAS, COMMANDS
from tui.dialogs.page import Page
from tui.palette import WellwardCommands
from tui.themes import DARK, LIGHT


async def test_the_first_screen_is_week_with_areas_and_keys() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        text = await see(pilot, app, "1 Week")
        assert all(f"{place} {title}" in text for place, (_, title, _) in enumerate(AREAS, 1))
        assert "? Help" in text
        assert "^q Quit" in text


async def test_number_keys_go_to_areas() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        for place, (area, _, _) in enumerate(AREAS, 1):
            await press(pilot, str(place))
            assert app.current_mode == area


async def test_a_click_on_an_area_goes_there() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "6 Log")
        await pilot.click("#area_bar", offset=(shown(app).splitlines()[0].index("6 Log") + 1, 0))
        await until(pilot, lambda: app.current_mode == "log")


async def test_help_lists_every_command_of_everywhere_and_of_the_area() -> None:
    app = an_app()
    async with app.run_test(size=(100, 70)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "question_mark")
        text = await see(pilot, app, "Help: Week")
        for one in COMMANDS:
            if one.area in ("", "week"):
                assert (one.tells in text) is (one.id not in ("week.explain", "week.findings")), (
                    "nothing asked or found"
                )
        assert "certified laboratory" in text
        await press(pilot, "escape")
        await until(pilot, lambda: not isinstance(app.screen, Page))


async def test_undo_asks_says_exactly_what_and_takes_back() -> None:
    app = an_app(a_store(Incident(on=TODAY, what="power cut [/b]")))
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "u")
        await see(pilot, app, "power cut [/b]")
        await press(pilot, "n")
        assert not any(isinstance(one, Correction) for one in events(app))
        await press(pilot, "u", "y")
        await until(pilot, lambda: isinstance(events(app)[-1], Correction))
        assert events(app)[-1].voids == events(app)[-2].id  # type: ignore[union-attr]


async def test_nothing_to_undo_is_said() -> None:
    app = an_app(MemoryStore(Home(HOUSE)))
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "u")
        await see(pilot, app, "nothing to take back")


async def test_a_store_that_cannot_write_is_reported_and_what_is_recorded_is_kept() -> None:
    class Full(MemoryStore):
        def append(self, event: AnyEvent, *more: AnyEvent) -> Home:
            raise StoreError("The disk [/full] is full.", "Make room.")

    store = Full(a_store().home)
    app = an_app(store)
    async with app.run_test(size=(80, 24), notifications=True) as pilot:
        await see(pilot, app, "1 Week")
        before = store.home.events
        assert app.record(Incident(on=TODAY, what="frost"), said="Written down.")
        text = await see(pilot, app, "The disk [/full] is full.")
        assert "Written down." not in text
        assert store.home.events == before
        assert [one.what for one in events(app) if isinstance(one, Incident)] == ["frost"]


async def test_the_theme_key_switches_dark_and_light() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "1 Week")
        assert app.theme == DARK
        await press(pilot, "ctrl+t")
        assert app.theme == LIGHT


async def test_without_colour_the_present_area_is_bracketed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("NO_COLOR", "1")
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "[1 Week]")


@pytest.mark.painted
async def test_too_small_says_so_and_comes_back() -> None:
    app = an_app()
    async with app.run_test(size=(40, 12)) as pilot:
        await see(pilot, app, "at least 60 columns")
        await pilot.resize_terminal(80, 24)
        await see(pilot, app, "1 Week")
        assert "at least 60 columns" not in shown(app)


@pytest.mark.painted
async def test_every_size_survives() -> None:
    app = an_app()
    async with app.run_test(size=(120, 40)) as pilot:
        for area in ("1", "2", "6"):
            await press(pilot, area)
            for size in ((1, 1), (40, 12), (60, 20), (80, 24), (200, 60), (120, 40)):
                await pilot.resize_terminal(*size)
                await pilot.pause()


async def test_the_palette_finds_jobs_screens_and_commands() -> None:
    app = an_app()
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "ctrl+p")
        await until(pilot, lambda: isinstance(app.screen, CommandPalette))
        await press(pilot, *"refill")
        await until(pilot, lambda: app.screen.query_one(OptionList).option_count > 0)
        await press(pilot, "enter")
        await see(pilot, app, "CAUTIONS")


async def test_every_palette_line_has_words() -> None:
    app = an_app()
    async with app.run_test(size=(100, 30)):
        found = [hit.text async for hit in WellwardCommands(app.screen).discover()]
        assert {"Week", "Log", "Reading", "Quit"} <= set(found)
        searched = [hit.text async for hit in WellwardCommands(app.screen).search("cartridge")]
        assert "Change the sediment cartridge" in searched


async def test_a_new_day_is_taken_in() -> None:
    app = an_app()
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "Wed 25 Nov")
        app.session._clock = lambda: date(2026, 11, 26)
        app.look_again()
        await see(pilot, app, "Thu 26 Nov")


async def test_quitting_ends_the_program() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "ctrl+q")
        assert not app.is_running


def test_keys_of_one_area_do_not_hide_keys_of_everywhere() -> None:
    everywhere = {key for one in COMMANDS if not one.area for key in one.key.split(",")}
    for one in COMMANDS:
        assert not one.area or not everywhere & set(one.key.split(",")), one.id
    assert len({one.id for one in COMMANDS}) == len(COMMANDS)
