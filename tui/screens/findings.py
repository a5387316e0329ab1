"""Findings: what readings show, the likely causes, and what the owner says to it."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from model.errors import BadInput
from model.findings.answers import answer_to
from tui.commands import bindings
from tui.screens.area import AreaScreen
from tui.widgets.finding_words import finding_line, finding_page

if TYPE_CHECKING:
    from model.plan_types import Finding
    from model.records.events import Answer, FindingAnswered
    from tui.dialogs.form import Form
    from tui.view import View

_NONE = "The readings show nothing that calls for anything."


class FindingList(OptionList):
    """The findings, one a line."""

    # The list has Enter for itself; here it is the area's, so that it is shown among the keys.
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("findings")]

    def __init__(self) -> None:
        super().__init__(id="finding_list", compact=True)


class FindingsScreen(AreaScreen):
    """What readings show. It lies on Week; Escape goes back."""

    AREA = "findings"
    TAB = "week"
    CSS_PATH = "findings.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("findings")]
    HELP_TEXT = (
        "What readings, their trend and their difference from what was reckoned say, the gravest first, with "
        "likely causes in order. {findings.accept} takes a finding on as a task: its job comes forward and stands "
        "on Week until it is done. {findings.dismiss} dismisses it with a reason, until a new reading shows it "
        "again; {findings.snooze} puts it off until a day. What was put away is always counted. No answer moves a "
        "date later."
    )

    def compose(self) -> ComposeResult:
        """The list above, the highlighted finding below."""
        yield FindingList()
        with VerticalScroll(id="finding_words", can_focus=True):
            yield Static(id="finding_page")

    def show_view(self, view: View) -> None:
        """Fill the list, keeping the highlighted finding."""
        kept, listed = self.chosen, self.query_one(FindingList)
        listed.clear_options()
        listed.add_options([Option(finding_line(one), id=one.id) for one in view.plan.findings])
        ids = [one.id for one in view.plan.findings]
        listed.highlighted = None if not ids else ids.index(kept.id) if kept and kept.id in ids else 0
        self._show_finding()

    @property
    def chosen(self) -> Finding | None:
        """The highlighted finding."""
        option = self.query_one(FindingList).highlighted_option
        found = self.app.session.view.plan.findings
        return next((one for one in found if option is not None and one.id == option.id), None)

    @on(OptionList.OptionHighlighted, "#finding_list")
    def _show_finding(self) -> None:
        found = self.chosen
        shown = finding_page(found, self.app.session.view) if found else Content(_NONE)
        self.query_one("#finding_page", Static).update(shown)
        self.refresh_bindings()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """What can be said to the highlighted finding."""
        found = self.chosen if action in ("accept", "put_away", "snooze", "done", "open_task") else None
        if action in ("put_away", "snooze"):
            return found is not None
        if action == "open_task":
            return found is not None and bool(found.task)
        if action in ("accept", "done"):
            return found is not None and (found.answer == "accepted") == (action == "done")
        return True

    @on(OptionList.OptionSelected, "#finding_list")
    def action_open_task(self) -> None:
        """Open the checklist that the finding leads to."""
        found = self.chosen
        if found is not None and found.task:
            self.app.open_job(found.task)

    def action_accept(self) -> None:
        """Take the finding on as a task."""
        self._say("accepted", "Taken on: it stands on Week until its job is done.")

    def action_done(self) -> None:
        """Mark the task done."""
        self._say("done", "Marked done.")

    def _say(self, answer: Answer, said: str) -> None:
        found, view = self.chosen, self.app.session.view
        if found is None:
            return
        try:
            event = answer_to(found, answer, view.today)
        except BadInput as problem:
            self.notify(str(problem), severity="warning", markup=False)
        else:
            self.app.record(event, said=said)

    @work(exclusive=True, group="dialog")
    async def action_put_away(self) -> None:
        """Put the finding away, with a reason."""
        from tui.dialogs.answer import dismiss_form

        if self.chosen is not None:
            await self._ask(dismiss_form(self.chosen, self.app.session.view), "Put away until a new reading shows it.")

    @work(exclusive=True, group="dialog")
    async def action_snooze(self) -> None:
        """Put the finding off until a day."""
        from tui.dialogs.answer import snooze_form

        if self.chosen is not None:
            await self._ask(snooze_form(self.chosen, self.app.session.view), "Put off.")

    async def _ask(self, form: Form[FindingAnswered], said: str) -> None:
        event = await self.app.push_screen_wait(form)
        if event:
            self.app.record(event, said=said)

    def action_close(self) -> None:
        """Go back to Week."""
        if self.app.screen is self:
            self.app.pop_screen()
