"""The monthly round on one screen: a row for each value, from the well to the tap; an empty row is skipped."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.events import DescendantFocus
from textual.widget import Widget
from textual.widgets import Input, Static

from model.errors import BadInput
from model.records.events import ROUND
from model.upkeep.monthly_round import RoundRow, round_stops, take_row
from model.upkeep.round_sheet import rows_of
from tui import jobs
from tui.commands import bindings
from tui.screens.half_done import HalfDone
from tui.widgets.steps import AskLine, JobPage
from tui.words import day_words, short_day

if TYPE_CHECKING:
    from tui.view import View

DAY, NOTE = "on", "note"
"""The two fields that are no readings."""
_NOTE_HINT = "guests, weather, manure, power cut, a moved handle"


class RoundScreen(HalfDone):
    """The rows of the round. What is typed is saved as one goes, and comes back."""

    AREA = "round"
    KEEPS_DIGITS = True
    CSS_PATH = "monthly_round.tcss"
    AUTO_FOCUS = ""
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("round")]
    HELP_TEXT = (
        "Walk from the well to the tap and fill in what you read; leave empty what you do not have. A bare number "
        "is taken in the unit beside the row; another unit may be typed with it. After the value may stand how it "
        "was read: strip, drops, kit, meter, lab, then lot A12 and exp 2027-03. A strip's pad is a range, as 5-10; "
        "a test that shows nothing is <1. {round.save} asks about what is odd and records everything in one go, "
        "which {undo} takes back in one go. Escape leaves and keeps what is typed. wellward round prints the same "
        "list on a page."
    )

    def __init__(self, view: View) -> None:
        super().__init__(view, ROUND, "Monthly round")
        self.stops = round_stops(view.house, view.history, self.kept.typed)
        self._left_odd = False
        self.day = self.kept.typed.get(DAY, view.today.isoformat())

    def compose(self) -> ComposeResult:
        """Head, day, the stops with their rows, note, and a line about the row one is in."""
        yield Static(id="round_head")
        with JobPage(id="round", can_focus=False):
            yield self._ask(DAY, "Read on", "or today, yesterday", self.day)
            for stop in self.stops:
                head = Content.assemble((stop.title, "bold $text-primary"), (f"  {stop.takes}", "$foreground-muted"))
                yield Static(head, classes="stop")
                for row in stop.rows:
                    yield self._ask(row.id, row.label, self._beside(row))
            yield Static(Content.styled("Note", "bold $text-primary"), classes="stop")
            yield self._ask(NOTE, "What happened", _NOTE_HINT)
        yield Static(id="round_hint")

    def _ask(self, field: str, label: str, beside: str, offered: str = "") -> AskLine:
        return AskLine(field, label, beside, self.kept.typed.get(field, offered), offered)

    def _beside(self, row: RoundRow) -> str:
        """Unit and last value: "gpg; was 0.5, 5 Nov"."""
        return "; ".join(part for part in (row.unit_words, self._last(row)) if part)

    def _last(self, row: RoundRow) -> str:
        return f"was {row.last}, {short_day(row.last_on, self.app.session.view.today)}" if row.last_on else ""

    def on_mount(self) -> None:
        """Begin at the first empty row."""
        super().on_mount()
        empty = [line.input for line in self._asked() if not line.typed and line.field != NOTE]
        self.set_focus(next(iter([*empty, *self.lines()])))

    def show_view(self, view: View) -> None:
        """Fill the head: what is filled in, when the last round was."""
        done = view.history.last_done(ROUND)
        last = f"last recorded {day_words(done, view.today)}" if done else "never recorded yet"
        again = "  Begun earlier: goes on where you left." if self.opened != jobs.Begun() else ""
        self.query_one("#round_head", Static).update(Content.assemble(("Monthly round", "bold"), f"   {last}.{again}"))
        self.look_for_end(view)

    def rows(self) -> Iterator[RoundRow]:
        """Every row in order."""
        return rows_of(self.stops)

    def row(self, field: str) -> RoundRow | None:
        """The row of a field; None for the day and the note."""
        return next((one for one in self.rows() if one.id == field), None)

    def line(self, field: str) -> AskLine:
        """The line of a field."""
        return next(line for line in self._asked() if line.field == field)

    def typed(self) -> dict[str, str]:
        """What stands in every field."""
        return {line.field: line.typed.strip() for line in self._asked()}

    def lines(self) -> list[Widget]:
        """The fields to go through, from top to bottom."""
        return [line.input for line in self._asked()]

    def state(self) -> jobs.Begun:
        """What is typed, with the day it was begun, so that going on later keeps that day."""
        typed = super().state().typed
        typed = {field: value for field, value in typed.items() if value}
        return jobs.Begun(typed={DAY: self.line(DAY).typed.strip()} | typed) if typed else jobs.Begun()

    def _asked(self) -> list[AskLine]:
        return list(self.query(AskLine))

    # Keys

    @on(Input.Submitted)
    def action_next(self) -> None:
        """Go to the next row."""
        self._move(1)

    def action_previous(self) -> None:
        """Go to the row before."""
        self._move(-1)

    def _move(self, way: int) -> None:
        lines = self.lines()
        place = lines.index(self.focused) + way if self.focused in lines else 0
        if 0 <= place < len(lines):
            self.set_focus(lines[place])
        else:
            self.query_one(JobPage).scroll_to(y=0 if place < 0 else 10_000, animate=False, immediate=True)

    def on_descendant_focus(self, event: DescendantFocus) -> None:
        """Show the row and say below why it is read."""
        parent = event.widget.parent
        if isinstance(parent, AskLine):
            if not self._left_odd:
                self.tell(parent.field)
            self._left_odd = False
            self.query_one(JobPage).show(event.widget)

    def tell(self, field: str) -> None:
        """Below the rows: what is odd about one, else why it is read and what it was."""
        row, problem = self.row(field), self._problem(field, self.line(field).typed)
        last = self._last(row) if row else ""
        said = f"{row.label}: {problem or '; '.join(part for part in (row.why, last) if part)}" if row else ""
        hint = self.query_one("#round_hint", Static)
        hint.set_class(bool(problem), "-problem")
        hint.update(Content(said))

    def action_back(self) -> None:
        """Leave; what was typed is kept."""
        if self.leave():
            self.app.close_round(self)

    @on(Input.Blurred)
    def _look(self, event: Input.Blurred) -> None:
        if isinstance(event.input.parent, AskLine):
            field = event.input.parent.field
            problem = self._problem(field, event.value)
            event.input.parent.say(problem)
            self._left_odd = bool(problem)
            if problem:
                self.tell(field)
            self.save_soon()

    def _problem(self, field: str, typed: str) -> str:
        """What is wrong or odd about a row, empty where nothing is."""
        view, row = self.app.session.view, self.row(field)
        if row is None or not typed.strip():
            return ""
        try:
            taken = take_row(view.house, row, typed, view.today)
            jobs.check_count(view, taken, view.today)
        except BadInput as problem:
            return str(problem)
        return " ".join(jobs.doubts_about(view, taken, view.today))

    @work(exclusive=True, group="dialog")
    async def action_save_round(self) -> None:
        """Ask about what is odd and record the round as one group."""
        from tui.dialogs.finish_round import finish_round

        self.save()
        self.done = await finish_round(self)
        if self.done:
            self.app.close_round(self)
