"""Service: a job opened, worked through, left, resumed, finished and recorded, by keys alone."""

from __future__ import annotations

from datetime import date

import pytest
from textual.pilot import Pilot
from textual.widgets import Input, Static

from model.errors import StoreError
from model.home import Home
from model.records.events import AnyEvent, Correction, PausedService, Service
from model.upkeep.checklist import load_checklist
from tests.tui.helpers import (
    CARTRIDGE,
    SALT,
    TODAY,
    MemoryStore,
    a_store,
    an_app,
    events,
    press,
    see,
    to_first_step,
    until,
)
from tui.app import WellwardApp
from tui.dialogs.form import Form
from tui.screens.job import JobScreen
from tui.screens.service import JobList
from tui.widgets.steps import StepLine


async def _open(pilot: Pilot[None], app: WellwardApp, task: str) -> JobScreen:
    """Open a job."""
    app.open_job(task)
    await until(pilot, lambda: isinstance(app.screen, JobScreen))
    await until(pilot, lambda: app.focused is not None)
    assert isinstance(app.screen, JobScreen)
    return app.screen


async def _up_to(pilot: Pilot[None], page: JobScreen, field: str) -> None:
    """Go up to a field from the first step."""
    await to_first_step(pilot, page.app)
    for _ in range(20):
        await pilot.press("up")
        if page.focused is page.line(field).input:
            return
    raise AssertionError("the field is not in reach")


async def _finish(pilot: Pilot[None], app: WellwardApp) -> Form[Service]:
    await press(pilot, "ctrl+s")
    await until(pilot, lambda: isinstance(app.screen, Form))
    assert isinstance(app.screen, Form)
    return app.screen


async def test_the_list_shows_all_jobs_by_stage() -> None:
    app = an_app()
    async with app.run_test(size=(120, 60)) as pilot:
        await press(pilot, "2")
        text = await see(pilot, app, "Refill the salt")
        assert text.index("Well") < text.index("Sediment filter") < text.index("Refill the salt")
        assert "last done Thu 1 Oct" in text
        assert "when it happens" in text


async def test_a_job_is_opened_by_keys_alone() -> None:
    app = an_app()
    async with app.run_test(size=(120, 60)) as pilot:
        await press(pilot, "2")
        await see(pilot, app, "Refill the salt")
        await pilot.press("down", "down", "enter")
        await until(pilot, lambda: isinstance(app.screen, JobScreen))
        await press(pilot, "escape")
        await until(pilot, lambda: app.screen.query(JobList))


async def test_cautions_stand_before_steps_and_every_part_of_the_checklist_is_there() -> None:
    checklist = load_checklist("sediment_filter", "replace_cartridge")
    app = an_app()
    async with app.run_test(size=(120, 180)) as pilot:
        await _open(pilot, app, CARTRIDGE)
        text = " ".join((await see(pilot, app, "Readings after")).split())
        order = [
            "CAUTIONS",
            "Why",
            "Tools",
            "Parts",
            "Before you start",
            "Must be off",
            "Readings before",
            "Steps",
            "Readings after",
            "It is done when",
            "Parts used",
            "Afterwards",
            "What this rests on",
        ]
        places = [text.index(word) for word in order]
        assert places == sorted(places)
        for words in (*checklist.cautions, *checklist.tools, *(step.text for step in checklist.steps)):
            assert words[:40] in text
        assert "Wait 1 hour" in text


async def test_a_service_done_by_keys_alone_is_one_event_with_readings_and_parts() -> None:
    app = an_app()
    async with app.run_test(size=(100, 40), notifications=True) as pilot:
        page = await _open(pilot, app, SALT)
        assert app.focused is page.line("before-0").input, "it begins at the first reading to take before"
        await press(pilot, "tab", "shift+tab", *"14 in", "down", "down", "down")
        assert page.line("before-0").typed == "14 in"
        await press(pilot, "space", "enter")
        assert [step.ticked for step in page.query(StepLine)][:3] == [True, True, False]
        await _finish(pilot, app)
        before = len(events(app))
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: len(events(app)) == before + 1)
        done = events(app)[-1]
        assert isinstance(done, Service)
        assert (done.task, done.on) == (SALT, TODAY)
        assert done.taken[0].quantity == "salt_depth"
        assert done.taken[0].value == pytest.approx(14 * 2.54)
        assert done.taken[0].moment == "before"
        assert done.used == pytest.approx({"salt": page.suggested["salt"]})
        text = await see(pilot, app, "Refill the salt, Wed 25 Nov")
        assert "Next:" in text
        await until(pilot, lambda: not isinstance(app.screen, JobScreen))


async def test_an_impossible_reading_is_refused_beside_its_field() -> None:
    app = an_app()
    async with app.run_test(size=(100, 40), notifications=True) as pilot:
        page = await _open(pilot, app, SALT)
        await _up_to(pilot, page, "before-0")
        await press(pilot, *"-3 in", "ctrl+s")
        await see(pilot, app, "Not recorded yet")
        assert not isinstance(app.screen, Form)
        assert app.focused is page.line("before-0").input
        assert not any(isinstance(one, Service) and one.on == TODAY for one in events(app))


async def test_handles_must_be_back_or_something_accepted() -> None:
    app = an_app()
    async with app.run_test(size=(100, 40)) as pilot:
        await _open(pilot, app, CARTRIDGE)
        before = len(events(app))
        form = await _finish(pilot, app)
        await press(pilot, "ctrl+s")
        await see(pilot, app, "moves a valve handle")
        form.query_one("#entry_handles").focus()
        await press(pilot, "enter", "down", "down", "enter", "ctrl+s")
        await see(pilot, app, "Say why it stays moved")
        form.query_one("#entry_accepted").focus()
        await press(pilot, *"bypass", "ctrl+s")
        await until(pilot, lambda: len(events(app)) == before + 1)
        done = events(app)[-1]
        assert isinstance(done, Service)
        assert (done.handles, done.accepted) == ("sediment_filter.bypass", "bypass")
        assert done.used == {"cartridge": 1.0}


async def test_left_half_way_it_is_there_again_in_a_new_sitting() -> None:
    store = a_store()
    app = an_app(store)
    async with app.run_test(size=(100, 40)) as pilot:
        page = await _open(pilot, app, SALT)
        await _up_to(pilot, page, "before-2")
        await press(pilot, *"15", "down", "space", "escape")
        await until(pilot, lambda: not isinstance(app.screen, JobScreen))
    again = an_app(store)
    async with again.run_test(size=(100, 40)) as pilot:
        await press(pilot, "2")
        await see(pilot, again, "(half-done) Refill the salt")
        count = len(events(again))
        page = await _open(pilot, again, SALT)
        assert [step.ticked for step in page.query(StepLine)][:2] == [True, False]
        assert page.line("before-2").typed == "15"
        assert again.focused is list(page.query(StepLine))[1], "it goes on at the first step that is not ticked"
        assert "Begun earlier: goes on where you left" in str(page.query_one("#job_head", Static).content)
        await press(pilot, "escape")
        await until(pilot, lambda: not isinstance(again.screen, JobScreen))
        assert len(events(again)) == count, "nothing changed, so nothing is recorded"


async def test_finishing_ends_the_half_done_state() -> None:
    app = an_app(a_store(PausedService(on=TODAY, task=SALT, ticked=(0,), typed={"before-0": "15"})))
    async with app.run_test(size=(100, 40)) as pilot:
        await _open(pilot, app, SALT)
        await _finish(pilot, app)
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: isinstance(events(app)[-1], Service))
        page = await _open(pilot, app, SALT)
        assert not any(step.ticked for step in page.query(StepLine))


async def test_unticking_everything_takes_the_pause_back() -> None:
    app = an_app(a_store(PausedService(on=TODAY, task=SALT, ticked=(0,))))
    async with app.run_test(size=(100, 40)) as pilot:
        await _open(pilot, app, SALT)
        await press(pilot, "up", "space", "escape")
        await until(pilot, lambda: isinstance(events(app)[-1], Correction))
        assert not next(due for due in app.session.view.plan.due if due.task == SALT).paused


@pytest.mark.parametrize("way", ["click", "escape", "ctrl+q"])
async def test_what_was_ticked_is_kept_whichever_way_the_job_is_left(way: str) -> None:
    store = a_store()
    app = an_app(store)
    async with app.run_test(size=(100, 40)) as pilot:
        await _open(pilot, app, SALT)
        await to_first_step(pilot, app)
        await press(pilot, "space", "space", "space")
        await (pilot.click("#area_bar", offset=(3, 0)) if way == "click" else pilot.press(way))
        await until(pilot, lambda: _ticked(store) == (0, 1, 2))


def _ticked(store: MemoryStore) -> tuple[int, ...]:
    last = store.home.events[-1]
    return last.ticked if isinstance(last, PausedService) else ()


async def test_back_in_the_dialog_goes_back_to_the_page_with_everything_there() -> None:
    app = an_app()
    async with app.run_test(size=(100, 40)) as pilot:
        page = await _open(pilot, app, SALT)
        await _up_to(pilot, page, "before-2")
        await press(pilot, *"15")
        await _finish(pilot, app)
        await press(pilot, "escape")
        await until(pilot, lambda: app.screen is page)
        assert page.line("before-2").typed == "15"


async def test_undo_after_a_service_brings_the_date_back() -> None:
    app = an_app()
    async with app.run_test(size=(100, 40)) as pilot:
        await see(pilot, app, "Overdue")
        dates = {due.task: due.act_on for due in app.session.view.plan.due}
        app.record(Service(on=TODAY, task=CARTRIDGE))
        assert {due.task: due.act_on for due in app.session.view.plan.due} != dates
        await press(pilot, "u", "y")
        await until(pilot, lambda: isinstance(events(app)[-1], Correction))
        assert {due.task: due.act_on for due in app.session.view.plan.due} == dates


async def test_a_job_begun_that_the_disk_does_not_take_waits_in_memory_and_is_asked_about_on_leaving() -> None:
    class Full(MemoryStore):
        def append(self, event: AnyEvent, *more: AnyEvent) -> Home:
            raise StoreError("The disk is full.", "Make room.")

    app = an_app(Full(a_store().home))
    async with app.run_test(size=(100, 40), notifications=True) as pilot:
        page = await _open(pilot, app, SALT)
        await to_first_step(pilot, app)
        await press(pilot, "space", "escape")
        await see(pilot, app, "The disk is full.")
        await see(pilot, app, "1 recorded in memory only, NOT ON DISK")
        assert app.screen is not page
        assert isinstance(app.session.unsaved[0], PausedService)
        await press(pilot, "ctrl+q")
        await see(pilot, app, "Leave with 1 not on disk?")
        await press(pilot, "y")
        await until(pilot, lambda: not app.is_running)


async def test_a_service_done_earlier_is_checked_against_the_meter_of_that_day() -> None:
    app = an_app()
    async with app.run_test(size=(100, 40), notifications=True) as pilot:
        page = await _open(pilot, app, SALT)
        page.line("before-2").input.value = "110000 L"
        form = await _finish(pilot, app)
        await press(pilot, "ctrl+s")
        await see(pilot, app, "The meter shows")
        form.query_one("#entry_on", Input).value = "2026-10-15"
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: isinstance(events(app)[-1], Service))
        assert events(app)[-1].on == date(2026, 10, 15)


async def test_the_file_name_of_a_photo_is_kept_and_stands_in_the_log_as_typed() -> None:
    app = an_app()
    async with app.run_test(size=(120, 40)) as pilot:
        await _open(pilot, app, SALT)
        form = await _finish(pilot, app)
        form.query_one("#entry_photo", Input).value = " tank [b]1.jpg "
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: isinstance(events(app)[-1], Service))
        assert events(app)[-1].photo == "tank [b]1.jpg"  # type: ignore[union-attr]
        await press(pilot, "6")
        await see(pilot, app, "photo: tank [b]1.jpg")
