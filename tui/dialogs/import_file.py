"""Taking in a laboratory's or a meter's CSV file: what it would add is shown first, then all of it or nothing."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import msgspec

from model.errors import BadInput
from model.forecast.from_file import FromFile, from_file
from model.records.log import describe
from model.records.names import names_of
from model.units import echo
from tui.dialogs.ask import Ask
from tui.dialogs.form import Entry, Form
from tui.files import is_copy, read_bounded

if TYPE_CHECKING:
    from tui.recording_app import RecordingApp
    from tui.view import View

_MOST_LINES = 12
"""So many events, lines left out and oddities are written out; what is more is counted."""

_ABOUT = (
    "A laboratory's file begins with date,point,analyte,value,unit; a meter's with date,reading,unit or date,use,unit. "
    "Semicolons and a decimal comma will do. What it would add is shown before anything is recorded."
)


class Chosen(msgspec.Struct, frozen=True):
    """A file that can be taken in: where it lies, and what it adds."""

    path: Path
    found: FromFile


def file_form(view: View, typed: str = "") -> Form[Chosen]:
    """The form that asks for the file. It answers with what the file adds, or says each thing that is wrong with it."""
    entry = Entry(id="path", label="File", value=typed, hint="its path, like ~/lab.csv")
    return Form("Take in a file", (entry,), lambda now: _chosen(view, now["path"]), about=_ABOUT, save="Look at it")


def _chosen(view: View, typed: str) -> Chosen:
    if not typed.strip():
        raise BadInput("No file is named.", "Type its path, or go back with Escape.")
    path = Path(typed.strip()).expanduser()
    data = read_bounded(path)
    if is_copy(data):
        raise BadInput(f"{echo(path.name)} is no CSV file.", "`wellward import FILE` takes in a copy of this home.")
    found = from_file(data, path.name, view.home, view.today)
    if found.problems:
        told = [f"{problem}" for problem in found.problems]
        more = f"\nand {len(told) - _MOST_LINES} more." if len(told) > _MOST_LINES else ""
        raise BadInput("\n".join(told[:_MOST_LINES]) + more, "Nothing of the file was taken.")
    if not found.events:
        raise BadInput(f"{echo(path.name)} holds nothing new.", f"{found.already} of it stand in the log already.")
    return Chosen(path, found)


async def import_a_file(app: RecordingApp) -> None:
    """Ask for the file, show what it would add, and record it."""
    typed = ""
    while True:
        chosen = await app.push_screen_wait(file_form(app.session.view, typed))
        if chosen is None:
            return
        question = f"Take in {chosen.found.taken} from {echo(chosen.path.name)}?"
        words = "\n".join(preview(app.session.view, chosen.found))
        if await app.push_screen_wait(Ask(question, words, yes="Record", no="Another file")):
            app.record(*chosen.found.events, said=f"{chosen.found.taken} taken in from {chosen.path.name[:30]}.")
            return
        typed = str(chosen.path)


def preview(view: View, found: FromFile) -> list[str]:
    """What a file would add, what it leaves out and what is odd about it, in lines."""
    names = names_of(view.home)
    told = [f"{event.on} {': '.join(describe(event, names))}" for event in found.events]
    told = _cut(told, "more events")
    told += _cut([f"Left out, line {one.line}: {echo(one.analyte)} is not kept." for one in found.left_out], "left out")
    told += _cut([f"! line {line}: {text}" for line, text in sorted(found.odd)], "odd")
    if found.already:
        told.append(f"{found.already} stand in the log already, or twice in the file.")
    return told


def _cut(lines: list[str], what: str) -> list[str]:
    if len(lines) <= _MOST_LINES:
        return lines
    return [*lines[:_MOST_LINES], f"and {len(lines) - _MOST_LINES} {what}."]
