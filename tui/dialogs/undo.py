"""Taking back what was recorded, after saying exactly what."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from model.records.events import AnyEvent
from model.records.log import describe, last_event, recorded_with, taking_back
from tui.dialogs.ask import Ask
from tui.words import day_words

if TYPE_CHECKING:
    from tui.app import WellwardApp


async def take_back_last(app: WellwardApp) -> None:
    """Ask, then take back the last thing recorded that still stands."""
    event = last_event(app.session.view.home)
    if event is None:
        app.notify("There is nothing to take back.", markup=False)
        return
    await take_back(app, event, "Take back the last thing recorded?")


async def take_back(app: WellwardApp, event: AnyEvent, question: str) -> None:
    """Ask, then take back one event, with all that was recorded in one go with it."""
    home, today = app.session.view.home, app.session.view.today
    words = "\n".join(_words(one, today) for one in recorded_with(home, event))
    if await app.push_screen_wait(Ask(question, words, yes="Take back", no="Leave it")):
        app.record(*taking_back(home, event, today), said=f"Taken back: {describe(event)[0]}.")


def _words(event: AnyEvent, today: date) -> str:
    what, detail = describe(event)
    return f"{day_words(event.on, today)}: {what}\n{detail}".strip()
