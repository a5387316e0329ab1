"""Taking back what was recorded, after saying exactly what."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from model.records.events import AnyEvent
from model.records.log import correction_of, describe, last_event, recorded_with, taking_back
from model.records.names import Names, names_of
from model.records.pauses import superseded
from tui.dialogs.ask import Ask
from tui.words import day_words

if TYPE_CHECKING:
    from tui.recording_app import RecordingApp


async def take_back_last(app: RecordingApp) -> None:
    """Ask, then take back the last thing recorded that still stands."""
    event = last_event(app.session.view.home)
    if event is None:
        app.notify("There is nothing to take back.", markup=False)
        return
    await take_back(app, event, "Take back the last thing recorded?")


async def take_back(app: RecordingApp, event: AnyEvent, question: str) -> None:
    """Ask, then take back one event, with all that was recorded in one go with it."""
    home, today = app.session.view.home, app.session.view.today
    names, old = names_of(home), superseded(home.events)
    told = [one for one in recorded_with(home, event) if one.id == event.id or one.id not in old]
    words = "\n".join(_words(one, today, names) for one in told)
    if await app.push_screen_wait(Ask(question, words, yes="Take back", no="Leave it")):
        app.record(*taking_back(home, event, today), said=f"Taken back: {without_id(describe(event, names)[0])}.")


async def bring_back(app: RecordingApp, event: AnyEvent) -> None:
    """Ask, then take back the correction by which an event was taken back, with those made in one go with it."""
    home, today = app.session.view.home, app.session.view.today
    correction, names = correction_of(home, event), names_of(home)
    if correction is None:
        app.notify("That stands: it was not taken back.", markup=False)
        return
    if await app.push_screen_wait(
        Ask("Bring this back?", _words(event, today, names), yes="Bring back", no="Leave it")
    ):
        said = f"Brought back: {without_id(describe(event, names)[0])}."
        app.record(*taking_back(home, correction, today), said=said)


def _words(event: AnyEvent, today: date, names: Names) -> str:
    what, detail = describe(event, names)
    return f"{day_words(event.on, today)}: {without_id(what)}\n{without_id(detail)}".strip()


def without_id(text: str) -> str:
    """Words of the log without the id of a task: commands need it, people do not."""
    before, bracket, rest = text.partition(" [")
    task, closed, after = rest.partition("]")
    is_task = bool(bracket and closed) and "." in task and " " not in task
    return before + without_id(after) if is_task else text
