"""What `ctrl+p` finds: every command of the table, what is due, every job of the house."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import TYPE_CHECKING, NamedTuple, cast

from textual.command import DiscoveryHit, Hit, Hits, Provider
from textual.content import Content

from model.equipment.registry import title_of
from tui.commands import COMMANDS
from tui.jobs import job_rows, when_words
from tui.widgets.frame import works

if TYPE_CHECKING:
    from collections.abc import Awaitable, Callable

    from tui.app import WellwardApp


class Found(NamedTuple):
    """One thing to do: what it is called, what it is, how it is done."""

    text: str
    about: str
    do: Callable[[], Awaitable[object] | object]

    @property
    def shown(self) -> Content:
        """As a line, never read as markup."""
        return Content.assemble(self.text, (f"   {self.about}", "$foreground-muted"))


class WellwardCommands(Provider):
    """Commands of everywhere and of the present area, due jobs, then all jobs."""

    async def discover(self) -> Hits:
        """What is offered before anything is typed."""
        for found in (*self._jobs(due_only=True), *self._commands()):
            yield DiscoveryHit(found.shown, found.do, text=found.text)

    async def search(self, query: str) -> Hits:
        """What matches the words typed."""
        matcher = self.matcher(query)
        for found in (*self._commands(), *self._jobs(due_only=False)):
            score = matcher.match(f"{found.text} {found.about}")
            if score > 0:
                yield Hit(rank(query, found.text, found.about) + score, found.shown, found.do, text=found.text)

    def _commands(self) -> Iterator[Found]:
        areas = {"", getattr(self.screen, "AREA", "")}
        for one in COMMANDS:
            if (
                (one.area in areas or one.anywhere)
                and one.action != "command_palette"
                and works(self.screen, one.action)
            ):
                node = self.screen if one.area else self.app
                yield Found(
                    one.label, one.tells.removeprefix(f"{one.label}: "), partial(self.app.run_action, one.action, node)
                )

    def _jobs(self, *, due_only: bool) -> Iterator[Found]:
        app = cast("WellwardApp", self.app)
        view = app.session.view
        for row in job_rows(view):
            due = row.due
            if due_only and (due is None or due.state not in ("overdue", "this_week")):
                continue
            about = f"{title_of(row.stage)}, {when_words(row, view.today)}"
            yield Found(row.title, about, partial(app.open_job, row.task))


_RANK = 1000.0


def rank(query: str, title: str, about: str) -> float:
    """How well the words typed fit: words of the title first, then parts of it, then words of what is said about it."""
    words = query.casefold().split()
    for place, (text, whole) in enumerate(((title, True), (title, False), (about, True))):
        said = text.casefold()
        starts = "".join(mark if mark.isalnum() else " " for mark in said).split()
        if all(any(one.startswith(word) for one in starts) if whole else word in said for word in words):
            return _RANK * (3 - place)
    return 0.0
