"""Log: all that happened, newest first; any of it can be taken back."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, ClassVar

import msgspec
from textual import on, work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import DataTable, Static

from model.records.log import LogLine, log_lines, recorded_in_words
from tui.commands import bindings
from tui.dialogs.undo import without_id
from tui.key_words import key, keyed
from tui.screens.listed import FilterLine, ListScreen
from tui.widgets.cells import fit
from tui.words import day_words

if TYPE_CHECKING:
    from textual.events import Resize

    from model.records.events import AnyEvent
    from tui.view import View

PAGE = 200
_DAY = 12
_WHAT = ((150, 68), (100, 48), (80, 30), (0, 24))
"""From so many columns on: the cells that say what it was."""
_NOTHING = (
    "Nothing is recorded yet. {reading} writes down a reading, {lab_result} what a laboratory found; "
    "{go.service} has the jobs to do, and {week.note} on Week writes down what happened."
)
_NOT_FOUND = "have all of these words. Escape shows all again."


class LogScreen(ListScreen):
    """Every event, with a filter and the way to take one back."""

    AREA = "log"
    CSS_PATH = "log.tcss"
    AUTO_FOCUS = LIST = "#log"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("log")]
    HELP_TEXT = (
        "Newest first. Nothing is ever overwritten: what is taken back stays in the log, marked, and counts no more. "
        "Taking back a correction brings the event back. {log.filter} filters by any word, Escape shows all again."
    )

    def __init__(self) -> None:
        super().__init__()
        self._lines: tuple[LogLine, ...] = ()
        self._found: list[LogLine] = []
        self._events: dict[int, AnyEvent] = {}
        self._pages = 1

    def compose(self) -> ComposeResult:
        """Filter, table, the line in full, how many."""
        yield FilterLine("a word, a task, a day")
        yield DataTable[Content](id="log", cursor_type="row", zebra_stripes=False)
        yield Static(id="in_full")
        yield Static(id="how_many")

    def show_view(self, view: View) -> None:
        """Take the log of the view."""
        self._events = {event.id: event for event in view.home.events}
        # Each tick saves a job left half-way: only the last of these says something.
        lines = [line for line in reversed(log_lines(view.home)) if not line.obsolete]
        self._lines = tuple(
            msgspec.structs.replace(line, what=without_id(line.what), detail=without_id(line.detail)) for line in lines
        )
        self._fill()

    def on_resize(self, event: Resize) -> None:
        """Use the width there is, where it is another one."""
        if self._lines and self._widths != tuple(column.width for column in self.query_one(DataTable).columns.values()):
            self._fill()

    @property
    def _widths(self) -> tuple[int, int, int]:
        """Cells of the columns. The width of the program, as the screen's own is not known when it is first filled."""
        width = self.app.size.width
        what = next(what for least, what in _WHAT if width >= least)
        return _DAY, what, max(width - _DAY - what - 8, 16)

    def _fill(self) -> None:
        table = self.query_one(DataTable)
        kept, scroll = self.event_id, table.scroll_y
        self._found = [line for line in self._lines if self.holds(_text(line))]
        shown = self._found[: self._pages * PAGE]
        table.clear(columns=True)
        for title, width in zip(("Day", "What", "Particulars"), self._widths, strict=True):
            table.add_column(title, width=width)
        self._add(shown)
        places = {line.id: place for place, line in enumerate(shown)}
        if kept in places:
            table.move_cursor(row=places[kept], scroll=False)
            table.scroll_to(y=scroll, animate=False)
        self._in_full()
        self.refresh_bindings()

    def _add(self, lines: Sequence[LogLine]) -> None:
        """Put lines below those that are shown."""
        table, today = self.query_one(DataTable), self.app.session.view.today
        for line in lines:
            mark = "(not on disk) " if self._waits(line) else "(taken back) " if line.voided else ""
            table.add_row(*_cells(line, mark, day_words(line.on, today), *self._widths[1:]), key=str(line.id))

    def _tell_how_many(self) -> None:
        shown = self.query_one(DataTable).row_count
        more = f"; {key('log.more')} shows older ones" if shown < len(self._found) else ""
        of = f" of {len(self._lines)}" if shown < len(self._lines) else ""
        told = (
            f"{shown}{of} events{more}."
            if shown
            else keyed(_NOTHING)
            if not self._lines
            else f"0{of} events {_NOT_FOUND}"
        )
        event = self._events.get(self.event_id or 0)
        recorded = recorded_in_words(event) if event else ""
        told += f" R{recorded[1:]}." if recorded else ""
        # One line whatever it says: no need to lay out the screen anew.
        self.query_one("#how_many", Static).update(Content(told), layout=False)

    @property
    def event_id(self) -> int | None:
        """The id of the highlighted event."""
        table = self.query_one(DataTable)
        return self._found[table.cursor_row].id if 0 <= table.cursor_row < len(self._found) else None

    @on(DataTable.RowHighlighted, "#log")
    def _in_full(self) -> None:
        line = next((one for one in self._found if one.id == self.event_id), None)
        text = f"{line.on}  {line.what}. {line.detail}{self._marks(line)}" if line else ""
        self.query_one("#in_full", Static).update(Content(text))
        self._tell_how_many()

    def _marks(self, line: LogLine) -> str:
        marks = ("  (taken back)" if line.voided else "", "  (not on disk yet)" if self._waits(line) else "")
        return "".join(marks)

    def _waits(self, line: LogLine) -> bool:
        return line.id in self.app.session.view.unsaved

    def refill(self) -> None:
        """Show the newest lines with the words typed."""
        self._pages = 1
        self._fill()

    def anything(self) -> bool:
        """Whether anything was recorded."""
        return bool(self._lines)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Nothing is taken back in an empty list, and no more is shown where all is."""
        if action == "take_back":
            return bool(self._found)
        if action == "more":
            return self._pages * PAGE < len(self._found)
        return super().check_action(action, parameters)

    def action_more(self) -> None:
        """Show older lines."""
        shown = self._pages * PAGE
        if shown < len(self._found):
            self._pages += 1
            self._add(self._found[shown : shown + PAGE])
            self._tell_how_many()
            self.refresh_bindings()

    @work(exclusive=True, group="dialog")
    async def action_take_back(self) -> None:
        """Take back the highlighted event, or bring it back where it was taken back, after asking."""
        from tui.dialogs.undo import bring_back, take_back

        number = self.event_id
        line = next((one for one in self._found if one.id == number), None)
        event = None if number is None else self._events.get(number)
        if event is None or line is None:
            return
        if line.voided:
            await bring_back(self.app, event)
        else:
            await take_back(self.app, event, "Take this back?")


def _text(line: LogLine) -> str:
    return f"{line.on} {line.what} {line.detail}"


def _cells(line: LogLine, mark: str, day: str, what: int, detail: int) -> tuple[Content, ...]:
    style = "$foreground-muted" if line.voided else ""
    words = (day, fit(f"{mark}{line.what}", what), fit(line.detail, detail))
    return tuple(Content.styled(word, style) for word in words)
