"""Playbooks and visits by keys: begun, ticked, left out, opened, shown on Week until nothing is open."""

from __future__ import annotations

from datetime import date, timedelta

import msgspec

from model.equipment.reverse_osmosis import ReverseOsmosis
from model.equipment.ultraviolet import Ultraviolet
from model.records.events import Absence, AnyEvent, PlaybookStarted, PlaybookStep, Service
from tests.tui.helpers import HOUSE, STAGES, TODAY, MemoryStore, a_store, an_app, events, press, see, shown, until
from tui.dialogs.playbook import usual_day
from tui.screens.events import EventsScreen

CUT = PlaybookStarted(on=TODAY, playbook="power_cut")
LIT = msgspec.structs.replace(
    HOUSE, stages=(*STAGES, Ultraviolet(id="ultraviolet"), ReverseOsmosis(id="reverse_osmosis"))
)


def lit(*more: AnyEvent) -> MemoryStore:
    """The small home with a lamp and an RO unit."""
    return a_store(*more, house=LIT)


async def test_a_playbook_is_begun_by_keys_with_its_cautions_first() -> None:
    app = an_app(lit())
    async with app.run_test(size=(120, 40)) as pilot:
        await see(pilot, app, "Overdue")
        await press(pilot, "p")
        await see(pilot, app, "To begin when it happens")
        await press(pilot, "end")
        text = await see(pilot, app, "Stop drinking from the taps")
        assert text.index("Stop drinking") < text.index("day 0")
        await press(pilot, "enter")
        await see(pilot, app, "Begin: UV alarm")
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: isinstance(events(app)[-1], PlaybookStarted))
        text = await see(pilot, app, "UV alarm, from Wed 25 Nov: 9 of 9 open")
        assert "[ ] Wed 25 Nov  Tell everybody not to drink" in text
        await press(pilot, "escape")
        await see(pilot, app, "* UV alarm, from Wed 25 Nov: 9 of 9 steps open, p shows all")


async def test_a_step_is_ticked_another_left_out_and_a_third_done_by_its_checklist() -> None:
    app = an_app(lit(CUT))
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "* Power cut")
        await press(pilot, "enter")
        await see(pilot, app, "[ ] Wed 25 Nov  Write down")
        await press(pilot, "enter")
        await until(pilot, lambda: isinstance(events(app)[-1], PlaybookStep))
        ticked = events(app)[-1]
        assert isinstance(ticked, PlaybookStep)
        assert (ticked.step, ticked.outcome) == ("note", "done")
        await see(pilot, app, "[x] Wed 25 Nov  Write down")
        await press(pilot, "s")
        await see(pilot, app, "Why is it left out?")
        await press(pilot, "ctrl+s")
        await see(pilot, app, "Not saved.")
        await press(pilot, *"no", "ctrl+s")
        await see(pilot, app, "[-] Wed 25 Nov  See that")
        left = events(app)[-1]
        assert isinstance(left, PlaybookStep)
        assert (left.step, left.outcome, left.reason) == ("pressure", "skipped", "no")
        await press(pilot, "enter")
        await see(pilot, app, "CAUTIONS")
        app.record(Service(on=TODAY, task="ultraviolet.glance"))
        await press(pilot, "escape", "p")
        await see(pilot, app, "[x] Wed 25 Nov  Look at the lamp")


async def test_week_shows_it_until_nothing_is_open_and_undo_brings_it_back() -> None:
    keys = ("note", "pressure", "clock", "flush", "reservoir", "sanitize")
    said = [PlaybookStep(on=TODAY, started=6, step=key, outcome="skipped", reason="x") for key in keys]
    app = an_app(lit(CUT, *said, PlaybookStep(on=TODAY, started=6, step="lamp", outcome="skipped", reason="[b]")))
    async with app.run_test(size=(80, 24)) as pilot:
        await see(pilot, app, "* Power cut, from Wed 25 Nov: 1 of 8 steps open")
        app.record(PlaybookStep(on=TODAY, started=6, step="sample", outcome="skipped", reason="short"))
        await until(pilot, lambda: "* Power cut" not in shown(app))
        await press(pilot, "u")
        await see(pilot, app, "Step left out")
        await press(pilot, "y")
        await see(pilot, app, "* Power cut, from Wed 25 Nov: 1 of 8 steps open")


def test_an_absence_to_come_gives_its_playbook_the_day() -> None:
    first = TODAY + timedelta(days=5)
    away = Absence(on=first, until=first + timedelta(days=20))
    view = an_app(a_store(away)).session.view
    assert (usual_day(view, "absence_long"), usual_day(view, "absence_short")) == (first, TODAY)
    over = Absence(on=date(2026, 11, 1), until=TODAY - timedelta(days=1))
    assert usual_day(an_app(a_store(over)).session.view, "return") == TODAY


async def test_the_visits_by_a_key_keep_acid_and_bleach_apart() -> None:
    app = an_app(lit(PlaybookStarted(on=TODAY, playbook="uv_alarm")))
    async with app.run_test(size=(120, 60)) as pilot:
        await see(pilot, app, "Overdue")
        await press(pilot, "v")
        text = await see(pilot, app, "min of work")
        assert text.index("RO feed") < text.index("1. ")
        await see(pilot, app, "Acid and bleach never share a day")
        assert "Clean the quartz sleeve, Ultraviolet: 60 min" in text
        await press(pilot, "d")
        await see(pilot, app, "the next 30 days")
        await press(pilot, "question_mark")
        await see(pilot, app, "Look further ahead")
        await press(pilot, "escape", "escape")
        await see(pilot, app, "1 Week")
        assert not isinstance(app.screen, EventsScreen)


async def test_a_house_without_anything_has_playbooks_and_no_visit() -> None:
    app = an_app(a_store(house=msgspec.structs.replace(HOUSE, stages=())))
    async with app.run_test(size=(60, 20)) as pilot:
        await see(pilot, app, "Nothing stands here yet")
        await press(pilot, "v")
        await see(pilot, app, "Nothing in the next 14 days needs")
        await press(pilot, "escape", "p")
        await see(pilot, app, "To begin when it happens")
        await pilot.resize_terminal(200, 60)
        await see(pilot, app, "UV alarm")
