"""Visit: the coming jobs that need the water off, as a plan for a day."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.events import Resize
from textual.widgets import Static

from model.forecast.visits import WITHIN_DAYS, visits
from tui.commands import bindings
from tui.screens.area import AreaScreen
from tui.widgets.visit_words import RESTS, visit_words

if TYPE_CHECKING:
    from tui.view import View

_WIDEST = 100
_DAYS = (WITHIN_DAYS, 30, 60, 7)


class VisitScreen(AreaScreen):
    """The visits of the coming days. It lies on Week; Escape goes back."""

    AREA = "week"
    AUTO_FOCUS = ""
    CSS_PATH = "visit.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("visit")]
    HELP_TEXT = (
        f"{RESTS} {{visit.days}} looks further ahead: 14, 30, 60 or 7 days. Each job has its own checklist under "
        "Service."
    )

    def __init__(self) -> None:
        super().__init__()
        self._place = 0

    def compose(self) -> ComposeResult:
        """One text to scroll."""
        with VerticalScroll(id="visit"):
            yield Static(id="visit_head")
            yield Static(id="visit_words")

    def show_view(self, view: View) -> None:
        """Put the visits into words."""
        days = _DAYS[self._place]
        self.query_one("#visit").focus(scroll_visible=False)
        width = min(max(self.app.size.width - 4, 20), _WIDEST)
        found = visits(view.situation, view.plan, days)
        self.query_one("#visit_head", Static).update(f"Work with the water off, the next {days} days")
        self.query_one("#visit_words", Static).update(visit_words(found, view, days, width))

    def on_resize(self, event: Resize) -> None:
        """Break the lines for the new width."""
        if self._shown is not None:
            self.show_view(self._shown)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """What Week can do besides is not offered here."""
        return hasattr(self, f"action_{action}")

    def action_days(self) -> None:
        """Look further ahead, and after the furthest near again."""
        self._place = (self._place + 1) % len(_DAYS)
        if self._shown is not None:
            self.show_view(self._shown)
            self.query_one("#visit").scroll_home(animate=False)

    def action_close(self) -> None:
        """Go back to Week."""
        if self.app.screen is self:
            self.app.pop_screen()
