"""A short list to choose one thing from."""

from __future__ import annotations

from typing import ClassVar

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical
from textual.content import Content
from textual.widgets import OptionList, Static
from textual.widgets.option_list import Option

from tui.commands import bindings
from tui.dialogs.dialog import HELP, Dialog
from tui.dialogs.dialog_help import dialog_help


class Choices(OptionList):
    """The list. It has Enter for itself; here it is the dialog's, so that it is shown among the keys."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings("pick")]


class Pick(Dialog[str | None]):
    """Choices (value, words) below a title and a few words; answers with the value chosen, or none."""

    CSS_PATH = "form.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("pick"), HELP]

    def __init__(self, title: str, choices: tuple[tuple[str, str], ...], *, about: str = "", first: str = "") -> None:
        super().__init__()
        self._title = title
        self._choices = choices
        self._about = about
        self._first = first

    def compose(self) -> ComposeResult:
        """Title, words, the list."""
        with Vertical(id="form"):
            yield Static(Content.styled(self._title, "bold"), id="form_title")
            if self._about:
                yield Static(Content(self._about), id="form_about")
            yield Choices(*(Option(Content(words), id=value) for value, words in self._choices), id="form_choices")

    def on_mount(self) -> None:
        """Put the cursor on what is most likely."""
        values = [value for value, _ in self._choices]
        self.query_one(OptionList).highlighted = values.index(self._first) if self._first in values else 0

    @on(OptionList.OptionSelected)
    def _chosen(self, event: OptionList.OptionSelected) -> None:
        self.dismiss(event.option_id)

    def action_choose(self) -> None:
        """Take the highlighted line."""
        self.query_one(Choices).action_select()

    def action_help(self) -> None:
        """Say what is chosen here, and the keys."""
        self.app.push_screen(dialog_help(self, self._title, [Content(self._about)]))

    def action_back(self) -> None:
        """Leave without choosing."""
        self.dismiss(None)
