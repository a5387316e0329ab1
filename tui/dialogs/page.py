"""A page to read."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static


class Page(ModalScreen[None]):
    """Shows words under a title. Escape goes back."""

    CSS_PATH = "page.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape,enter,q", "back", "Back")]

    def __init__(self, title: str, words: Content) -> None:
        super().__init__()
        self._title = title
        self._words = words

    def compose(self) -> ComposeResult:
        """The title, and one text to scroll."""
        with Vertical(id="page"):
            yield Static(Content.assemble((self._title, "bold"), "   (Escape goes back)"), id="page_title")
            with VerticalScroll(id="page_words"):
                yield Static(self._words)

    def action_back(self) -> None:
        """Go back."""
        self.dismiss(None)
