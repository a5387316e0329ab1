"""What all areas share: they show the app's view and show it anew when it changes."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.screen import Screen
from textual.widget import Widget

from tui.commands import Area
from tui.widgets.frame import AreaBar, KeyBar, TooSmall

if TYPE_CHECKING:
    from textual.geometry import Size

    from tui.app import WellwardApp
    from tui.view import View


class AreaScreen(Screen[None]):
    """One mode of the program. A subclass composes only its own widgets and fills them in `show_view`.

    The frame (areas above, keys below) is put around them here. The keys come from `BINDINGS = bindings(AREA)`.
    """

    AREA: ClassVar[Area] = ""
    TAB: ClassVar[Area] = ""
    """The area it lies on, for a screen with keys of its own; empty for an area itself."""
    HELP_TEXT: ClassVar[str] = ""
    KEEPS_DIGITS: ClassVar[bool] = False
    """Readings are typed here: number keys do not go to other areas."""
    app: WellwardApp
    _shown: View | None = None

    async def mount_composed_widgets(self, widgets: list[Widget]) -> None:
        """Put the frame around what the subclass composed."""
        self._fit(self.app.size)
        self.area_bar = AreaBar(self.TAB or self.AREA)
        await super().mount_composed_widgets([self.area_bar, *widgets, KeyBar(), TooSmall()])

    def _fit(self, size: Size) -> None:
        """Take the classes of the terminal's size before the first layout, so that nothing is drawn twice."""
        across = self._get_breakpoint_classes(size.width, self.app.HORIZONTAL_BREAKPOINTS)
        down = self._get_breakpoint_classes(size.height, self.app.VERTICAL_BREAKPOINTS)
        self.add_class(*across, *down, update=False)

    def show_view(self, view: View) -> None:
        """Fill the widgets from the view. Called on first show and whenever the view changed while away."""

    def leave(self) -> bool:
        """Called before another area is shown or the program ends: keep what would be lost. False if that failed."""
        return True

    def heard(self) -> None:
        """Called at every key and click, before it does anything: what was told until the next key was told."""

    def on_mount(self) -> None:
        """Fill for the first time."""
        self.refresh_view()

    def on_screen_resume(self) -> None:
        """Fill again if something was recorded meanwhile."""
        if self.is_mounted:
            self.refresh_view()

    def refresh_view(self) -> None:
        """Show the app's present view unless it is already on screen."""
        view = self.app.session.view
        if view is not self._shown:
            self._shown = view
            self.area_bar.show_view(view, throwaway=self.app.session.throwaway)
            self.show_view(view)
