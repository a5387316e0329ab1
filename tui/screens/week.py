"""Week: what the house is exposed to today, what is due, and why."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.widgets import OptionList, Static

from model.records.events import ROUND
from model.records.log import how_far
from model.records.names import Names, names_of
from tui.commands import bindings
from tui.key_words import key, keyed
from tui.screens.area import AreaScreen
from tui.screens.water_view import open_trend
from tui.widgets.coming import coming
from tui.widgets.due_list import DueList
from tui.widgets.event_lines import STEP, step_reasons
from tui.widgets.exposure_words import WIDE_FROM, exposure_words
from tui.widgets.finding_words import week_lines
from tui.widgets.reasons import reasons

if TYPE_CHECKING:
    from textual.events import Resize

    from tui.view import View

_ALERTS = {"danger": ("!! DANGER", "bold $text-error"), "warning": ("! Warning", "$text-warning"), "note": ("Note", "")}
_SHOWN, _SHOWN_NARROW = 2, 1
_COMING = 2
_EMPTY = "Nothing stands here yet. Press {go.house} for House, then {house.add} to add a stage."
_CALM = "Nothing is due. Every job of this house has its date further away."


class WeekScreen(AreaScreen):
    """What is due, why, and what the house drinks today."""

    AREA = "week"
    CSS_PATH = "week.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("week")]
    HELP_TEXT = (
        "The first lines say what the house is exposed to today, the worst first; {week.water} shows all of it. "
        "The list is ordered by the day to act. The day to act is the earlier of the calendar cap and the day the "
        "risk of having run out reaches your limit. Up and down choose a job and show its reasons; {week.open} "
        "opens its checklist, {week.trend} its plot. {week.away} writes down days away, {week.guests} guests: they "
        "are shown here while they are to come. Where the meter counted much more or less than expected and only "
        "you can know why, a line asks, and {week.explain} answers. What readings show stands above the list; "
        "{week.findings} shows it with likely causes. {week.round} opens the monthly round: all readings from the "
        "well to the tap on one screen. When something happens to the house, {week.playbooks} has what to do; its "
        "open steps stand above the jobs. {week.visit} puts the jobs that need the water off together for one day."
    )

    def compose(self) -> ComposeResult:
        """Two lines of water, the list, the reasons."""
        yield Static(id="exposure")
        yield Static(id="alerts")
        with Horizontal(id="week"):
            yield DueList()
            with VerticalScroll(id="why", can_focus=True):
                yield Static(id="reasons")

    def show_view(self, view: View) -> None:
        """Fill everything from the plan."""
        self._show_exposure(view)
        self._show_alerts(view)
        self.refresh_bindings()
        self.query_one(DueList).show_view(view)
        self._show_reasons()

    @property
    def _most(self) -> int:
        """How many alerts are shown: where there is little room one, and those above count the others."""
        return _SHOWN if self.app.size.width >= WIDE_FROM else _SHOWN_NARROW

    def _show_alerts(self, view: View) -> None:
        alerts = _alerts(view)
        shown = self.query_one("#alerts", Static)
        known = [
            *week_lines(view),
            *_questions(view)[:1],
            *_begun(view),
            *([Content(f"{words}.") for words in coming(view)][:_COMING]),
        ]
        left = len(alerts) - self._most - self._besides(view)
        more = [Content(f"and {left} more: press {key('week.water')}")] if left > 0 else []
        shown.update(Content("\n").join([*known, *alerts[: self._most], *more]))
        shown.display = bool(alerts or known)

    def _besides(self, view: View) -> int:
        """How many alerts are not shown and are counted with the lines above."""
        narrow = self._most == _SHOWN_NARROW and view.plan.exposure
        return max(len(view.plan.alerts) - _SHOWN_NARROW, 0) if narrow else 0

    def _show_exposure(self, view: View) -> None:
        away = [one.handle.title for one in view.situation.positions if one.away]
        words = exposure_words(view.plan.exposure, self.app.size.width, away, self._besides(view))
        self.query_one("#exposure", Static).update(words)

    @on(OptionList.OptionHighlighted, "#due")
    def _show_reasons(self) -> None:
        view = self.app.session.view
        task = self.query_one(DueList).task_id
        if task and task.startswith(STEP):
            self._show_step(task.removeprefix(STEP))
            return
        due = next((one for one in view.plan.due if one.task == task), None)
        none = _CALM if view.house.stages else keyed(_EMPTY)
        shown = reasons(due, view, compact=not self.has_class("-roomy")) if due else Content(none)
        self.query_one("#reasons", Static).update(shown)

    def _show_step(self, key: str) -> None:
        view, compact = self.app.session.view, not self.has_class("-roomy")
        rows = ((one, step) for one in view.begun for step in one.open if step.key == key)
        for one, step in rows:
            self.query_one("#reasons", Static).update(step_reasons(step, one, view, compact=compact, on_week=True))

    def on_resize(self, event: Resize) -> None:
        """A narrow terminal gets the reasons in fewer lines."""
        if self._shown is not None:
            self._show_exposure(self._shown)
            self._show_alerts(self._shown)
            self.call_after_refresh(self._show_reasons)

    def action_water_today(self) -> None:
        """Read the lines about the water in full."""
        from tui.dialogs.page import Page

        view = self.app.session.view
        known = (Content(f"{words}.") for words in coming(view))
        lines = [
            *(Content(line) for line in view.plan.exposure),
            *week_lines(view),
            *_questions(view),
            *known,
            *_alerts(view),
        ]
        self.app.push_screen(Page("The water today", Content("\n\n").join(lines)))

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """There is nothing to explain where the plan asks nothing, and no findings where readings show nothing."""
        plan = self.app.session.view.plan
        return bool({"explain": plan.questions, "findings": plan.findings}.get(action, True))

    def action_findings(self) -> None:
        """Show what readings show."""
        from tui.screens.findings import FindingsScreen

        self.app.push_screen(FindingsScreen())

    @work(exclusive=True, group="dialog")
    async def action_explain(self) -> None:
        """Answer why the meter counted much more or less than expected."""
        from tui.dialogs.explain import explain_form, question_list

        view = self.app.session.view
        questions = view.plan.questions
        place = await self.app.push_screen_wait(question_list(view)) if len(questions) > 1 else "0"
        if place is None or not questions:
            return
        answer = await self.app.push_screen_wait(explain_form(questions[int(place)], view))
        if answer:
            self.app.record(answer, said="Written down.")

    @on(OptionList.OptionSelected, "#due")
    def _open(self, event: OptionList.OptionSelected) -> None:
        if event.option_id:
            self._open_line(event.option_id)

    def _open_line(self, line: str) -> None:
        """Open the checklist of a job or of a step, or the playbooks at a step without one."""
        steps = {f"{STEP}{step.key}": step.task for step in self.app.session.view.plan.steps}
        task = steps.get(line, line)
        if task:
            self.app.open_job(task)
        else:
            self.app.lay_on_week("events", line)

    def action_trend(self) -> None:
        """Show the plot that belongs to the highlighted job."""
        open_trend(self.app, self.query_one(DueList).task_id or "")

    def action_open_due(self) -> None:
        """Open the checklist of the highlighted job."""
        task = self.query_one(DueList).task_id
        if task:
            self._open_line(task)


def _questions(view: View) -> list[Content]:
    """What the plan asks of the owner, with the key that answers."""
    return [
        Content.assemble(("? Asked", "bold $text-accent"), f": {one.text} ({key('week.explain')})")
        for one in view.plan.questions
    ]


def _begun(view: View) -> list[Content]:
    """The monthly round that was left half-way, with the key that goes on."""
    pause = view.history.paused(ROUND)
    return (
        [Content(f"Monthly round begun, not recorded yet: {how_far(pause)} ({key('week.round')} goes on).")]
        if pause
        else []
    )


def _alerts(view: View) -> list[Content]:
    """The alerts, most pressing first, each with the place it speaks of."""
    levels, names = list(_ALERTS), names_of(view.home)
    return [
        Content.assemble(_ALERTS[one.level], f"{_place(one.point, names)}: ", one.text)
        for one in sorted(view.plan.alerts, key=lambda one: levels.index(one.level))
    ]


def _place(point: str, names: Names) -> str:
    """Where an alert is about: ", Kitchen RO tap"; nothing for the house as a whole."""
    place = names.place(point).removeprefix(" at ").removeprefix("the ").strip() if point else ""
    return f", {place}" if place else ""
