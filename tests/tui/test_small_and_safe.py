"""Leaving from anywhere, terminals that are too small or just large enough, days away."""

from __future__ import annotations

import io
from collections.abc import Callable
from datetime import date, timedelta

import msgspec
import pytest
from textual.command import CommandPalette
from textual.pilot import Pilot
from textual.widgets import Button, Input

from model.equipment.reverse_osmosis import ReverseOsmosis
from model.errors import WellwardError
from model.home import Supply
from model.records.events import (
    Absence,
    PausedService,
)
from tests.tui.helpers import HOUSE, SALT, STAGES, TODAY, a_store, an_app, events, press, see, to_first_step, until
from tui import app as app_module
from tui.app import WellwardApp
from tui.commands import AREAS
from tui.dialogs.form import Form
from tui.dialogs.page import Page
from tui.palette import WellwardCommands
from tui.screens.job import JobScreen
from tui.view import Session
from tui.widgets.stay_words import away_words

WITH_RO = msgspec.structs.replace(
    HOUSE,
    stages=(*STAGES, ReverseOsmosis(id="reverse_osmosis", title="Kitchen RO")),
    supplies=(*HOUSE.supplies, Supply(id="lamp", title="Lamp")),
)

# Leaving


async def _form(pilot: Pilot[None], app: WellwardApp) -> None:
    await press(pilot, "r")
    await until(pilot, lambda: isinstance(app.screen, Form))


async def _help(pilot: Pilot[None], app: WellwardApp) -> None:
    await press(pilot, "question_mark")
    await until(pilot, lambda: isinstance(app.screen, Page))


async def _question(pilot: Pilot[None], app: WellwardApp) -> None:
    await press(pilot, "u")
    await see(pilot, app, "Take back the last")


async def _palette(pilot: Pilot[None], app: WellwardApp) -> None:
    await press(pilot, "ctrl+p")
    await until(pilot, lambda: isinstance(app.screen, CommandPalette))


@pytest.mark.parametrize("way", [_form, _help, _question, _palette])
async def test_quit_works_from_everywhere(way: Callable[[Pilot[None], WellwardApp], object]) -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "Overdue")
        await way(pilot, app)  # type: ignore[misc]
        await press(pilot, "ctrl+q")
        assert not app.is_running


async def test_quit_from_the_last_question_of_a_job_keeps_what_is_ticked() -> None:
    store = a_store()
    app = an_app(store)
    async with app.run_test(size=(100, 40)) as pilot:
        app.open_job(SALT)
        await until(pilot, lambda: isinstance(app.screen, JobScreen) and app.focused is not None)
        await to_first_step(pilot, app)
        await press(pilot, "space", "space", "f")
        await until(pilot, lambda: isinstance(app.screen, Form))
        await press(pilot, "ctrl+q")
        assert not app.is_running
    last = store.home.events[-1]
    assert isinstance(last, PausedService)
    assert last.ticked == (0, 1)


# Sizes


@pytest.mark.parametrize("size", [(59, 24), (80, 19)])
@pytest.mark.painted
async def test_where_nothing_is_shown_no_key_does_anything_but_leave(size: tuple[int, int]) -> None:
    app = an_app()
    async with app.run_test(size=size) as pilot:
        await see(pilot, app, "needs at least 60 columns and 20 lines")
        before = events(app)
        await press(pilot, "3", "u", "y", "r", "enter", "space", "ctrl+p", "question_mark")
        assert (app.current_mode, len(app.screen_stack)) == ("week", 1)
        assert events(app) == before
        await press(pilot, "ctrl+q")
        assert not app.is_running


async def test_a_form_in_a_terminal_made_too_small_takes_no_keys() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "Overdue")
        await _form(pilot, app)
        await pilot.resize_terminal(50, 15)
        await pilot.pause()
        await press(pilot, "escape")
        assert isinstance(app.screen, Form)
        await pilot.resize_terminal(80, 24)
        await press(pilot, "escape")
        assert not isinstance(app.screen, Form)


async def test_at_60_columns_all_areas_and_the_way_out_are_visible() -> None:
    app = an_app(a_store(house=WITH_RO))
    async with app.run_test(size=(60, 20)) as pilot:
        for area, _, _ in AREAS:
            await app.action_go(area)
            await pilot.pause()
            text = await see(pilot, app, "^q Quit")
            assert all(f"{place} {title}" in text.splitlines()[0] for place, (_, title, _) in enumerate(AREAS, 1))
            assert "? Help" in text.splitlines()[-1]


async def test_at_80_columns_the_day_or_the_name_is_there() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        assert "Wed 25 Nov" in (await see(pilot, app, "1 Week")).splitlines()[0]


async def test_at_60_columns_hints_stand_below_in_full_and_the_add_button_is_reached() -> None:
    app = an_app()
    async with app.run_test(size=(60, 20)) as pilot:
        await press(pilot, "7")
        await see(pilot, app, "People in the")
        await press(pilot, "a")
        await see(pilot, app, "Add a stage")
        await press(pilot, "home", "down", "down", "enter")
        await see(pilot, app, "Add: Acid neutralizer")
        await press(pilot, "tab")
        await see(pilot, app, "Put in on: YYYY-MM-DD")
        for _ in range(60):
            await press(pilot, "tab")
            if isinstance(app.focused, Button):
                break
        assert isinstance(app.focused, Button)
        assert app.focused.id == "form_save"
        assert app.screen.region.contains_region(app.focused.region)


def test_without_a_terminal_it_says_what_to_do(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.__stdout__", io.StringIO())
    with pytest.raises(WellwardError, match=r"needs a terminal.*wellward due"):
        app_module.run(Session(a_store(), lambda: TODAY))


# Days away


async def test_days_away_are_written_down_shown_on_week_and_refused_twice() -> None:
    app = an_app()
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "Overdue")
        await press(pilot, "a")
        await until(pilot, lambda: isinstance(app.screen, Form))
        for field, day in (("first", "2026-12-02"), ("last", "2026-12-01")):
            app.screen.query_one(f"#entry_{field}", Input).value = day
        await press(pilot, "ctrl+s")
        await see(pilot, app, "is before the first")
        app.screen.query_one("#entry_last", Input).value = "2026-12-09"
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: isinstance(events(app)[-1], Absence))
        assert (events(app)[-1].on, events(app)[-1].until) == (date(2026, 12, 2), date(2026, 12, 9))  # type: ignore[union-attr]
        await see(pilot, app, "Away from Wed 2 Dec to Wed 9 Dec, in 7 days.")
        await press(pilot, "a")
        await until(pilot, lambda: isinstance(app.screen, Form))
        for field, day in (("first", "2026-12-02"), ("last", "2026-12-09")):
            app.screen.query_one(f"#entry_{field}", Input).value = day
        await press(pilot, "ctrl+s")
        await see(pilot, app, "written down already")


def test_days_away_in_words() -> None:
    day = timedelta(days=1)
    assert away_words(Absence(on=TODAY - day, until=TODAY), TODAY) == "Away from Tue 24 Nov to Wed 25 Nov, now"
    assert away_words(Absence(on=TODAY + day, until=TODAY + day), TODAY) == "Away on Thu 26 Nov, tomorrow"
    assert away_words(Absence(on=TODAY - day, until=TODAY - day), TODAY) == "Away on Tue 24 Nov"


async def test_away_is_found_from_every_area_and_an_absence_over_is_not_on_week() -> None:
    app = an_app(a_store(Absence(on=date(2026, 11, 1), until=date(2026, 11, 3))))
    async with app.run_test(size=(100, 30)) as pilot:
        assert "Away" not in (await see(pilot, app, "Overdue")).replace("a Away", "")
        await press(pilot, "6")
        found = [hit async for hit in WellwardCommands(app.screen).search("away")]
        assert max(found, key=lambda hit: hit.score).text == "Away"
