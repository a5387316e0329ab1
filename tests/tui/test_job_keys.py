"""The keys of a job's page: what they tick, where they go, what is saved, and how it is dropped."""

from __future__ import annotations

import pytest
from textual.pilot import Pilot
from textual.widgets import DataTable, Input

from model.records.events import Correction, PausedService, Reading, Service, Taken
from model.records.log import last_event, log_lines, recorded_with
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
    shown,
    to_first_step,
    until,
)
from tui import used_parts
from tui.app import WellwardApp
from tui.dialogs.ask import Ask
from tui.dialogs.form import Form
from tui.screens import half_done
from tui.screens.job import JobScreen
from tui.widgets.steps import AskLine, JobPage, StepLine


async def _open(pilot: Pilot[None], app: WellwardApp, task: str = SALT) -> JobScreen:
    app.open_job(task)
    await until(pilot, lambda: isinstance(app.screen, JobScreen) and app.focused is not None)
    assert isinstance(app.screen, JobScreen)
    return app.screen


def _steps(page: JobScreen) -> list[StepLine]:
    return list(page.query(StepLine))


def _pauses(app: WellwardApp) -> list[PausedService]:
    return [one for one in events(app) if isinstance(one, PausedService)]


async def test_a_job_opens_at_its_top_with_the_first_reading_before_in_focus() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        page = await _open(pilot, app)
        assert app.focused is page.line("before-0").input
        await see(pilot, app, "CAUTIONS")


async def test_a_job_without_a_reading_before_opens_with_its_first_step_in_focus() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        page = await _open(pilot, app, "softener.salt_check")
        assert not [line for line in page.query(AskLine) if line.field.startswith("before")]
        assert app.focused is _steps(page)[0]


async def test_one_filled_in_already_is_passed_and_none_is_where_a_step_is_ticked() -> None:
    for kept, field in ((PausedService(on=TODAY, task=SALT, typed={"before-0": "14"}), "before-1"), (None, "before-0")):
        app = an_app(a_store(*(() if kept is None else (kept,))))
        async with app.run_test(size=(80, 24)) as pilot:
            page = await _open(pilot, app)
            assert app.focused is page.line(field).input


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_space_reads_on_to_the_reading_before_and_never_passes_it(size: tuple[int, int]) -> None:
    app = an_app()
    async with app.run_test(size=size) as pilot:
        page = await _open(pilot, app)
        field, scroll = page.line("before-0").input, page.query_one(JobPage)
        await pilot.pause()
        assert size[1] >= 40 or not scroll.can_view_partial(field)
        await press(pilot, *["space"] * 20)
        await pilot.pause()
        assert scroll.can_view_entire(field)
        assert app.focused is field
        assert field.value == ""
        assert not any(step.ticked for step in _steps(page))


async def test_what_is_typed_into_a_field_below_is_seen() -> None:
    app = an_app()
    async with app.run_test(size=(60, 20)) as pilot:
        page = await _open(pilot, app)
        await press(pilot, *"14")
        await pilot.pause()
        assert page.query_one(JobPage).can_view_entire(page.line("before-0").input)


@pytest.mark.parametrize("size", [(60, 20), (80, 24), (120, 40)])
async def test_space_reads_on_until_the_step_is_on_screen_and_only_then_ticks_it(size: tuple[int, int]) -> None:
    app = an_app()
    async with app.run_test(size=size) as pilot:
        page = await _open(pilot, app)
        first, scroll = _steps(page)[0], page.query_one(JobPage)
        page.set_focus(first, scroll_visible=False)
        await pilot.pause()
        assert not scroll.can_view_partial(first)
        for _ in range(20):
            if scroll.can_view_partial(first):
                break
            await press(pilot, "space")
            assert not first.ticked
            await pilot.pause()
        assert scroll.can_view_entire(first)
        await press(pilot, "space")
        assert first.ticked
        assert app.focused is _steps(page)[1]


async def test_a_space_in_a_field_wipes_nothing() -> None:
    app = an_app(a_store(PausedService(on=TODAY, task=SALT, ticked=(0,), typed={"before-0": "14"})))
    async with app.run_test(size=(100, 40)) as pilot:
        page = await _open(pilot, app)
        assert app.focused is _steps(page)[1]
        page.line("before-0").input.focus()
        await press(pilot, "space")
        assert page.line("before-0").typed == "14 "


async def test_a_space_on_a_selected_field_of_a_form_only_ends_the_selection() -> None:
    app = an_app()
    async with app.run_test(size=(80, 24)) as pilot:
        await _open(pilot, app)
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, Form))
        await press(pilot, "space", "space")
        field = app.screen.query_one("#entry_on", Input)
        assert field.value == f"{TODAY} "
        field.value = str(TODAY)
        field.select_all()
        await press(pilot, *"today")
        assert field.value == "today"


async def test_down_and_up_go_from_line_to_line() -> None:
    app = an_app()
    async with app.run_test(size=(100, 60)) as pilot:
        page = await _open(pilot, app)
        lines = page.lines()
        assert isinstance(lines[0], Input)
        await to_first_step(pilot, app)
        at = lines.index(_steps(page)[0])
        for place in range(at + 1, len(lines)):
            await press(pilot, "down")
            assert app.focused is lines[place]
        await press(pilot, "down")
        assert app.focused is lines[-1], "the last line is the last one"
        for place in reversed(range(len(lines) - 1)):
            await press(pilot, "up")
            assert app.focused is lines[place]
        await press(pilot, "up")
        assert app.focused is lines[0]
        assert page.query_one(JobPage).scroll_y == 0


async def test_digits_on_a_step_go_nowhere_and_the_footer_says_how_to_leave() -> None:
    app = an_app()
    async with app.run_test(size=(60, 20), notifications=True) as pilot:
        page = await _open(pilot, app)
        await to_first_step(pilot, app)
        for key in "1234567":
            await press(pilot, key)
        assert app.screen is page
        text = await see(pilot, app, "Number keys do nothing")
        assert "esc Leave" in text
        assert "f Finish" in text
        assert "^q Quit" in text


async def test_a_tick_is_saved_at_once_and_the_next_ones_together_on_leaving(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(half_done, "_SAVE_EVERY_S", 600.0)
    store = a_store()
    app = an_app(store)
    async with app.run_test(size=(100, 40)) as pilot:
        await _open(pilot, app)
        await to_first_step(pilot, app)
        await press(pilot, "space", "space", "space")
        assert [one.ticked for one in _pauses(app)] == [(0,)]
        assert store.home.events == events(app), "a program killed now has the first tick"
        await press(pilot, "escape")
        await until(pilot, lambda: [one.ticked for one in _pauses(app)] == [(0,), (0, 1, 2)])


async def test_the_next_ticks_are_saved_within_seconds_without_leaving(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(half_done, "_SAVE_EVERY_S", 0.2)
    store = a_store()
    app = an_app(store)
    async with app.run_test(size=(100, 40)) as pilot:
        page = await _open(pilot, app)
        await to_first_step(pilot, app)
        await press(pilot, "space", "space", "space")
        await until(pilot, lambda: _pauses(app)[-1].ticked == (0, 1, 2))
        assert app.screen is page
        assert store.home.events == events(app)


async def test_the_log_shows_only_the_last_half_way_of_a_job_and_none_once_it_is_done() -> None:
    pauses = [PausedService(on=TODAY, task=SALT, ticked=tuple(range(count))) for count in (1, 2, 3)]
    other = PausedService(on=TODAY, task=CARTRIDGE, ticked=(0,))
    app = an_app(a_store(*pauses, other))
    async with app.run_test(size=(120, 30)) as pilot:
        await press(pilot, "6")
        text = await see(pilot, app, "Left half-way: Refill the salt")
        assert text.count("Left half-way: Refill the salt, Softener") == 1
        assert "3 steps ticked" in text
        assert "1 step ticked" in text
        app.record(Service(on=TODAY, task=SALT))
        await until(pilot, lambda: "Left half-way: Refill the salt" not in shown(app))
        assert "Left half-way: Change the sediment" in shown(app)


async def test_undo_passes_over_superseded_pauses_and_takes_a_half_done_job_back_as_a_whole() -> None:
    app = an_app(a_store(Reading(on=TODAY, taken=Taken(quantity="pH", value=7.0, point="tap"))))
    async with app.run_test(size=(100, 40)) as pilot:
        await see(pilot, app, "Overdue")
        for count in (1, 2, 3):
            app.record(PausedService(on=TODAY, task=SALT, ticked=tuple(range(count))))
        app.record(Service(on=TODAY, task=SALT))
        await press(pilot, "u", "y")
        await until(pilot, lambda: isinstance(events(app)[-1], Correction))
        half_way = last_event(app.session.view.home)
        assert isinstance(half_way, PausedService)
        assert half_way.ticked == (0, 1, 2), "the service gone, the job is half-done again"
        await press(pilot, "u")
        text = await see(pilot, app, "3 steps ticked")
        assert text.count("Left half-way") == 1
        await press(pilot, "y")
        await until(pilot, lambda: isinstance(last_event(app.session.view.home), Reading))
        assert not next(due for due in app.session.view.plan.due if due.task == SALT).paused


async def test_undo_goes_on_with_what_was_recorded_before_a_service() -> None:
    reading = Reading(on=TODAY, taken=Taken(quantity="pH", value=7.0, point="tap"))
    pauses = [PausedService(on=TODAY, task=SALT, ticked=(0,)), PausedService(on=TODAY, task=SALT, ticked=(0, 1))]
    store = a_store(*pauses, Service(on=TODAY, task=SALT), reading)
    home = store.home
    assert last_event(home) == home.events[-1]
    store.append(Correction(on=TODAY, voids=home.events[-1].id))
    assert isinstance(last_event(store.home), Service)


async def test_drop_asks_and_unticks_all() -> None:
    app = an_app(a_store(PausedService(on=TODAY, task=SALT, ticked=(0,)), PausedService(on=TODAY, task=SALT)))
    async with app.run_test(size=(100, 40), notifications=True) as pilot:
        page = await _open(pilot, app)
        await to_first_step(pilot, app)
        await press(pilot, "d")
        await see(pilot, app, "Nothing is ticked")
        page.line("before-0").input.value = "14"
        await to_first_step(pilot, app)
        await press(pilot, "space", "d")
        await see(pilot, app, "1 tick and 1 value typed go.")
        await press(pilot, "n")
        assert _steps(page)[0].ticked
        await press(pilot, "d", "y")
        await until(pilot, lambda: not _steps(page)[0].ticked)
        assert page.line("before-0").typed == ""
        await press(pilot, "escape")
        await until(pilot, lambda: not isinstance(app.screen, JobScreen))
        assert not next(due for due in app.session.view.plan.due if due.task == SALT).paused


async def test_undo_on_the_page_of_the_job_shows_it_as_new() -> None:
    app = an_app()
    async with app.run_test(size=(100, 40)) as pilot:
        page = await _open(pilot, app)
        await to_first_step(pilot, app)
        await press(pilot, "space", "u")
        await until(pilot, lambda: isinstance(app.screen, Ask))
        await press(pilot, "y")
        await until(pilot, lambda: not any(step.ticked for step in _steps(page)))
        await press(pilot, "escape")
        assert not next(due for due in app.session.view.plan.due if due.task == SALT).paused


async def test_far_too_many_parts_are_asked_about_and_can_be_corrected() -> None:
    app = an_app()
    async with app.run_test(size=(100, 40)) as pilot:
        page = await _open(pilot, app, CARTRIDGE)
        page.query(AskLine).last().input.value = "40"
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, Form))
        app.screen.query_one("#entry_handles").value = "service"  # type: ignore[attr-defined]
        await press(pilot, "ctrl+s")
        await see(pilot, app, "40 used, but this job usually takes 1")
        count = len(events(app))
        await press(pilot, "n")
        await until(pilot, lambda: isinstance(app.screen, Form))
        field = app.screen.query_one("#entry_used_0", Input)
        assert field.value == "40"
        assert app.screen.query_one("#entry_handles").value == "service"  # type: ignore[attr-defined]
        field.value = "1"
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: len(events(app)) > count and isinstance(events(app)[-1], Service))
        assert events(app)[-1].used == {"cartridge": 1.0}  # type: ignore[union-attr]


async def test_parts_far_beyond_the_shelf_are_asked_about() -> None:
    view = an_app(MemoryStore(a_store().home)).session.view
    from tui.jobs import doubts_about_parts

    assert not doubts_about_parts(view, {"cartridge": 1.0}, {"cartridge": 1.0})
    assert not doubts_about_parts(view, {"cartridge": 1.0}, {"cartridge": 2.0})
    assert "only 1 on the shelf" in doubts_about_parts(view, {"cartridge": 1.0}, {"cartridge": 3.0})[0]
    assert "usually takes 1" in doubts_about_parts(view, {"cartridge": 1.0}, {"cartridge": 4.0})[0]


async def test_a_pressure_that_rises_across_the_filter_is_asked_about() -> None:
    app = an_app()
    async with app.run_test(size=(100, 40)) as pilot:
        page = await _open(pilot, app, CARTRIDGE)
        fields = {ask.quantity: field for field, ask in page.asks() if field.startswith("before")}
        page.line(fields["pressure_in"]).input.value = "40 psi"
        page.line(fields["pressure_out"]).input.value = "55 psi"
        await press(pilot, "ctrl+s")
        await see(pilot, app, "Pressure after is above pressure before")
        await press(pilot, "n")
        await until(pilot, lambda: app.screen is page)


def test_taking_a_half_done_job_back_leaves_no_older_half() -> None:
    store = a_store(*(PausedService(on=TODAY, task=SALT, ticked=(count,)) for count in range(3)))
    last = store.home.events[-1]
    assert len(recorded_with(store.home, last)) == 3
    assert [line.obsolete for line in log_lines(store.home)][-3:] == [True, True, False]


async def test_the_table_of_the_log_counts_what_it_shows() -> None:
    app = an_app(a_store(*(PausedService(on=TODAY, task=SALT, ticked=(count,)) for count in range(3))))
    async with app.run_test(size=(100, 40)) as pilot:
        await press(pilot, "6")
        await see(pilot, app, "6 events.")
        assert app.screen.query_one(DataTable).row_count == 6


async def test_salt_is_asked_for_in_pounds_where_the_owner_has_pounds_and_kept_exactly() -> None:
    app = an_app()
    async with app.run_test(size=(100, 40)) as pilot:
        page = await _open(pilot, app)
        field = page.query(AskLine).last()
        assert field.input.value == "119 lb"  # three bags of 18 kg, at 0.45359237 kg a pound
        view = app.session.view
        assert used_parts.parse_used(view, "salt", "39.68 lb", 18.0) == 18.0
        assert used_parts.parse_used(view, "salt", "40") == pytest.approx(40 * 0.45359237)
        assert used_parts.parse_used(view, "salt", "20 kg") == 20.0
        assert used_parts.parse_used(view, "cartridge", "2") == 2.0
        field.input.value = "40"
        await press(pilot, "ctrl+s")
        await until(pilot, lambda: isinstance(app.screen, Form))
        assert app.screen.query_one("#entry_used_0", Input).value == "40 lb"
        await see(pilot, app, "Used: Salt")


def test_a_bare_number_kept_by_an_older_program_stays_in_the_unit_of_the_supply() -> None:
    view = an_app().session.view
    assert used_parts.inside_words(view, "salt", "20") == "20 kg"
    assert used_parts.inside_words(view, "salt", "20 lb") == "20 lb"
    assert used_parts.inside_words(view, "cartridge", "2") == "2"
