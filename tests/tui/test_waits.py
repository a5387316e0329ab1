"""Waits of steps on the page: a clock passed in, moved by hand; nothing here sleeps."""

from __future__ import annotations

import pytest
from textual.pilot import Pilot

from model.records.events import PausedService, Service, Wait
from tests.tui.helpers import CARTRIDGE, TODAY, MemoryStore, a_store, events, press, see, shown, until
from tui.app import WellwardApp
from tui.screens.job import JobScreen
from tui.view import Session
from tui.waits import OtherWaits
from tui.widgets.steps import StepLine


class Clock:
    """Seconds since 1970, as the test says."""

    def __init__(self) -> None:
        self.now = 1_000_000.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def rung(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """A line for each time the bell rang."""
    found: list[str] = []
    monkeypatch.setattr(WellwardApp, "bell", lambda app: found.append("rang"))
    return found


def _app(clock: Clock, store: MemoryStore | None = None) -> WellwardApp:
    return WellwardApp(Session(store or a_store(), lambda: TODAY, moment=clock))


async def _open(pilot: Pilot[None], app: WellwardApp) -> JobScreen:
    app.open_job(CARTRIDGE)
    await until(pilot, lambda: isinstance(app.screen, JobScreen) and app.focused is not None)
    assert isinstance(app.screen, JobScreen)
    return app.screen


def _waiting(page: JobScreen) -> list[StepLine]:
    found = [step for step in page.query(StepLine) if step.waiting.minutes]
    assert len(found) > 1, "the job of these tests has several waits"
    return found


async def _go_to(pilot: Pilot[None], app: WellwardApp, step: StepLine) -> None:
    app.screen.set_focus(step)
    await press(pilot, "shift+tab", "tab")
    assert app.focused is step


def _saved(app: WellwardApp) -> tuple[Wait, ...]:
    return next((one.waits for one in reversed(events(app)) if isinstance(one, PausedService)), ())


@pytest.mark.parametrize("size", [(60, 20), (100, 40)])
async def test_a_tick_begins_the_wait_which_rings_at_its_end_and_says_so_until_a_key(
    size: tuple[int, int], rung: list[str]
) -> None:
    clock = Clock()
    app = _app(clock)
    async with app.run_test(size=size, notifications=True) as pilot:
        page = await _open(pilot, app)
        step = _waiting(page)[0]
        length = 60.0 * step.waiting.minutes
        await _go_to(pilot, app, step)
        assert size[0] < 100 or "w Wait" in await see(pilot, app, f"{step.place + 1}. ")
        await press(pilot, "space")
        assert step.ticked
        assert _saved(app) == (Wait(step=step.place, left_s=length, since=clock.now),)
        clock.now += length - 272.0
        page.look_at_waits()
        await see(pilot, app, "4:32 left")
        assert not rung
        clock.now += 272.0
        page.look_at_waits()
        await see(pilot, app, "WAIT IS OVER")
        assert f"The wait of step {step.place + 1} is over." in shown(app)
        page.look_at_waits()
        assert len(rung) == 1, "it rings once"
        await press(pilot, "down")
        await until(pilot, lambda: "WAIT IS OVER" not in shown(app))
        await press(pilot, "ctrl+s")
        await see(pilot, app, "Finish:")


async def test_w_stops_and_resumes_x_drops_and_several_run_at_once() -> None:
    clock = Clock()
    app = _app(clock)
    async with app.run_test(size=(100, 60)) as pilot:
        page = await _open(pilot, app)
        first, second = _waiting(page)[:2]
        for step in (first, second):
            await _go_to(pilot, app, step)
            await press(pilot, "w")
        assert not first.ticked
        clock.now += 60.0
        await press(pilot, "w")
        clock.now += 60.0
        page.look_at_waits()
        rest = 60.0 * second.waiting.minutes - 60.0
        assert second.waiting.wait == Wait(step=second.place, left_s=rest)
        await see(pilot, app, "stopped, ")
        assert first.waiting.is_running(clock.now)
        await press(pilot, "w")
        assert second.waiting.wait == Wait(step=second.place, left_s=rest, since=clock.now)
        await press(pilot, "x")
        assert second.waiting.wait is None
        assert first.waiting.wait is not None


async def test_no_step_is_refused_while_a_wait_runs() -> None:
    app = _app(Clock())
    async with app.run_test(size=(100, 60)) as pilot:
        page = await _open(pilot, app)
        steps = list(page.query(StepLine))
        await _go_to(pilot, app, steps[0])
        await press(pilot, *["space"] * len(steps))
        assert all(step.ticked for step in steps)
        assert all(step.waiting.is_running(app.session.moment()) for step in _waiting(page))


async def test_a_wait_goes_on_while_the_program_is_shut_and_taking_the_tick_away_drops_it() -> None:
    clock, store = Clock(), a_store()
    app = _app(clock, store)
    async with app.run_test(size=(100, 60)) as pilot:
        step = _waiting(await _open(pilot, app))[0]
        await _go_to(pilot, app, step)
        await press(pilot, "space", "escape")
        await until(pilot, lambda: not isinstance(app.screen, JobScreen))
    clock.now += 60.0
    again = _app(clock, store)
    async with again.run_test(size=(100, 60)) as pilot:
        page = await _open(pilot, again)
        step = _waiting(page)[0]
        minutes = step.waiting.minutes - 1
        await see(pilot, again, f"{minutes // 60}:{minutes % 60:02}:00 left" if minutes > 59 else f"{minutes}:00 left")
        await _go_to(pilot, again, step)
        await press(pilot, "space")
        assert not step.ticked
        assert step.waiting.wait is None


async def test_a_wait_that_ended_while_the_program_was_shut_is_told_and_not_rung_for(rung: list[str]) -> None:
    clock = Clock()
    place = 0
    app = _app(clock)
    async with app.run_test(size=(100, 60)) as pilot:
        place = _waiting(await _open(pilot, app))[0].place
    wait = Wait(step=place, left_s=300.0, since=clock.now - 301.0)
    again = _app(clock, a_store(PausedService(on=TODAY, task=CARTRIDGE, ticked=(place,), waits=(wait,))))
    async with again.run_test(size=(100, 60)) as pilot:
        page = await _open(pilot, again)
        page.look_at_waits()
        await see(pilot, again, "WAIT IS OVER")
        assert not rung


async def test_a_clock_set_back_does_no_harm(rung: list[str]) -> None:
    clock = Clock()
    app = _app(clock)
    async with app.run_test(size=(100, 60)) as pilot:
        page = await _open(pilot, app)
        step = _waiting(page)[0]
        await _go_to(pilot, app, step)
        await press(pilot, "w")
        clock.now -= 7_200.0
        page.look_at_waits()
        clock.now += 60.0 * step.waiting.minutes
        page.look_at_waits()
        assert len(rung) == 1


async def test_a_wait_rings_on_another_page_too_but_not_for_a_job_that_is_done(rung: list[str]) -> None:
    clock = Clock()
    app = _app(clock, a_store(PausedService(on=TODAY, task=CARTRIDGE, waits=(Wait(step=1, left_s=5.0, since=1e6),))))
    async with app.run_test(size=(100, 40), notifications=True) as pilot:
        await see(pilot, app, "Overdue")
        others = OtherWaits(app)
        others.look()
        clock.now += 6.0
        others.look()
        others.look()
        assert len(rung) == 1
        await see(pilot, app, "The wait of step 2 is over")
    done = _app(clock, MemoryStore(app.session.view.home))
    done.session.record(Service(on=TODAY, task=CARTRIDGE))
    assert done.session.view.waits == ()
