"""One job: why, cautions, what is needed, readings, steps to tick, and how it is recorded."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, ClassVar

import msgspec
from textual import on, work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Input, Static

from model.equipment.registry import kind_of, title_of
from model.errors import BadInput, WellwardError
from model.forecast.parts import suggested_parts
from model.records.meter_check import REPLACE_METER
from model.upkeep.checklist import Checklist, ReadingAsk, load_checklist
from tui import jobs, used_parts
from tui.commands import Area, bindings
from tui.screens.waiting import Waiting
from tui.widgets import checklist as texts
from tui.widgets.hanging import bullets
from tui.widgets.step_wait import StepWait
from tui.widgets.steps import AskLine, JobPage, ReadingField, StepLine

if TYPE_CHECKING:
    from tui.view import View


_USED = "used-"
"""Before a supply: the field for how much of it was used."""


class JobScreen(Waiting):
    """The page of one job. What is ticked and typed is saved as one goes, and comes back."""

    AREA = "service"
    KEEPS_DIGITS = True
    CSS_PATH = "job.tcss"
    AUTO_FOCUS = ""
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("job")]
    HELP_TEXT = (
        "Read the cautions first. Down, Up and Tab go from line to line; {job.tick} ticks a step and goes on, "
        "Enter also past a field. A tick begins the wait of a step; so does {job.wait}, which also stops and "
        "resumes it, and {job.drop_wait} drops it. When it is over the bell rings; no step has to wait for it. "
        "{job.finish} finishes the job and records it with its readings and parts as one event "
        "({job.finish_typing} while in a field). What is ticked is saved at once; Escape leaves and keeps it, "
        "{job.drop} drops it. Number keys do nothing here."
    )

    def __init__(self, view: View, row: jobs.JobRow, came_from: Area) -> None:
        super().__init__(view, row.task, row.title)
        self.row = row
        self.came_from = came_from
        self._reached: Widget | None = None
        self.checklist, self._missing = _load(row)
        self.suggested = suggested_parts(view.situation, row.task)

    def compose(self) -> ComposeResult:
        """The page, from top to bottom in the order of doing."""
        with JobPage(id="job", can_focus=self.checklist is None):
            yield Static(id="job_head")
            if self.checklist is None:
                yield Static(Content(self._missing), classes="cautions")
            else:
                yield from self._page(self.checklist)
            yield from self._parts()
            if self.checklist is not None:
                yield Static("", classes="title")
                yield Static(texts.afterwards(self.checklist), classes="block")

    def _page(self, checklist: Checklist) -> ComposeResult:
        if checklist.cautions:
            with Vertical(classes="cautions"):
                yield Static(Content.styled("!! CAUTIONS: read these first", "bold $text-error"))
                yield Static(bullets(checklist.cautions, "!"))
        yield Static(texts.needs(checklist), classes="block")
        yield from self._asks("Readings before", "before", checklist.before_readings)
        yield Static("Steps", classes="title")
        waits = {one.step: one for one in self.kept.waits}
        for place, step in enumerate(checklist.steps):
            wait = StepWait(place, step.wait_minutes, waits.get(place))
            yield StepLine(place, step.text, wait, self.app.session.moment, ticked=place in self.kept.ticked)
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
            yield AskLine(field, ask.ask, expect, self.kept.typed.get(field, ""))

    def _parts(self) -> ComposeResult:
        if self.suggested:
            yield Static("Parts used (change what was different)", classes="title")
        view = self.app.session.view
        names = {one.id: one.title for one in view.house.supplies}
        for supply, amount in self.suggested.items():
            field = f"{_USED}{supply}"
            offered = used_parts.used_words(view, supply, amount)
            kept = self.kept.typed.get(field)
            typed = offered if kept is None else used_parts.inside_words(view, supply, kept)
            yield AskLine(field, names.get(supply, supply), used_parts.used_unit(view, supply), typed, offered)

    def state(self) -> jobs.Begun:
        """What is begun, each amount used with its unit."""
        view, found = self.app.session.view, super().state()
        typed = {
            field: used_parts.with_unit(view, field.removeprefix(_USED), text) if field.startswith(_USED) else text
            for field, text in found.typed.items()
        }
        return msgspec.structs.replace(found, typed=typed)

    def on_mount(self) -> None:
        """Begin at the first reading to take before, or where it was left; with the top of the page in view if new."""
        super().on_mount()
        self.set_focus(self._first(), scroll_visible=self.pause is not None)

    def _first(self) -> Widget:
        steps = list(self.query(StepLine))
        unticked = [step for step in steps if not step.ticked]
        # What was to be read before is too late once a step is done.
        before = self._empty("before") if len(unticked) == len(steps) else []
        return next(iter([*before, *unticked, *self._empty("after"), *reversed(self.lines())]), self.query_one(JobPage))

    def _empty(self, moment: str) -> list[Input]:
        return [line.input for line in self.query(AskLine) if line.field.startswith(moment) and not line.typed]

    def lines(self) -> list[Widget]:
        """The lines to go through, from top to bottom."""
        return list(self.query("StepLine, AskLine Input"))

    def start_again(self) -> None:
        """Show the page as new."""
        super().start_again()
        self.set_focus(self._first())

    def show_view(self, view: View) -> None:
        """Fill the head: the job, its stage, its date."""
        self.row = jobs.find_job(view, self.row.task) or self.row
        when = jobs.when_words(self.row, view.today)
        again = "  Begun earlier: goes on where you left." if self.opened != jobs.Begun() else ""
        head = Content.assemble((self.row.title, "bold"), f"   {title_of(self.row.stage)}   {when}.{again}")
        self.query_one("#job_head", Static).update(head)
        self.look_for_end(view)

    # Keys

    @on(StepLine.Toggled)
    def _go_on(self, event: StepLine.Toggled) -> None:
        self.save_soon()
        self.refresh_bindings()
        if event.step.ticked and self.focused is event.step:
            self._move(1)

    @on(Input.Submitted)
    def action_next(self) -> None:
        """Go to the next line."""
        if not self._bring():
            self._move(1)

    def action_previous(self) -> None:
        """Go to the line before."""
        self._move(-1)

    def action_tick(self) -> None:
        """Tick the step, or go to the next line where there is nothing to tick."""
        if self._bring():
            return
        if isinstance(self.focused, StepLine):
            self.focused.toggle()
        else:
            self._move(1)

    @on(ReadingField.Spaced)
    def _read_on(self) -> None:
        """Scroll towards the field, but never pass over a reading."""
        self._bring()

    @on(Input.Changed)
    def _show_typed(self, event: Input.Changed) -> None:
        if event.input is self.focused:
            self.query_one(JobPage).show(event.input)

    def _move(self, way: int) -> None:
        """To the line after or before; past the last one to the end of the page, before the first to its top."""
        page, lines = self.query_one(JobPage), self.lines()
        place = lines.index(self.focused) + way if self.focused in lines else 0
        if 0 <= place < len(lines):
            self.set_focus(lines[place], scroll_visible=False)
            self._reached = lines[place]
            page.show(lines[place])
            # What is said about the field just left may push the lines down.
            self.call_after_refresh(page.show, lines[place])
        else:
            page.scroll_to(y=0 if place < 0 else page.max_scroll_y, animate=False, immediate=True)

    def _bring(self) -> bool:
        """Scroll on towards a line that is not on screen, a page at most. False where it is: only that is ticked."""
        page, line = self.query_one(JobPage), self.focused
        if line is None or line not in self.lines():
            return False
        if line is self._reached:
            page.show(line)
            return False
        return page.read_on(line)

    def action_back(self) -> None:
        """Leave; what was begun is kept."""
        if self.leave():
            self.app.close_job(self)

    @on(Input.Blurred)
    def _look(self, event: Input.Blurred) -> None:
        if isinstance(event.input.parent, AskLine):
            event.input.parent.say(self._problem(event.input.parent.field, event.value))
            self.save_soon()

    def _problem(self, field: str, typed: str) -> str:
        """What is wrong or odd about a field, empty where nothing is."""
        view = self.app.session.view
        moment, _, name = field.partition("-")
        try:
            if moment == "used":
                used_parts.parse_used(view, name, typed, self.suggested.get(name, 0.0))
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

        self.save()
        self.done = await finish(self)
        if self.done:
            self.app.close_job(self)


def _load(row: jobs.JobRow) -> tuple[Checklist | None, str]:
    try:
        return load_checklist(kind_of(row.stage), row.job.id), ""
    except WellwardError as problem:
        return None, f"! {problem} The job can be recorded all the same."
