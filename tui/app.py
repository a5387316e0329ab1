"""The full screen: seven areas, one table of keys, and one way in for events."""

from __future__ import annotations

import gc
import os
import sys
from collections.abc import Callable
from contextlib import suppress
from importlib import import_module
from pathlib import PurePath
from time import monotonic
from typing import TYPE_CHECKING, ClassVar

import msgspec
from rich.cells import cell_len
from textual import events, work
from textual.app import App
from textual.binding import BindingType
from textual.constants import DRIVER
from textual.screen import Screen

from model.errors import WellwardError
from tui.asking_app import AskingApp
from tui.commands import AREAS, Area, bindings
from tui.lost import keep_when_lost, watch_the_line, write_nowhere
from tui.screens.area import AreaScreen
from tui.settings import Settings, read_settings, remember_theme, remembered_theme, settings_path
from tui.themes import DARK, THEMES, other
from tui.waits import OtherWaits
from tui.widgets.cells import plain_terminal
from tui.widgets.frame import NAME, SMALLEST, KeyBar
from tui.widgets.harmless import Harmless
from tui.widgets.plain import Plain

if TYPE_CHECKING:
    from collections.abc import Sequence
    from queue import Queue

    from rich.console import RenderableType
    from textual.command import Provider
    from textual.drivers._writer_thread import WriterThread
    from textual.filter import LineFilter
    from textual.notifications import SeverityLevel
    from textual.timer import Timer

    from model.store.rescue import Found
    from tui.screens.job import JobScreen
    from tui.screens.monthly_round import RoundScreen
    from tui.view import Session

_A_MINUTE = 60.0
_A_SECOND = 1.0
_IDLE_S = 3.0
_SAID_FOR_S = 8.0
_MUCH_GARBAGE = 10_000
_QUIT_KEY = "ctrl+q"  # as in the table of commands
_TOLD_FOR_S = 10.0
_HARMLESS, _PLAIN = Harmless(), Plain()


def _area(name: str) -> Callable[[], Screen[object]]:
    """A screen that is imported only when it is first shown."""

    def make() -> Screen[object]:
        made: Screen[object] = getattr(import_module(f"tui.screens.{name}"), f"{name.capitalize()}Screen")()
        # It takes the present styles as it is mounted: Textual would work out those of every screen again.
        made._css_update_count = made.app._css_update_count
        return made

    return make


def _tidy() -> None:
    """Look for garbage while nobody waits, so that no key has to."""
    if gc.get_count()[0] > _MUCH_GARBAGE:
        gc.collect(0)


def _palette() -> type[Provider]:
    from tui.palette import WellwardCommands

    return WellwardCommands


class WellwardApp(AskingApp, inherit_bindings=False):
    """The program on a full screen. Screens show the session's view and send events to `record`."""

    TITLE = "wellward"
    CSS_PATH: ClassVar[list[str | PurePath]] = ["app.tcss", "screens/week.tcss"]
    """With the first area's, which would otherwise have all of them read again before anything is shown."""
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("")]
    MODES: ClassVar[dict[str, str | Callable[[], Screen[object]]]] = {area: _area(area) for area, _, _ in AREAS}
    DEFAULT_MODE = "week"
    COMMANDS: ClassVar[set[type[Provider] | Callable[[], type[Provider]]]] = {_palette}
    HORIZONTAL_BREAKPOINTS = [(0, "-tiny"), (60, "-narrow"), (110, "-wide"), (150, "-roomy")]  # noqa: RUF012
    VERTICAL_BREAKPOINTS = [(0, "-flat"), (20, "-short"), (32, "-tall")]  # noqa: RUF012

    def __init__(
        self,
        session: Session,
        settings: Settings = Settings(),  # noqa: B008  frozen
        remember: Callable[[str], None] = lambda theme: None,
    ) -> None:
        """`remember` is told the name of a palette that was chosen on screen."""
        super().__init__(session)
        self._problems = settings.problems
        self._remember = remember
        self.changed_keys = settings.keys
        self._quit = settings.keys.get("quit", _QUIT_KEY).split(",")
        self._warned = self._lost = False
        self.said = ""
        self._said_ends: Timer | None = None
        self._told_at = -_TOLD_FOR_S
        for theme in THEMES:
            self.register_theme(theme)
        # Set before the first paint, so that the style sheets are worked out once.
        if self.theme == "textual-dark":
            self.set_reactive(App.theme, f"{NAME}-{settings.theme}" if settings.theme else DARK)
            # Worked out before there was a theme: whether colours are left to the terminal.
            self._refresh_truecolor_filter(self.ansi_theme)
            self.stylesheet.set_variables(self.get_css_variables())
        if settings.keys:
            self.set_keymap(settings.keys)

    def on_mount(self) -> None:
        """Look once a minute whether the day or the file changed, and leave well where the terminal goes away.

        Say which settings were left out, and ask about copies and the questions of the set-up before the rest.
        """
        self.set_interval(_A_MINUTE, self.look_again)
        self.set_interval(_IDLE_S, _tidy)
        self.set_interval(_A_SECOND, OtherWaits(self).look)
        keep_when_lost(self.terminal_lost)
        if not self.is_headless:
            watch_the_line(self.terminal_lost, self._not_written)
        self._tell_problems()
        if found := self.session.copies():
            self._ask_about_copies(found)
        else:
            self._set_up()

    @work(group="dialog")
    async def _ask_about_copies(self, found: tuple[Found, ...]) -> None:
        from tui.dialogs.copies import offer_copies

        await offer_copies(self, found)
        self._set_up()

    def _set_up(self) -> None:
        if self.session.first is not None:
            from tui.screens.setup import SetupScreen

            self.push_screen(SetupScreen(self.session.first, self.session.view.today))

    def _tell_problems(self) -> None:
        if self._problems:
            more = f"\nand {len(self._problems) - 3} more: see `wellward settings`" if self._problems[3:] else ""
            told = "\n".join(self._problems[:3]) + more
            self.notify(told, title="Settings left out", severity="warning", markup=False, timeout=12)

    def get_line_filters(self) -> Sequence[LineFilter]:
        """As Textual has them, no control marks, and plain marks where the terminal has no others."""
        return [*super().get_line_filters(), _HARMLESS, *([_PLAIN] if plain_terminal() else [])]

    async def on_event(self, event: events.Event) -> None:
        """Where the terminal is too small to show anything, no key does anything but leave."""
        if (
            isinstance(event, events.Key | events.Paste)
            and self._too_small
            and getattr(event, "key", "") not in self._quit
        ):
            return
        if isinstance(event, events.Key | events.MouseDown):
            if self.said:
                self._say("")
            for screen in self.screen_stack:
                if isinstance(screen, AreaScreen):
                    screen.heard()
        await super().on_event(event)

    def _say(self, words: str) -> bool:
        """Show words in the bar of keys until the next key or click, for some seconds at most. False where they do not
        fit, or there is no bar."""
        bars = [bar for screen in self.screen_stack for bar in screen.query(KeyBar)]
        if not bars or "\n" in words or cell_len(words) + 2 > self.size.width:
            return False
        if self._said_ends is not None:
            self._said_ends.stop()
        if words != self.said:
            self.said = words
            bars[-1].draw(bars[-1].screen)
        self._said_ends = self.set_timer(_SAID_FOR_S, lambda: self._say("")) if words else None
        return True

    def notify(
        self,
        message: str,
        *,
        title: str = "",
        severity: SeverityLevel = "information",
        timeout: float | None = None,
        markup: bool = True,
    ) -> None:
        """Say it in the bar of keys where it is short and nothing is wrong; else in a box of its own."""
        said = f"{title}: {message}" if title else message
        if severity != "information" or not self._say(said):
            super().notify(message, title=title, severity=severity, timeout=timeout, markup=markup)

    @property
    def _too_small(self) -> bool:
        return self.size.width < SMALLEST[0] or self.size.height < SMALLEST[1]

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
        await self._lay_on("service", JobScreen(view, row, came_from))

    @work(exclusive=True, group="job")
    async def show_plot(self, trend: str) -> None:
        """Show one plot of Trends, on Water."""
        from tui.screens.trends import TrendsScreen

        if self._leave():
            await self._lay_on("water", TrendsScreen(trend))

    @work(exclusive=True, group="job")
    async def action_round(self) -> None:
        """Show the monthly round, over Week."""
        from tui.screens.monthly_round import RoundScreen

        if not self._leave() or isinstance(self.screen, RoundScreen):
            return
        view = self.session.view
        await self._lay_on("week", RoundScreen(view))

    async def _lay_on(self, area: Area, screen: Screen[None] | None = None) -> None:
        """Show an area with one screen on it, or with none."""
        await self.switch_mode(area)
        while len(self.screen_stack) > 1:
            await self.pop_screen()
        if screen is not None:
            await self.push_screen(screen)

    @work(exclusive=True, group="job")
    async def go_and_do(self, area: Area, action: str) -> None:
        """Go to an area and do something there."""
        if self._leave():
            await self._lay_on(area)
            await self.run_action(action, self.screen)

    @work(group="job")
    async def close_round(self, screen: RoundScreen) -> None:
        """Go back to Week."""
        if self.screen is screen:
            await self.pop_screen()

    @work(exclusive=True, group="job")
    async def lay_on_week(self, name: str, first: str = "") -> None:
        """Show a screen that lies on Week: the playbooks, at a line of theirs, or the visits."""
        from tui.screens.events import EventsScreen
        from tui.screens.visit import VisitScreen

        if not self._leave():
            return
        await self._lay_on("week", EventsScreen(first) if name == "events" else VisitScreen())

    @work(exclusive=True, group="job")
    async def action_what_if(self) -> None:
        """Show settings otherwise beside today's, over Costs."""
        from tui.screens.what_if import WhatIfScreen

        if isinstance(self.screen, WhatIfScreen) or not self._leave():
            return
        await self._lay_on("costs", WhatIfScreen())

    def action_lay_on_week(self, name: str) -> None:
        """The same, by a key."""
        self.lay_on_week(name)

    @work(exclusive=True, group="job")
    async def go_from_guide(self, to: str) -> None:
        """Leave the guide for an area ("water"), a view of one ("water:mix"), or a job."""
        await self.pop_screen()
        if "." in to:
            self.open_job(to)
            return
        area, _, name = to.partition(":")
        await self.action_go(area)
        if name and self.area == area:
            from tui.screens.water_view import open_view

            open_view(self, name)

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

    async def action_jump(self, area: str) -> None:
        """Show an area, unless a digit may have been meant for a reading."""
        if not (isinstance(self.screen, AreaScreen) and self.screen.KEEPS_DIGITS):
            await self.action_go(area)
        elif monotonic() > self._told_at + _TOLD_FOR_S:
            self._told_at = monotonic()
            self.notify(
                "Number keys do nothing on a job's page. Escape leaves it; what is ticked is kept.", markup=False
            )

    async def action_quit(self) -> None:
        """Leave, keeping what was begun. Where that cannot be kept, only when asked twice."""
        if not (self._leave() or self._warned):
            self._warned = True
            self.notify("Once more leaves without keeping it.", severity="warning", markup=False)
        else:
            self.leave_safely(ask=not self._too_small)

    def terminal_lost(self) -> None:
        """Keep what was begun and leave, once: nobody is there to be asked."""
        if self._lost:
            return
        self._lost = True
        self._leave()
        self.last_copy()
        if not self.is_headless:
            write_nowhere()
        self.exit()

    def _not_written(self) -> Queue[str | None] | None:
        """What waits for Textual's thread that writes, once that has ended by a lost terminal."""
        writer: WriterThread | None = getattr(self._driver, "_writer_thread", None)
        return None if writer is None or writer.is_alive() else writer._queue

    def panic(self, *renderables: RenderableType) -> None:
        """Textual's way out after a failure, a read from a lost terminal too: what was begun is kept first."""
        with suppress(Exception):
            self._leave()
        with suppress(Exception):
            self.last_copy()
        super().panic(*renderables)

    def action_theme(self) -> None:
        """Switch between dark, light and the terminal's own colours, also for the next start."""
        self.theme = other(self.theme)
        self._remember(self.theme.removeprefix(f"{NAME}-"))

    def action_guide(self, question: str = "") -> None:
        """Show what owners ask, answered for this home; at a question, or at the first."""
        from tui.screens.guide import GuideScreen

        if not isinstance(self.screen, GuideScreen):
            self.push_screen(GuideScreen(question))
        elif question:
            self.screen.turn_to(question)

    def action_help(self, about: str = "") -> None:
        """Show what can be done here, or what an area is for."""
        from tui.dialogs.help import area_help, help_page

        self.push_screen(area_help(about) if about else help_page(self.screen))


def settings_at_start() -> Settings:
    """The settings file; where it names no palette, the one last chosen. Plain marks are handed on to all drawing."""
    found = read_settings(settings_path())
    # A browser can draw all marks, whatever the terminal that serves it can.
    plain = False if DRIVER and found.ascii_only is None else found.ascii_only
    if plain is not None:
        os.environ.setdefault("WELLWARD_ASCII", "1" if plain else "0")
    return found if found.theme else msgspec.structs.replace(found, theme=remembered_theme())


def run(session: Session) -> int:
    """Show the full screen until the user leaves. Gives the exit code.

    Raises:
        WellwardError: there is no terminal to show it in.
    """
    # In a browser there is a driver of its own instead of a terminal.
    streams = () if DRIVER else (sys.__stdin__, sys.__stdout__, sys.__stderr__)
    if not all(stream is not None and stream.isatty() for stream in streams):
        raise WellwardError("The full screen needs a terminal.", "Try `wellward due`.")
    app = WellwardApp(session, settings_at_start(), remember_theme)
    app.run()
    if session.unsaved:
        from tui.dialogs.unsaved import left_words

        print(f"wellward: {left_words(session)}", file=sys.stderr)
    return app.return_code or 0
