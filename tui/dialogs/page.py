"""A page to read."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.widgets import Static

from tui.commands import bindings
from tui.dialogs.dialog import HELP, Dialog


class Page(Dialog[None]):
    """Shows words under a title."""

    CSS_PATH = "page.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("page"), HELP]

    def __init__(self, title: str, words: Content) -> None:
        super().__init__()
        self._title = title
        self.words = words

    def compose(self) -> ComposeResult:
        """The title, and one text to scroll."""
        with Vertical(id="page"):
            yield Static(Content.styled(self._title, "bold"), id="page_title")
            with VerticalScroll(id="page_words"):
                yield Static(self.words)

    def action_help(self) -> None:
        """Say what can be done on a page."""
        from tui.dialogs.dialog_help import dialog_help

        self.app.push_screen(dialog_help(self, self._title, []))

    def action_back(self) -> None:
        """Go back."""
        self.dismiss(None)


class HelpPage(Page):
    """Help itself, which has none of its own."""

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Everything but help."""
        return action != "help"
