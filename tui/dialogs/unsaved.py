"""What is recorded but not on the disk: a copy elsewhere, and the question before leaving it behind."""

from __future__ import annotations

import tempfile
from pathlib import Path
from shlex import quote
from typing import TYPE_CHECKING

from model.errors import BadInput, StoreError
from model.records.log import describe
from model.records.names import names_of
from model.store.files import utc_stamp
from model.store.rescue import counted
from tui.dialogs.ask import Ask
from tui.dialogs.form import Entry, Form
from tui.key_words import key
from tui.words import day_words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from model.records.events import AnyEvent
    from tui.recording_app import RecordingApp
    from tui.view import Session, View

_LISTED = 5


async def save_copy(app: RecordingApp) -> None:
    """Ask for a file and write the home to it, with what waits; one that is there already is never replaced."""
    saved = await app.push_screen_wait(_form(app.session))
    if saved is not None:
        app.show_again()
        app.notify(f"Saved as {saved}.", markup=False)


async def may_leave(app: RecordingApp) -> bool:
    """Ask whether to leave although something is in memory only. Asked once at a time."""
    if any(isinstance(one, Leaving) for one in app.screen_stack):
        return False
    session = app.session
    words = "\n".join((*listed(session.view, session.unsaved), "", _where(session)))
    return await app.push_screen_wait(Leaving(f"Leave with {len(session.unsaved)} not on disk?", words))


def listed(view: View, events: Sequence[AnyEvent]) -> list[str]:
    """The first of some events in a line each, and how many more there are."""
    names = names_of(view.home)
    lines = [f"{day_words(one.on, view.today)}: {': '.join(describe(one, names))}" for one in events[:_LISTED]]
    return lines + ([f"and {len(events) - _LISTED} more"] if events[_LISTED:] else [])


class Leaving(Ask):
    """The question before leaving; Enter and Escape stay."""

    CSS_PATH = "ask.tcss"
    AUTO_FOCUS = "#ask_no"

    def __init__(self, question: str, words: str) -> None:
        super().__init__(question, words, yes="Leave", no="Stay")


def last_copy(session: Session) -> None:
    """Write what is in no file to one of its own, in the first folder that takes it."""
    if not session.unsaved or session.copy is not None:
        return
    from platformdirs import user_data_dir

    name = f"wellward-unsaved-{utc_stamp()}.json"
    for folder in (user_data_dir("wellward", appauthor=False), Path.home(), tempfile.gettempdir()):
        try:
            session.save_copy(Path(folder) / name)
        except StoreError:
            continue
        return


def left_words(session: Session) -> str:
    """What is said in the terminal on leaving while something is not in the home's file."""
    count = len(session.unsaved)
    lost = "" if session.copy else f" and {'is' if count == 1 else 'are'} lost"
    lines = [f"{counted(count)} could not be written to {session.path}{lost}:"]
    lines += [f"  {one}" for one in listed(session.view, session.unsaved)]
    return "\n".join((*lines, _where(session)) if session.copy else lines)


def _where(session: Session) -> str:
    if session.copy is not None:
        asked = "The next start asks about it" if session.remembered else "NOTE THIS, the next start will not ask"
        return f"All of it is in {session.copy}. {asked}: `wellward import {quote(str(session.copy))}` takes it in too."
    return (
        f"{session.trouble or ''} What is in memory only is lost on leaving; stay, and {key('save_copy')} saves a "
        "copy elsewhere."
    )


def _form(session: Session) -> Form[Path]:
    suggested = Path.home() / f"wellward-copy-{session.view.today}.json"
    entries = (Entry(id="path", label="File", value=str(suggested), hint="not there yet; on another disk if need be"),)
    about = "The whole home goes there, with what is not on disk yet. The home's own file stays where it is."
    return Form("Save a copy", entries, lambda typed: _saved(session, typed["path"]), about=about)


def _saved(session: Session, typed: str) -> Path:
    if not typed.strip():
        raise BadInput("Name a file.")
    try:
        return session.save_copy(Path(typed.strip()))
    except StoreError as problem:
        raise BadInput(problem.what, "Name another file.") from problem
