"""Service: a job opened, worked through, left, resumed, finished and recorded, by keys alone."""

from __future__ import annotations

from datetime import date

import pytest
from textual.pilot import Pilot
from textual.widgets import Input

from model.equipment.neutralizer import Neutralizer
from model.equipment.pressure_tank import PressureTank
from model.equipment.registry import AnyStage, kind_of
from model.equipment.reverse_osmosis import ReverseOsmosis
from model.equipment.sediment_filter import SedimentFilter
from model.equipment.softener import Softener
from model.equipment.ultraviolet import Ultraviolet
from model.equipment.well import Well
from model.errors import StoreError
from model.home import Home, House
from model.records.events import AnyEvent, Correction, PausedService, Service
from model.records.quantities import QUANTITIES
from model.units import show
from model.upkeep.checklist import all_checklist_ids, load_checklist
from tests.tui.helpers import CARTRIDGE, SALT, TODAY, MemoryStore, a_store, an_app, events, press, see, until
from tui.app import WellwardApp
from tui.dialogs.form import Form
from tui.jobs import find_job, take_asked
from tui.screens.job import JobScreen
from tui.screens.service import JobList
from tui.widgets.steps import StepLine, wait_words


async def _open(pilot: Pilot[None], app: WellwardApp, task: str) -> JobScreen:
    """Open a job."""
    app.open_job(task)
    await until(pilot, lambda: isinstance(app.screen, JobScreen))
    await see(pilot, app, "CAUTIONS")
    assert isinstance(app.screen, JobScreen)
    return app.screen


async def _to_first_step(pilot: Pilot[None], app: WellwardApp) -> None:
    for _ in range(20):
        await pilot.press("tab")
        if isinstance(app.focused, StepLine):
            return
    raise AssertionError("no step in reach")


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
            "Later",
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
        await press(pilot, "tab", *"14 in", "enter")
        assert page.line("before-0").typed == "14 in"
        await _to_first_step(pilot, app)
        await press(pilot, "space", "enter")
        assert [step.ticked for step in page.query(StepLine)][:3] == [True, True, False]
        before = len(events(app))
        await _finish(pilot, app)
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
        before = events(app)
        await press(pilot, "tab", *"-3 in", "ctrl+s")
        await see(pilot, app, "Not recorded yet")
        assert not isinstance(app.screen, Form)
        assert app.focused is page.line("before-0").input
        assert events(app) == before


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
        await see(pilot, app, "Say what is accepted")
        form.query_one("#entry_accepted").focus()
        await press(pilot, *"bypass", "ctrl+s")
        await until(pilot, lambda: len(events(app)) == before + 1)
        done = events(app)[-1]
        assert isinstance(done, Service)
        assert (done.handles, done.accepted) == ("", "bypass")
        assert done.used == {"cartridge": 1.0}


async def test_left_half_way_it_is_there_again_in_a_new_sitting() -> None:
    store = a_store()
    app = an_app(store)
    async with app.run_test(size=(100, 40)) as pilot:
        await _open(pilot, app, SALT)
        await press(pilot, "tab", *"15")
        await _to_first_step(pilot, app)
        await press(pilot, "space", "escape")
        await until(pilot, lambda: isinstance(events(app)[-1], PausedService))
    again = an_app(store)
    async with again.run_test(size=(100, 40)) as pilot:
        await press(pilot, "2")
        await see(pilot, again, "(half-done) Refill the salt")
        page = await _open(pilot, again, SALT)
        assert [step.ticked for step in page.query(StepLine)][:2] == [True, False]
        assert page.line("before-0").typed == "15"
        assert "goes on where you left" in await see(pilot, again, "Begun earlier")
        count = len(events(again))
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
        await _to_first_step(pilot, app)
        await press(pilot, "space", "escape")
        await until(pilot, lambda: isinstance(events(app)[-1], Correction))
        assert not next(due for due in app.session.view.plan.due if due.task == SALT).paused


@pytest.mark.parametrize("key", ["2", "ctrl+q"])
async def test_what_was_ticked_is_kept_whichever_way_the_job_is_left(key: str) -> None:
    store = a_store()
    app = an_app(store)
    async with app.run_test(size=(100, 40)) as pilot:
        await _open(pilot, app, SALT)
        await _to_first_step(pilot, app)
        await press(pilot, "space", key)
        await until(pilot, lambda: isinstance(store.home.events[-1], PausedService))


async def test_back_in_the_dialog_goes_back_to_the_page_with_everything_there() -> None:
    app = an_app()
    async with app.run_test(size=(100, 40)) as pilot:
        page = await _open(pilot, app, SALT)
        await press(pilot, "tab", *"15")
        await _finish(pilot, app)
        await press(pilot, "escape")
        await until(pilot, lambda: app.screen is page)
        assert page.line("before-0").typed == "15"


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


_TRAIN: tuple[AnyStage, ...] = (
    Well(id="well"),
    PressureTank(id="pressure_tank"),
    SedimentFilter(id="sediment_filter"),
    Neutralizer(id="neutralizer"),
    Softener(id="softener"),
    Ultraviolet(id="ultraviolet"),
    ReverseOsmosis(id="reverse_osmosis"),
)


@pytest.mark.parametrize(("kind", "job"), all_checklist_ids())
def test_every_reading_a_checklist_asks_for_can_be_recorded(kind: str, job: str) -> None:
    view = an_app(
        MemoryStore(a_store(house=House(name="All", started=date(2026, 1, 1), stages=_TRAIN)).home)
    ).session.view
    stage = next((one for one in _TRAIN if kind_of(one) == kind), None)
    if stage is None:
        return
    row = find_job(view, f"{stage.id}.{job}")
    assert row is not None, "a checklist without its job"
    checklist = load_checklist(kind, job)
    for ask in (*checklist.before_readings, *checklist.after_readings):
        middle = (ask.sane[0] + ask.sane[1]) / 2
        known = QUANTITIES[ask.quantity]
        typed = f"{middle:.0f}" if known.dimension == "count" else f"{middle:.3f} {known.unit}".strip()
        if ask.quantity == "meter":
            typed = "200000 L"
        taken = take_asked(view, stage, ask, typed)
        assert taken.quantity == ask.quantity
        assert show(taken.value, known.dimension, "metric")


def test_waits_in_words() -> None:
    assert wait_words(20) == "20 minutes"
    assert wait_words(60) == "1 hour"
    assert wait_words(90) == "1 hour 30 minutes"


async def test_a_job_that_cannot_be_kept_is_not_left_until_asked_twice() -> None:
    class Full(MemoryStore):
        def append(self, event: AnyEvent, *more: AnyEvent) -> Home:
            raise StoreError("The disk is full.", "Make room.")

    app = an_app(Full(a_store().home))
    async with app.run_test(size=(100, 40), notifications=True) as pilot:
        page = await _open(pilot, app, SALT)
        await _to_first_step(pilot, app)
        await press(pilot, "space", "escape", "1")
        await see(pilot, app, "The disk is full.")
        assert app.screen is page
        assert app.current_mode == "service"
        await press(pilot, "ctrl+q")
        await see(pilot, app, "Once more leaves")
        await press(pilot, "ctrl+q")
        assert not app.is_running


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
