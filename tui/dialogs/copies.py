"""At the start: copies saved earlier that hold what the home's file does not, and the offer to take it in."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model.errors import StoreError
from model.store.rescue import Found, forget
from tui.dialogs.ask import Ask
from tui.dialogs.unsaved import listed

if TYPE_CHECKING:
    from tui.recording_app import RecordingApp


async def offer_copies(app: RecordingApp, found: tuple[Found, ...]) -> None:
    """Ask about each copy; what is put off is asked again at the next start."""
    for one in found:
        if one.problem:
            await _ask_unread(app, one)
        elif await app.push_screen_wait(_question(app, one)):
            _take_in(app, one)


def _question(app: RecordingApp, one: Found) -> Ask:
    session = app.session
    if session.first is None:
        question, now = f"Take in {one.counted} from a copy?", f"Recorded, but not in {session.path}:"
        where = f"The copy {one.path} stays where it is. The file as it is now is kept beside it."
    else:
        question, now = f"Begin with a copy of {one.counted}?", f"There is no file at {session.path}, but a copy of it:"
        where = f"The copy {one.path} stays where it is."
    return Ask(question, "\n".join((now, *listed(session.view, one.events), "", where)), yes="Take in", no="Later")


async def _ask_unread(app: RecordingApp, one: Found) -> None:
    words = (
        f"{one.problem}\n\nIt holds {one.counted} that {app.session.path} does not. If it is on another disk, "
        "bring that back and start again. Forget it only if nothing in it is wanted."
    )
    if await app.push_screen_wait(Ask("A copy cannot be read", words, yes="Forget it", no="Ask again")):
        forget(one.path)


def _take_in(app: RecordingApp, one: Found) -> None:
    try:
        count = app.session.take_in(one.path)
    except StoreError as problem:
        app.notify(str(problem), title="Nothing was taken in", severity="error", markup=False, timeout=12)
        return
    forget(one.path)
    app.show_again()
    app.notify(f"{count} taken in from the copy.", markup=False)
