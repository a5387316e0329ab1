"""One job: why, cautions, what is needed, readings, steps to tick, and how it is recorded."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Input, Static

from model.equipment.registry import kind_of, title_of
from model.errors import BadInput, WellwardError
from model.forecast.parts import suggested_parts
from model.records.events import Correction, PausedService
from model.records.meter_check import REPLACE_METER
from model.upkeep.checklist import Checklist, ReadingAsk, load_checklist
from tui import jobs
from tui.commands import Area, bindings
from tui.screens.area import AreaScreen
from tui.widgets import checklist as texts
from tui.widgets.hanging import bullets
from tui.widgets.steps import AskLine, StepLine

if TYPE_CHECKING:
    from tui.view import View


class JobScreen(AreaScreen):
    """The page of one job. What is ticked and typed is kept when it is left, and comes back."""

    AREA = "service"
    CSS_PATH = "job.tcss"
    AUTO_FOCUS = "#job"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("job")]
    HELP_TEXT = (
        "Read the cautions first. Tab, Down and Up go from line to line; Space or Enter ticks a step and goes on. "
        "f finishes the job and records it with its readings and parts as one event (Ctrl+S while in a field). "
        "Escape goes back and keeps what was ticked and typed."
    )

    def __init__(self, view: View, row: jobs.JobRow, came_from: Area) -> None:
        super().__init__()
        self.row = row
        self.came_from = came_from
        self._pause = jobs.paused(view, row.task)
        self._kept = jobs.begun(self._pause)
        self.checklist, self._missing = _load(row)
        self.suggested = suggested_parts(view.home, view.today, row.task)
        self._done = False

    def compose(self) -> ComposeResult:
        """The page, from top to bottom in the order of doing."""
        with VerticalScroll(id="job", can_focus=True):
            yield Static(id="job_head")
            if self.checklist is None:
                yield Static(Content(self._missing), classes="cautions")
            else:
                yield from self._page(self.checklist)
            yield from self._parts()
            if self.checklist is not None:
                yield Static("", classes="title")
                yield Static(texts.afterwards(self.checklist, self.app.session.view.today), classes="block")

    def _page(self, checklist: Checklist) -> ComposeResult:
        if checklist.cautions:
            with Vertical(classes="cautions"):
                yield Static(Content.styled("!! CAUTIONS: read these first", "bold $text-error"))
                yield Static(bullets(checklist.cautions, "!"))
        yield Static(texts.needs(checklist), classes="block")
        yield from self._asks("Readings before", "before", checklist.before_readings)
        yield Static("Steps", classes="title")
        for place, step in enumerate(checklist.steps):
            yield StepLine(place, step.text, step.wait_minutes, ticked=place in self._kept.ticked)
        yield from self._asks("Readings after", "after", checklist.after_readings)
        if checklist.pass_criteria:
            yield Static("It is done when", classes="title")
            yield Static(bullets(checklist.pass_criteria))

    def _asks(self, title: str, moment: str, asks: tuple[ReadingAsk, ...]) -> ComposeResult:
        if asks:
            yield Static(title, classes="title")
        for place, ask in enumerate(asks):
            field = f"{moment}-{place}"
            expect = texts.expected(ask, self.app.session.view)
            yield AskLine(field, ask.ask, expect, self._kept.typed.get(field, ""))

    def _parts(self) -> ComposeResult:
        if self.suggested:
            yield Static("Parts used (change what was different)", classes="title")
        names = {one.id: one for one in self.app.session.view.house.supplies}
        for supply, amount in self.suggested.items():
            known = names.get(supply)
            field = f"used-{supply}"
            typed = self._kept.typed.get(field, f"{amount:g}")
            yield AskLine(field, known.title if known else supply, known.unit if known else "", typed)

    def show_view(self, view: View) -> None:
        """Fill the head: the job, its stage, its date."""
        self.row = jobs.find_job(view, self.row.task) or self.row
        when = jobs.when_words(self.row, view.today)
        again = "  Begun earlier: goes on where you left." if self._pause else ""
        head = Content.assemble((self.row.title, "bold"), f"   {title_of(self.row.stage)}   {when}.{again}")
        self.query_one("#job_head", Static).update(head)

    # What was begun

    def state(self) -> jobs.Begun:
        """What is ticked and typed now; parts only where they differ from what was offered."""
        ticked = frozenset(step.place for step in self.query(StepLine) if step.ticked)
        offered = {f"used-{supply}": f"{amount:g}" for supply, amount in self.suggested.items()}
        lines = {line.field: line.typed.strip() for line in self.query(AskLine)}
        typed = {field: value for field, value in lines.items() if value != offered.get(field, "")}
        return jobs.Begun(ticked, typed)

    def leave(self) -> bool:
        """Keep what was ticked and typed, so that it is there again."""
        state = self.state()
        if self._done or state == self._kept:
            return True
        today = self.app.session.view.today
        if state == jobs.Begun() and self._pause is not None:
            kept = self.app.record(Correction(on=today, voids=self._pause.id), said="")
        else:
            pause = PausedService(on=today, task=self.row.task, ticked=tuple(sorted(state.ticked)), typed=state.typed)
            kept = self.app.record(pause, said=f"Kept half-done: {self.row.title}.")
        if kept:
            self._kept = state
            self._pause = jobs.paused(self.app.session.view, self.row.task)
        return kept

    # Keys

    @on(StepLine.Toggled)
    def _go_on(self, event: StepLine.Toggled) -> None:
        if event.step.ticked and self.focused is event.step:
            self.focus_next()

    @on(Input.Submitted)
    def action_next(self) -> None:
        """Go to the next line."""
        self.focus_next()

    def action_previous(self) -> None:
        """Go to the line before."""
        self.focus_previous()

    def action_tick(self) -> None:
        """Tick the step, or go to the next line where there is nothing to tick."""
        if isinstance(self.focused, StepLine):
            self.focused.toggle()
        else:
            self.focus_next()

    def action_back(self) -> None:
        """Leave; what was begun is kept."""
        if self.leave():
            self.app.close_job(self)

    @on(Input.Blurred)
    def _look(self, event: Input.Blurred) -> None:
        if isinstance(event.input.parent, AskLine):
            event.input.parent.say(self._problem(event.input.parent.field, event.value))

    def _problem(self, field: str, typed: str) -> str:
        """What is wrong or odd about a field, empty where nothing is."""
        view = self.app.session.view
        moment, _, name = field.partition("-")
        try:
            if moment == "used":
                jobs.parse_used(view, name, typed)
            elif typed.strip():
                ask = dict(self.asks())[field]
                taken = jobs.take_asked(view, self.row.stage, ask, typed)
                new = moment == "after" and self.row.task == REPLACE_METER
                jobs.check_count(view, taken, view.today, new_meter=new)
                low, high = ask.sane
                if not low <= taken.value <= high:
                    return f"Odd: {texts.expected(ask, view)}. Look again?"
        except BadInput as problem:
            return str(problem)
        return ""

    def line(self, field: str) -> AskLine:
        """The line of a field."""
        return next(line for line in self.query(AskLine) if line.field == field)

    def asks(self) -> Iterator[tuple[str, ReadingAsk]]:
        """Every reading of the checklist by its field."""
        if self.checklist is not None:
            for moment, asks in (("before", self.checklist.before_readings), ("after", self.checklist.after_readings)):
                for place, ask in enumerate(asks):
                    yield f"{moment}-{place}", ask

    @work(exclusive=True, group="dialog")
    async def action_finish(self) -> None:
        """Ask for the last things and record the job as one event."""
        from tui.dialogs.finish import finish

        self._done = await finish(self)
        if self._done:
            self.app.close_job(self)


def _load(row: jobs.JobRow) -> tuple[Checklist | None, str]:
    try:
        return load_checklist(kind_of(row.stage), row.job.id), ""
    except WellwardError as problem:
        return None, f"! {problem} The job can be recorded all the same."
