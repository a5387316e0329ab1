"""A job that is saved as one goes: what is ticked and typed is never further away than a few seconds."""

from __future__ import annotations

from time import monotonic
from typing import TYPE_CHECKING

from textual import work
from textual.timer import Timer

from model.records.events import PausedService
from model.records.log import taking_back
from tui import jobs
from tui.screens.area import AreaScreen
from tui.widgets.steps import AskLine, StepLine

if TYPE_CHECKING:
    from tui.view import View

_SAVE_EVERY_S = 3.0


class HalfDone(AreaScreen):
    """The saving of a job's page: at a tick, every few seconds at most, and on leaving.

    `job_task` is what is begun, `what` its title; `pause` the event that holds what was last saved, `kept` what is in
    it, `opened` what was there at first.
    """

    def __init__(self, view: View, task: str, title: str) -> None:
        super().__init__()
        self.job_task = task
        self.what = title
        self.pause = jobs.paused(view, task)
        self.kept = self.opened = jobs.begun(self.pause)
        self.done = False
        self._saved_at = -_SAVE_EVERY_S
        self._to_save: Timer | None = None

    def look_for_end(self, view: View) -> None:
        """Start again where what was begun was taken back, or the job done, elsewhere."""
        if self.pause is not None and jobs.paused(view, self.job_task) is None:
            self.start_again()

    def state(self) -> jobs.Begun:
        """What is ticked, typed and waited for now; parts only where they differ from what was offered."""
        ticked = frozenset(step.place for step in self.query(StepLine) if step.ticked)
        typed = {line.field: line.typed.strip() for line in self.query(AskLine) if line.changed}
        waits = tuple(step.waiting.wait for step in self.query(StepLine) if step.waiting.wait is not None)
        return jobs.Begun(ticked, typed, waits)

    def leave(self) -> bool:
        """Keep what was ticked and typed, so that it is there again."""
        kept = self.save()
        if kept and not self.done and self.kept not in (self.opened, jobs.Begun()):
            self.opened = self.kept
            self.notify(f"Kept half-done: {self.what}.", markup=False)
        return kept

    def save_soon(self) -> None:
        """Save now, or after a few seconds where that was done just now."""
        wait = self._saved_at + _SAVE_EVERY_S - monotonic()
        if wait <= 0:
            self.save()
        elif self._to_save is None:
            self._to_save = self.set_timer(wait, self.save)

    def save(self) -> bool:
        """Save what is ticked and typed where it is not saved yet. False if that failed."""
        self._save_no_more()
        state = self.state()
        if self.done or state == self.kept:
            return True
        kept = self._record(state)
        if kept:
            self._saved_at, self.kept = monotonic(), state
            self.pause = jobs.paused(self.app.session.view, self.job_task)
        return kept

    def _record(self, state: jobs.Begun) -> bool:
        view = self.app.session.view
        if state != jobs.Begun():
            ticked = tuple(sorted(state.ticked))
            return self.app.record(
                PausedService(on=view.today, task=self.job_task, ticked=ticked, typed=state.typed, waits=state.waits),
                said="",
            )
        pause, self.pause = self.pause, None
        if pause is None or self.app.record(*taking_back(view.home, pause, view.today), said=""):
            return True
        self.pause = pause
        return False

    def _save_no_more(self) -> None:
        if self._to_save is not None:
            self._to_save.stop()
            self._to_save = None

    def start_again(self) -> None:
        """Show the page as new: what was begun was dropped, taken back, or done elsewhere."""
        self._save_no_more()
        self.pause, self.kept, self.opened = None, jobs.Begun(), jobs.Begun()
        for step in self.query(StepLine):
            step.untick()
        for line in self.query(AskLine):
            line.empty()

    @work(exclusive=True, group="dialog")
    async def action_drop(self) -> None:
        """Untick all and forget what was typed, after asking."""
        from tui.dialogs.ask import Ask

        state = self.state()
        if state == jobs.Begun():
            self.notify("Nothing is ticked or typed here.", markup=False)
            return
        words = f"{_count(len(state.ticked), 'tick')} and {_count(len(state.typed), 'value')} typed go."
        words += f" So does {_count(len(state.waits), 'wait')}." if state.waits else ""
        if await self.app.push_screen_wait(Ask("Drop what was begun?", words, yes="Drop", no="Keep")):
            self._save_no_more()
            if self._record(jobs.Begun()):
                self.start_again()


def _count(number: int, what: str) -> str:
    return f"{number} {what}{'' if number == 1 else 's'}"
