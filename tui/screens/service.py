"""Service: every job of the house, by stage, to open its checklist."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from model.equipment.registry import title_of
from model.records.history import History
from tui.commands import bindings
from tui.jobs import JobRow, job_rows, when_words
from tui.key_words import keyed
from tui.screens.listed import FilterLine, ListScreen
from tui.screens.water_view import open_trend
from tui.widgets.cells import fit
from tui.widgets.due_list import GROUPS
from tui.words import day_words, from_now

if TYPE_CHECKING:
    from textual.events import Resize

    from tui.view import View

_MARKS = {state: (glyph, words, colour) for state, glyph, words, colour in GROUPS}

_EMPTY = "Nothing stands here yet. Press {go.house} for House, then {house.add} to add a stage."


class JobList(OptionList):
    """The jobs, grouped by stage."""

    # The list has Enter for itself; here it is the area's, so that it is shown among the keys.
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("service")]

    def __init__(self, wanted: Callable[[JobRow], bool]) -> None:
        """`wanted` says which jobs are listed."""
        super().__init__(id="jobs", compact=True)
        self._wanted = wanted
        self._view: View | None = None

    def show_view(self, view: View) -> None:
        """Show the jobs of the house, keeping the highlighted one."""
        self._view = view
        width = self.scrollable_content_region.width
        if width < 1:
            return
        kept = self.task_id
        self.clear_options()
        self.add_options(list(_options(view, width, self._wanted)))
        places = {one.id: place for place, one in enumerate(self.options) if one.id}
        self.highlighted = places.get(kept or "", min(places.values(), default=None))

    def on_resize(self, event: Resize) -> None:
        """Align the columns anew."""
        if self._view is not None:
            self.show_view(self._view)

    @property
    def task_id(self) -> str | None:
        """The task of the highlighted line."""
        place = self.highlighted
        return None if place is None or place >= self.option_count else self.get_option_at_index(place).id


def _options(view: View, width: int, wanted: Callable[[JobRow], bool]) -> Iterator[Option]:
    history = view.history
    stage = ""
    for row in filter(wanted, job_rows(view)):
        if row.stage.id != stage:
            stage = row.stage.id
            yield Option(Content.styled(title_of(row.stage), "bold $text-primary"), disabled=True)
        yield Option(_line(row, history, view, width), id=row.task)


def _line(row: JobRow, history: History, view: View, width: int) -> Content:
    done = history.last_done(row.task)
    last = f"last done {day_words(done, view.today)}" if done else "never recorded"
    last_width = 24 if width >= 96 else 0
    glyph, words, colour = _MARKS[row.due.state] if row.due else (" ", when_words(row, view.today), "$foreground-muted")
    when = from_now(row.due.act_on, view.today) if row.due else ""
    title = f"(half-done) {row.title}" if row.due and row.due.paused else row.title
    return Content.assemble(
        (fit(f"  {glyph}", 4), colour),
        f"{fit(title, max(width - 4 - 16 - 15 - last_width, 10) - 1)} ",
        (fit(words, 16), colour),
        fit(when, 15),
        (fit(last, last_width), "$foreground-muted"),
    )


class ServiceScreen(ListScreen):
    """All jobs of the house."""

    AREA = "service"
    CSS_PATH = "service.tcss"
    AUTO_FOCUS = LIST = "#jobs"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("service")]
    HELP_TEXT = (
        "Every job of the house, by stage in the order the water meets them. {service.open} opens the checklist, "
        "{service.trend} the plot. {service.filter} shows only the jobs with a word of their title, stage, state "
        "or task; Escape shows all again."
    )

    def compose(self) -> ComposeResult:
        """The list."""
        yield FilterLine("salt, cartridge, overdue")
        yield JobList(self._wanted)
        yield Static(Content(keyed(_EMPTY)), id="no_jobs")

    def show_view(self, view: View) -> None:
        """Fill the list."""
        jobs = self.query_one(JobList)
        jobs.display = bool(view.house.stages)
        self.query_one("#no_jobs").display = not view.house.stages
        jobs.show_view(view)

    def _wanted(self, row: JobRow) -> bool:
        state = _MARKS[row.due.state][1] if row.due else when_words(row, self.app.session.view.today)
        return self.holds(row.title, title_of(row.stage), state, row.task)

    def refill(self) -> None:
        """List the jobs with the words typed."""
        if self._shown is not None:
            self.query_one(JobList).show_view(self._shown)

    def anything(self) -> bool:
        """Whether there are jobs."""
        return bool(self.app.session.view.house.stages)

    @on(OptionList.OptionSelected, "#jobs")
    def action_open_row(self) -> None:
        """Open the checklist of the highlighted job."""
        task = self.query_one(JobList).task_id
        if task:
            self.app.open_job(task)

    def action_trend(self) -> None:
        """Show the plot that belongs to the highlighted job."""
        open_trend(self.app, self.query_one(JobList).task_id or "")
