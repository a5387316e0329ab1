"""A question with yes and no."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Button, Static

from tui.commands import bindings
from tui.dialogs.dialog import HELP, Dialog
from tui.dialogs.dialog_help import dialog_help
from tui.key_words import first_key


class Ask(Dialog[bool]):
    """Asks something; True for yes. Escape and n say no."""

    CSS_PATH = "ask.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("ask"), HELP]

    def __init__(self, question: str, words: str, *, yes: str = "Yes", no: str = "No") -> None:
        super().__init__()
        self._question = question
        self._words = words
        self._answers = ((yes, "ask.yes"), (no, "ask.no"))

    def compose(self) -> ComposeResult:
        """The question, what it is about, the two answers."""
        with Vertical(id="ask"):
            yield Static(Content.styled(self._question, "bold"), id="ask_question")
            with VerticalScroll(id="ask_words", can_focus=False):
                yield Static(Content(self._words))
            with Horizontal(id="ask_buttons"):
                yes, no = (f"{words} ({first_key(command)})" for words, command in self._answers)
                yield Button(Content(yes), id="ask_yes", variant="primary", compact=True)
                yield Button(Content(no), id="ask_no", compact=True)

    def action_answer(self, answer: bool) -> None:
        """Give the answer."""
        self.dismiss(answer)

    def action_help(self) -> None:
        """Say again what is asked, and the keys."""
        self.app.push_screen(dialog_help(self, self._question, [Content(self._words)]))

    def action_other(self) -> None:
        """Go to the other button."""
        self.focus_next()

    @on(Button.Pressed)
    def _pressed(self, event: Button.Pressed) -> None:
        self.dismiss(event.button.id == "ask_yes")
