"""What `ctrl+p` finds: commands, jobs, supplies, readings, questions of the guide and help, by any word."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import TYPE_CHECKING, NamedTuple, cast

from textual.command import DiscoveryHit, Hit, Hits, Provider
from textual.content import Content

from model.equipment.registry import title_of
from tui.commands import AREAS, COMMANDS, Command
from tui.jobs import job_rows, when_words
from tui.widgets.frame import works

if TYPE_CHECKING:
    from collections.abc import Awaitable, Callable

    from tui.app import WellwardApp


_TITLES: dict[str, str] = {area: title for area, title, _ in AREAS}


class Found(NamedTuple):
    """One thing to do: what it is called, what it is, how it is done; `words` that find it and are not shown."""

    text: str
    about: str
    do: Callable[[], Awaitable[object] | object]
    words: str = ""

    @property
    def shown(self) -> Content:
        """As a line, never read as markup."""
        return Content.assemble(self.text, (f"   {self.about}", "$foreground-muted"))


class WellwardCommands(Provider):
    """Commands of everywhere and of the present area, due jobs, then whatever has the words typed."""

    async def discover(self) -> Hits:
        """What is offered before anything is typed."""
        for found in (*self._jobs(due_only=True), *self._commands(typed=False)):
            yield DiscoveryHit(found.shown, found.do, text=found.text)

    async def search(self, query: str) -> Hits:
        """What matches the words typed."""
        matcher = self.matcher(query)
        for found in self._all():
            fits = rank(query, found.text, found.about, found.words)
            score = matcher.match(f"{found.text} {found.about}")
            if fits or score > 0:
                yield Hit(fits + score, found.shown, found.do, text=found.text)

    def _all(self) -> Iterator[Found]:
        from tui.palette_things import guide, helps, plots, readings, supplies

        app = self._app
        yield from self._commands(typed=True)
        yield from self._jobs(due_only=False)
        for things in (supplies, plots, readings, guide, helps):
            yield from things(app)

    @property
    def _app(self) -> WellwardApp:
        return cast("WellwardApp", self.app)

    def _commands(self, *, typed: bool) -> Iterator[Found]:
        """What can be done here; once words are typed also what needs going to another area first."""
        active = {one.binding.id for one in self.screen.active_bindings.values()}
        for one in COMMANDS:
            if one.action == "command_palette":
                continue
            do: Callable[[], Awaitable[object] | object]
            if one.anywhere or not one.area or (one.id in active and works(self.screen, one.action)):
                do = partial(self.app.run_action, one.action, self.screen if one.area else self.app)
            elif typed and one.by_going and self._something(one):
                do = partial(self._app.go_and_do, one.area, one.action)
            else:
                continue
            yield Found(one.label, one.tells.removeprefix(f"{one.label}: "), do, _TITLES.get(one.area, ""))

    def _something(self, one: Command) -> bool:
        """Whether there is anything to see where a command goes."""
        return one.id != "week.findings" or bool(self._app.session.view.plan.findings)

    def _jobs(self, *, due_only: bool) -> Iterator[Found]:
        app = self._app
        view = app.session.view
        for row in job_rows(view):
            due = row.due
            if due_only and (due is None or due.state not in ("overdue", "this_week")):
                continue
            about = f"{title_of(row.stage)}, {when_words(row, view.today)}"
            yield Found(row.title, about, partial(app.open_job, row.task))


_RANK = 1000.0


def rank(query: str, title: str, about: str, words: str = "") -> float:
    """How well the words typed fit: words of the title first, then parts of it, words of what is said about it, and
    last words that are not shown."""
    typed = query.casefold().split()
    for place, (text, whole) in enumerate(((title, True), (title, False), (about, True), (f"{about} {words}", True))):
        said = text.casefold()
        starts = "".join(mark if mark.isalnum() else " " for mark in said).split()
        if typed and all(any(one.startswith(word) for one in starts) if whole else word in said for word in typed):
            return _RANK * (4 - place)
    return 0.0
