"""What a person does with the program, by keys alone: readings, services, playbooks, absences."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from textual.pilot import Pilot
from textual.widgets import Input, OptionList

from model.home import Home
from model.records.events import AnyEvent
from tests.tui.helpers import MemoryStore, events, see, shown, until
from tui.app import WellwardApp
from tui.screens.job import JobScreen
from tui.view import Session
from tui.widgets.steps import AskLine, StepLine

Typed = dict[str, str]
MOST_TICKS = 2  # each tick is saved at once, which takes its time
ALL_THE_SAME = "all the same?"


def on_day(home: Home, day: date) -> WellwardApp:
    """The program on a home in memory, on a day."""
    return WellwardApp(Session(MemoryStore(home), lambda: day))


async def choose(pilot: Pilot[None], words: str) -> None:
    """Open the list in focus, type to find, take it."""
    await pilot.press("enter", *(_key(letter) for letter in words), "enter")


async def read(
    pilot: Pilot[None], app: WellwardApp, quantity: str, value: str, *, where: str = "", unit: str = ""
) -> AnyEvent:
    """Write down a reading; what is asked about is recorded all the same."""
    before = len(events(app))
    await pilot.press("r")
    await see(pilot, app, "Write down a reading")
    await choose(pilot, quantity)
    await pilot.press("tab")
    if where:
        await choose(pilot, where)
    await pilot.press("tab", *(_key(letter) for letter in value), "tab")
    if unit:
        await choose(pilot, unit)
    await pilot.press("ctrl+s")
    await say_yes_until(pilot, app, lambda: len(events(app)) > before)
    return events(app)[-1]


async def do(pilot: Pilot[None], app: WellwardApp, task: str, typed: Typed | None = None) -> AnyEvent:
    """Open a job of Week and do it."""
    await open_on_week(pilot, app, task)
    return await do_here(pilot, app, typed)


async def do_here(pilot: Pilot[None], app: WellwardApp, typed: Typed | None = None) -> AnyEvent:
    """Do the job that was opened: fill the fields of `typed`, tick its first steps, record it."""
    before = len(events(app))
    await until(pilot, lambda: isinstance(app.screen, JobScreen))
    page = app.screen
    assert isinstance(page, JobScreen)
    await pilot.press("home", *["up"] * len(page.lines()))
    await work_through(pilot, page, dict(typed or {}))
    await pilot.press("ctrl+s")
    await say_yes_until(pilot, app, lambda: "Done on" in shown(app))
    await pilot.press("ctrl+s")
    await say_yes_until(pilot, app, lambda: len(events(app)) > before)
    await until(pilot, lambda: app.screen is not page)
    return events(app)[-1]


async def away(pilot: Pilot[None], app: WellwardApp, first: date, last: date) -> AnyEvent:
    """Write down days away."""
    before = len(events(app))
    await pilot.press("a")
    await see(pilot, app, "First day away")
    for day in (first, last):
        await pilot.press("end", *["backspace"] * 10, *(_key(letter) for letter in day.isoformat()), "tab")
    await pilot.press("ctrl+s")
    await until(pilot, lambda: len(events(app)) > before)
    return events(app)[-1]


async def say_yes_until(pilot: Pilot[None], app: WellwardApp, holds: Callable[[], bool]) -> None:
    """What is asked about is recorded all the same."""
    await until(pilot, lambda: holds() or ALL_THE_SAME in shown(app))
    if not holds():
        await pilot.press("y")
        await until(pilot, holds)


async def work_through(pilot: Pilot[None], page: JobScreen, typed: Typed) -> None:
    """Line by line from the first: the first steps ticked, the fields of `typed` filled."""
    ticks = 0
    for line in page.lines():
        await until(pilot, lambda line=line: page.focused is line)  # type: ignore[misc]
        if isinstance(line, StepLine):
            ticks += 1
            if ticks > MOST_TICKS:
                await pilot.press("down")
            else:
                while not line.ticked:
                    await pilot.press("space")
        elif isinstance(line, Input) and isinstance(line.parent, AskLine):
            field = line.parent.field
            if field in typed:
                await pilot.press(*["backspace"] * len(line.value), *(_key(letter) for letter in typed.pop(field)))
            await pilot.press("down")
    assert not typed


async def open_on_week(pilot: Pilot[None], app: WellwardApp, task: str) -> None:
    """Go down to a job on Week and open it."""
    place = [item.task for item in app.session.view.plan.due].index(task)
    await pilot.press("1", "home", *["down"] * place, "enter")
    await until(pilot, lambda: isinstance(app.screen, JobScreen))


async def begin(pilot: Pilot[None], app: WellwardApp, title: str) -> AnyEvent:
    """Begin a playbook from the list of Events."""
    before = len(events(app))
    await pilot.press("p")
    await see(pilot, app, "To begin when it happens")
    await pilot.press("home")
    for _ in range(40):
        if title in _highlighted(app):
            break
        await pilot.press("down")
    await pilot.press("enter")
    await see(pilot, app, f"Begin: {title}")
    await pilot.press("ctrl+s")
    await until(pilot, lambda: len(events(app)) > before)
    return events(app)[-1]


def _highlighted(app: WellwardApp) -> str:
    listed = app.screen.query(OptionList).first()
    if listed.highlighted is None:
        return ""
    return str(listed.get_option_at_index(listed.highlighted).prompt)


def _key(letter: str) -> str:
    named = {" ": "space", ".": "full_stop", "/": "slash", "-": "minus", "(": "left_parenthesis", ",": "comma"}
    return named.get(letter, letter)
