"""How events come to the disk from a full screen, and what happens where the disk does not take them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual import work
from textual.app import App

from model.errors import WellwardError
from tui.key_words import key
from tui.screens.area import AreaScreen

if TYPE_CHECKING:
    from model.records.events import AnyEvent
    from tui.view import Session


class RecordingApp(App[None]):
    """An app on one session. Nothing is said to be recorded that is not on the disk, and nothing is dropped."""

    def __init__(self, session: Session) -> None:
        super().__init__()
        self.session = session

    def record(self, *events: AnyEvent, said: str = "Saved.") -> bool:
        """Record events together and show the new view; where the file does not take them they wait in memory, which is
        said instead of `said`. False, with the reason shown, if nothing was recorded."""
        waited = len(self.session.unsaved)
        try:
            self.session.record(*events)
        except WellwardError as problem:
            self.session.drafts.recorded(done=False)
            self.notify(str(problem), title="Nothing was recorded", severity="error", markup=False, timeout=12)
            return False
        self.session.drafts.recorded(done=True)
        self.show_again()
        if said or (self.session.trouble and not waited):
            self.acknowledge(said)
        return True

    def acknowledge(self, said: str, title: str = "") -> None:
        """Say that something is recorded; or, where it is not on the disk, that and why."""
        trouble = self.session.trouble
        if trouble is None:
            self.notify(said, title=title, markup=False)
            return
        words = (
            f"{trouble} It is kept in memory and tried again each minute. {key('save_copy')} saves a copy elsewhere."
        )
        self.notify(words, title="Not on disk yet", severity="error", markup=False, timeout=12)

    def show_again(self) -> None:
        """Let every area of the present stack show the present view."""
        for screen in self.screen_stack:
            if isinstance(screen, AreaScreen):
                screen.refresh_view()

    def look_again(self) -> None:
        """Write what waits, take in a new day, or what another program wrote."""
        waited = self.session.unsaved
        try:
            self.session.refresh()
        except WellwardError as problem:
            # While something waits, a line on every area says so already.
            if not waited:
                self.notify(str(problem), title="The file could not be read", severity="error", markup=False)
        self.show_again()
        if waited and not self.session.unsaved:
            self.notify(f"All on disk again: {len(waited)} written.", markup=False)

    @work(exclusive=True, group="dialog")
    async def action_save_copy(self) -> None:
        """Ask for a file and write the home to it, with what waits in memory."""
        from tui.dialogs.unsaved import save_copy

        await save_copy(self)

    def leave_safely(self, *, ask: bool) -> None:
        """Leave, after one more try to write what waits. What is still in memory only is asked about, or where nobody
        can be asked written to a file of its own."""
        if self.session.unsaved:
            self.session.write()
        if self.session.unsaved and ask:
            self._ask_before_leaving()
            return
        self.last_copy()
        self.exit()

    @work(group="leaving")
    async def _ask_before_leaving(self) -> None:
        from tui.dialogs.unsaved import may_leave

        if await may_leave(self):
            self.exit()

    def last_copy(self) -> None:
        """Where nobody can be asked: write what is in no file to one of its own, wherever that can be done."""
        from tui.dialogs.unsaved import last_copy

        last_copy(self.session)
