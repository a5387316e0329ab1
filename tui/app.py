"""The full screen: seven areas, one table of keys, and one way in for events."""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from typing import TYPE_CHECKING, ClassVar

from textual import work
from textual.app import App
from textual.binding import BindingType
from textual.screen import Screen

from model.errors import WellwardError
from tui.commands import AREAS, Area, bindings
from tui.screens.area import AreaScreen
from tui.themes import DARK, THEMES, other

if TYPE_CHECKING:
    from textual.command import Provider

    from model.records.events import AnyEvent
    from tui.screens.job import JobScreen
    from tui.view import Session

_A_MINUTE = 60.0


def _area(name: str) -> Callable[[], Screen[object]]:
    """A screen that is imported only when it is first shown."""

    def make() -> Screen[object]:
        made: Screen[object] = getattr(import_module(f"tui.screens.{name}"), f"{name.capitalize()}Screen")()
        return made

    return make


def _palette() -> type[Provider]:
    from tui.palette import WellwardCommands

    return WellwardCommands


class WellwardApp(App[None], inherit_bindings=False):
    """The program on a full screen. It holds the session; screens show its view and send events to `record`."""

    TITLE = "wellward"
    CSS_PATH = "app.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("")]
    MODES: ClassVar[dict[str, str | Callable[[], Screen[object]]]] = {area: _area(area) for area, _, _ in AREAS}
    DEFAULT_MODE = "week"
    COMMANDS: ClassVar[set[type[Provider] | Callable[[], type[Provider]]]] = {_palette}
    HORIZONTAL_BREAKPOINTS = [(0, "-tiny"), (60, "-narrow"), (110, "-wide"), (150, "-roomy")]  # noqa: RUF012
    VERTICAL_BREAKPOINTS = [(0, "-flat"), (20, "-short"), (32, "-tall")]  # noqa: RUF012

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session
        self._warned = False
        for theme in THEMES:
            self.register_theme(theme)
        # Set before the first paint, so that the style sheets are worked out once.
        if self.theme == "textual-dark":
            self.set_reactive(App.theme, DARK)

    def on_mount(self) -> None:
        """Look once a minute whether the day or the file changed."""
        self.set_interval(_A_MINUTE, self.look_again)

    # What screens send

    def record(self, *events: AnyEvent, said: str = "Saved.") -> bool:
        """Record events together and show the new view. False, with the reason shown, if nothing was recorded."""
        try:
            self.session.record(*events)
        except WellwardError as problem:
            self.notify(str(problem), title="Nothing was recorded", severity="error", markup=False, timeout=12)
            return False
        self.show_again()
        if said:
            self.notify(said, markup=False)
        return True

    def show_again(self) -> None:
        """Let every area of the present stack show the present view."""
        for screen in self.screen_stack:
            if isinstance(screen, AreaScreen):
                screen.refresh_view()

    def look_again(self) -> None:
        """Take in a new day, or what another program wrote."""
        try:
            self.session.refresh()
        except WellwardError as problem:
            self.notify(str(problem), title="The file could not be read", severity="error", markup=False)
        else:
            self.show_again()

    @work(exclusive=True, group="job")
    async def open_job(self, task: str) -> None:
        """Show the page of one job, in the Service area."""
        from tui.jobs import find_job
        from tui.screens.job import JobScreen

        if not self._leave():
            return
        view, came_from = self.session.view, self.area
        row = find_job(view, task)
        if row is None:
            self.notify(f"This house has no job {task}.", severity="warning", markup=False)
            return
        await self.switch_mode("service")
        while len(self.screen_stack) > 1:
            await self.pop_screen()
        await self.push_screen(JobScreen(view, row, came_from))

    @work(group="job")
    async def close_job(self, screen: JobScreen) -> None:
        """Go back to where the job was opened from."""
        if self.screen is screen:
            await self.pop_screen()
            await self.switch_mode(screen.came_from)

    @property
    def area(self) -> Area:
        """The area on screen."""
        return next((area for area, _, _ in AREAS if area == self.current_mode), "week")

    def _leave(self) -> bool:
        """Let the areas shown keep what would be lost. False if one could not."""
        return all(screen.leave() for screen in self.screen_stack if isinstance(screen, AreaScreen))

    # What the keys do

    async def action_go(self, area: str) -> None:
        """Show an area."""
        if not self._leave():
            return
        if area != self.current_mode:
            await self.switch_mode(area)
        elif len(self.screen_stack) > 1:
            self.pop_screen()

    async def action_quit(self) -> None:
        """Leave, keeping what was begun. Where that cannot be kept, only when asked twice."""
        if self._leave() or self._warned:
            self.exit()
        else:
            self._warned = True
            self.notify("Once more leaves without keeping it.", severity="warning", markup=False)

    def action_theme(self) -> None:
        """Switch between dark and light."""
        self.theme = other(self.theme)

    @work(exclusive=True, group="dialog")
    async def action_reading(self) -> None:
        """Ask for a reading and record it."""
        from tui.dialogs.reading import record_reading

        await record_reading(self)

    @work(exclusive=True, group="dialog")
    async def action_undo(self) -> None:
        """Take back the last thing recorded, after asking."""
        from tui.dialogs.undo import take_back_last

        await take_back_last(self)

    def action_help(self) -> None:
        """Show what can be done here."""
        from tui.dialogs.help import help_page

        self.push_screen(help_page(self.screen))


def run(session: Session) -> int:
    """Show the full screen until the user leaves. Gives the exit code."""
    app = WellwardApp(session)
    app.run()
    return app.return_code or 0
