"""What happened is written down by keys, shown as typed, and refused where nothing was written."""

from __future__ import annotations

from datetime import date

import msgspec
from textual.widgets import Input

from model.equipment.ultraviolet import Ultraviolet
from model.records.events import Incident
from tests.tui.helpers import HOUSE, TODAY, a_store, an_app, events, press, see, until
from tui.dialogs.form import Form
from tui.palette import WellwardCommands

TYPED = "Manure [b]north[/b] of the well, [red]"


async def test_a_note_is_written_down_and_stands_in_the_log_as_typed() -> None:
    app = an_app(a_store())
    async with app.run_test(size=(100, 30), notifications=True) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "n")
        await until(pilot, lambda: isinstance(app.screen, Form))
        await see(pilot, app, "Write down what happened")
        await press(pilot, "ctrl+s")
        await see(pilot, app, "Write it in a few words")
        app.screen.query_one("#entry_what", Input).value = TYPED
        app.screen.query_one("#entry_on", Input).value = "2026-11-20"
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: isinstance(events(app)[-1], Incident))
        last = events(app)[-1]
        assert isinstance(last, Incident)
        assert (last.what, last.on) == (TYPED, date(2026, 11, 20))
        await see(pilot, app, f"Written down for Fri 20 Nov: {TYPED}"[:60])
        await press(pilot, "6")
        await see(pilot, app, f"Happened. {TYPED}")


async def test_a_day_to_come_is_refused_and_escape_writes_nothing() -> None:
    app = an_app(a_store())
    before = len(events(app))
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "n")
        await until(pilot, lambda: isinstance(app.screen, Form))
        app.screen.query_one("#entry_what", Input).value = "hay"
        app.screen.query_one("#entry_on", Input).value = "2030-01-01"
        await press(pilot, "ctrl+s")
        await see(pilot, app, "future")
        await press(pilot, "escape")
        await see(pilot, app, "1 Week")
        assert len(events(app)) == before


async def test_a_power_cut_stands_on_week_and_names_its_steps() -> None:
    lit = msgspec.structs.replace(HOUSE, stages=(*HOUSE.stages, Ultraviolet(id="ultraviolet")))
    app = an_app(a_store(house=lit))
    async with app.run_test(size=(120, 40), notifications=True) as pilot:
        await see(pilot, app, "Overdue")
        await press(pilot, "n")
        await until(pilot, lambda: isinstance(app.screen, Form))
        app.screen.query_one("#entry_what", Input).value = "power cut at noon"
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: isinstance(events(app)[-1], Incident))
        assert events(app)[-1].on == TODAY
        await see(pilot, app, "p has the steps")
        assert any(line.startswith("Power cut on") for line in app.session.view.plan.exposure)


async def test_it_is_found_from_every_screen() -> None:
    app = an_app(a_store())
    async with app.run_test(size=(100, 30)) as pilot:
        await see(pilot, app, "1 Week")
        await press(pilot, "4")
        await see(pilot, app, "4 Shelf")
        found = [hit async for hit in WellwardCommands(app.screen).search("what happened")]
        assert str(max(found, key=lambda hit: hit.score).text) == "Note"
