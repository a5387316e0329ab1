"""Set-up: the questions of the first run, one a page, until there is a home to open."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING, ClassVar

import msgspec
from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Button, Input, OptionList, Static

from model.errors import BadInput, WellwardError
from model.setup.assumed import assumed_paths
from model.setup.build import accept, default_of, start
from model.setup.question import UNKNOWN, Draft, Question
from model.setup.questions import questions, system_of
from tui.commands import bindings
from tui.key_words import key
from tui.widgets.frame import KeyBar, TooSmall
from tui.widgets.setup_page import SetupPage, Ticks

if TYPE_CHECKING:
    from model.store.first import FirstRun
    from tui.app import WellwardApp

_BAR = 24
_OF_APP = [replace(one, action=f"app.{one.action}") for one in bindings("") if one.id in ("help", "theme", "quit")]


class SetupScreen(ModalScreen[None]):
    """The set-up. What is answered is kept in a draft beside the home's file to be."""

    AREA = "setup"
    CSS_PATH = "setup.tcss"
    HORIZONTAL_BREAKPOINTS = [(0, "-tiny"), (60, "-narrow"), (110, "-wide"), (150, "-roomy")]  # noqa: RUF012
    VERTICAL_BREAKPOINTS = [(0, "-flat"), (20, "-short"), (32, "-tall")]  # noqa: RUF012
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("setup"), *_OF_APP]
    HELP_TEXT = (
        "Each page asks one thing; type or choose, and {setup.next} goes on. Nobody knows all of it: an empty "
        "field takes a usual value, which House marks until you change it. A unit may be typed behind any number. "
        "Escape goes back a page, and leaves from the first; {quit} leaves from any. What was answered is kept, "
        "and `wellward` goes on from there. Nothing is written before the last answer."
    )
    app: WellwardApp

    def __init__(self, first: FirstRun, today: date) -> None:
        super().__init__()
        self._first = first
        self._today = today
        self._draft = first.draft()

    def compose(self) -> ComposeResult:
        """How far, the question, what is wrong, the buttons for a mouse, and the keys."""
        yield Static(id="setup_head")
        yield VerticalScroll(id="setup_page", can_focus=False)
        yield Static(id="setup_problem")
        with Horizontal(id="setup_buttons"):
            yield Button("Next", id="setup_next", variant="primary", compact=True)
            yield Button("I don't know", id="setup_unknown", compact=True)
            yield Button("Back one", id="setup_previous", compact=True)
            yield Button("Leave", id="setup_leave", compact=True)
        yield KeyBar()
        yield TooSmall()

    async def on_mount(self) -> None:
        """Show the first question, or the one at which it was left."""
        await self._show(self._draft.typed or None)

    async def on_unmount(self) -> None:
        """Keep what was answered, also where the terminal is lost."""
        with suppress(WellwardError):
            self._keep()

    @property
    def _place(self) -> int:
        ids = [one.id for one in questions(self._draft.answers)]
        return ids.index(self._draft.at) if self._draft.at in ids else 0

    async def _show(self, typed: str | None = None) -> None:
        asked, place = questions(self._draft.answers), self._place
        question = asked[place]
        with suppress(BadInput):
            question = default_of(question, self._draft.answers, self._today)
        answer = self._draft.answers.get(question.id, UNKNOWN) if typed is None else typed
        self._say("")
        done = round(_BAR * (place + 1) / len(asked))
        bar = f"[{'#' * done}{'.' * (_BAR - done)}]"
        head = Content.assemble((" Set up your well ", "bold"), f"  {place + 1} of {len(asked)}  {bar}")
        self.query_one("#setup_head", Static).update(head)
        holder = self.query_one("#setup_page", VerticalScroll)
        await holder.remove_children()
        await holder.mount(SetupPage(question, answer, system_of(self._draft.answers)))
        self.query_one("#setup_previous").display = place > 0
        self._focus_answer()
        self.refresh_bindings()

    def _focus_answer(self) -> None:
        for widget in (*self.query("#setup_typed"), *self.query("#setup_list")):
            widget.focus(scroll_visible=False)  # the question stays in view
            return

    def _say(self, problem: str) -> None:
        self.query_one("#setup_problem", Static).update(Content(problem))

    @on(SetupPage.Answered)
    async def _take(self, event: SetupPage.Answered) -> None:
        event.stop()
        await self._answered(event.question, event.text)

    @on(SetupPage.Missing)
    def _ask_unit(self, event: SetupPage.Missing) -> None:
        event.stop()
        self._say(event.words)

    async def _answered(self, question: Question, text: str) -> None:
        asked = questions(self._draft.answers)
        if asked[self._place].id != question.id:
            return
        try:
            answers = accept(self._draft.answers, question, text, self._today)
        except BadInput as problem:
            self._say(f"Not taken. {problem}")
            return
        coming = questions(answers)
        place = [one.id for one in coming].index(question.id) + 1
        if place == len(coming):
            self._draft = Draft(answers, question.id)
            self._finish()
            return
        self._draft = Draft(answers, coming[place].id)
        await self._show()

    def _finish(self) -> None:
        """Write the home and show Week."""
        house, events = start(self._draft.answers, self._today)
        try:
            self.app.session.begin(house, events)
        except WellwardError as problem:
            self._say(f"Not written. {problem}")
            return
        count = len(assumed_paths(events))
        marked = f" {count} settings are usual values; House marks them with “?”." if count else ""
        self.app.notify(f"Your home is set up.{marked}", markup=False)
        self.dismiss()

    @property
    def _page(self) -> SetupPage:
        return self.query_one(SetupPage)

    @on(Button.Pressed, "#setup_next")
    def action_take_answer(self) -> None:
        """Take what stands on the page."""
        self._page.answer()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Ticks are only on the page that has some; from the second page on there is one to go back to."""
        if action in ("previous", "leave_setup"):
            return (self._place > 0) == (action == "previous")
        return action != "tick" or any(page.question.kind == "ticks" for page in self.query(SetupPage))

    def action_tick(self) -> None:
        """Tick or untick the highlighted line."""
        for ticks in self.query(Ticks):
            ticks.turn()
        self._note()

    @on(Button.Pressed, "#setup_unknown")
    async def action_not_known(self) -> None:
        """Answer that nobody knows."""
        await self._answered(self._page.question, UNKNOWN)

    @on(Button.Pressed, "#setup_previous")
    async def action_previous(self) -> None:
        """Show the question before."""
        place = self._place
        if place:
            self._draft = Draft(self._draft.answers, questions(self._draft.answers)[place - 1].id)
            await self._show()

    @on(Button.Pressed, "#setup_leave")
    def action_leave_setup(self) -> None:
        """Keep what was answered and leave the program."""
        try:
            self._keep()
        except WellwardError as problem:
            self._say(f"Not kept. {problem} {key('quit')} leaves all the same.")
            return
        self.app.exit(message="Your answers are kept. `wellward` goes on with the set-up from there.")

    @on(Input.Changed)
    @on(OptionList.OptionHighlighted)
    def _note(self) -> None:
        """Take what stands on the page into the draft: when the screen goes, its page is gone already."""
        for page in self.query(SetupPage):
            if page.question.id == questions(self._draft.answers)[self._place].id:
                self._draft = msgspec.structs.replace(self._draft, at=page.question.id, typed=page.typed)

    def _keep(self) -> None:
        self._note()
        if self._draft.answers or self._draft.typed:
            self._first.keep(self._draft)
