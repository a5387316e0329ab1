"""Waits of jobs that are not on screen: they ring all the same."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model.records.events import Wait
from model.upkeep.waits import is_running, left_s

if TYPE_CHECKING:
    from tui.app import WellwardApp

Known = tuple[str, Wait]


class OtherWaits:
    """Looks at the waits of all half-done jobs, and rings once for each that ends while its page is not open."""

    def __init__(self, app: WellwardApp) -> None:
        self._app = app
        self._running: set[Known] = set()

    def look(self) -> None:
        """Ring for what has ended since the last look."""
        if not (waits := self._app.session.view.waits):
            self._running = set()
            return
        from tui.screens.half_done import HalfDone  # only a home with waits pays for it

        now = self._app.session.moment()
        open_tasks = {screen.job_task for screen in self._app.screen_stack if isinstance(screen, HalfDone)}
        known = {one for one in waits if one[0] not in open_tasks}
        ended = {one for one in known & self._running if left_s(one[1], now) <= 0.0}
        self._running = {one for one in known if is_running(one[1], now)}
        if ended:
            self._app.bell()
            self._app.notify(self._words(min(ended, key=lambda one: (one[0], one[1].step))), markup=False)

    def _words(self, one: Known) -> str:
        from tui.jobs import find_job

        row = find_job(self._app.session.view, one[0])
        return f"The wait of step {one[1].step + 1} is over: {row.title if row else one[0]}."
