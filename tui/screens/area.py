"""What all areas share: they show the app's view and show it anew when it changes."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.screen import Screen

from tui.commands import Area

if TYPE_CHECKING:
    from tui.app import WellwardApp
    from tui.view import View


class AreaScreen(Screen[None]):
    """One mode of the program. A subclass composes its widgets and fills them in `show_view`."""

    AREA: ClassVar[Area] = ""
    HELP_TEXT: ClassVar[str] = ""
    app: WellwardApp  # type: ignore[assignment]

    def show_view(self, view: View) -> None:
        """Fill the widgets from the view. Called on first show and whenever the view changed while away."""

    def on_mount(self) -> None:
        """Fill for the first time."""
        self._shown: View | None = None
        self.refresh_view()

    def on_screen_resume(self) -> None:
        """Fill again if something was recorded meanwhile."""
        self.refresh_view()

    def refresh_view(self) -> None:
        """Show the app's present view unless it is already on screen."""
        view = self.app.session.view
        if view is not self._shown:
            self._shown = view
            self.show_view(view)
