"""What all dialogs share: a bar of keys of their own, so that the mouse can do what they do, and leave."""

from __future__ import annotations

from typing import TypeVar

from textual.binding import Binding
from textual.screen import ModalScreen
from textual.widget import Widget

from tui.widgets.frame import KeyBar, TooSmall

T = TypeVar("T")

HELP = Binding(
    "question_mark,f1", "help", "Help", id="help", key_display="?", tooltip="What this is about, and the keys"
)
"""The keys of help in a dialog; while typing only F1 works. An owner's key for help counts here too."""


class Dialog(ModalScreen[T]):
    """A question, form or page over a screen. A subclass composes only its own widgets."""

    async def mount_composed_widgets(self, widgets: list[Widget]) -> None:
        """Put the bar of keys below what the subclass composed."""
        await super().mount_composed_widgets([*widgets, KeyBar(), TooSmall()])
