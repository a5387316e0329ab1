"""What the screens show: one frozen picture of the home on one day, and the way to add to it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING, Protocol

from model.clock import moment
from model.errors import StoreError
from model.forecast.playbooks import Running, running
from model.forecast.present import Change, coming_changes, scheduled
from model.forecast.situation import Situation
from model.home import Home, House
from model.plan import plan_of, with_stage_numbers
from model.plan_types import Costs, Plan, TenYears
from model.records.events import AnyEvent, PausedService, Wait
from model.records.history import History
from model.store.rescue import Found, found_copies, remember
from model.store.unsaved import Unsaved
from tui.drafts import Drafts

if TYPE_CHECKING:
    from model.forecast.trends.shape import Trend
    from model.forecast.what_if_home import Change as Trial
    from model.guide.own import Own
    from model.store.first import FirstRun


class Store(Protocol):
    """What the screens need of the repository."""

    @property
    def path(self) -> Path: ...
    def load(self) -> Home: ...
    def append(self, event: AnyEvent, *more: AnyEvent) -> Home: ...
    def changed_outside(self) -> bool: ...


class View:
    """The home on one day. Derived pictures are worked out when first asked for.

    `unsaved`: the ids of those events of the home that are in memory only.
    """

    def __init__(self, home: Home, today: date, unsaved: frozenset[int] = frozenset()) -> None:
        self.home = home
        self.today = today
        self.unsaved = unsaved

    @property
    def house(self) -> House:
        """What stands there today, with all settings changed since applied."""
        return self.situation.house

    @cached_property
    def coming_changes(self) -> list[Change]:
        """Changes written down for later days, soonest first."""
        return coming_changes(self.home, self.today)

    @cached_property
    def scheduled(self) -> list[tuple[date, House]]:
        """The later days on which something changes, each with the house from that day on."""
        return scheduled(self.home, self.today)

    @cached_property
    def situation(self) -> Situation:
        """Everything that is worked out once for the day."""
        return Situation(self.home, self.today)

    @property
    def history(self) -> History:
        """What stands of the log."""
        return self.situation.history

    @cached_property
    def waits(self) -> tuple[tuple[str, Wait], ...]:
        """The waits begun in half-done jobs, each with its task."""
        tasks = {one.task for one in self.history.of(PausedService) if one.waits}
        half_done = [pause for task in sorted(tasks) if (pause := self.history.paused(task))]
        return tuple((pause.task, wait) for pause in half_done for wait in pause.waits)

    @cached_property
    def plan(self) -> Plan:
        """What is due and why; without the numbers of the stages, which most screens do not show."""
        return plan_of(self.situation, with_numbers=False)

    @cached_property
    def numbers(self) -> Plan:
        """The plan with the numbers of the stages."""
        return with_stage_numbers(self.plan, self.situation)

    @cached_property
    def trends(self) -> tuple[Trend, ...]:
        """The plots that this home can have."""
        from model.forecast.trends import trends

        return trends(self.situation)

    @cached_property
    def begun(self) -> tuple[Running, ...]:
        """The playbooks begun, with every step."""
        return running(self.situation)

    @cached_property
    def own(self) -> Own:
        """The home's own numbers, as the answers of the guide ask for them."""
        from model.guide.own import Own

        return Own(self.situation)

    @cached_property
    def costs(self) -> Costs:
        """The next twelve months."""
        from model.forecast.costs import costs_of

        return costs_of(self.situation, 12)

    @cached_property
    def ten_years(self) -> TenYears:
        """The next ten years, with the slow parts."""
        from model.forecast.slow_parts import ten_years

        return ten_years(self.situation)


class Session:
    """One sitting at one home's file. Screens send events here; only the store writes.

    What the file does not take waits in memory and is shown like the rest; `trouble` says why, None where all is on the
    disk. `copy` is the file in which all that waits was last saved, None where some of it is in no file; `remembered`
    says whether the next start knows of it.
    `first` is there while the home is not written yet.
    `last_point` is the point of the train at which the last reading was taken, "" before the first.
    `moment` gives the seconds since 1970, for the waits of jobs.
    `drafts` has what was typed in forms that were left, `trials` what is tried in What if.
    """

    def __init__(
        self,
        store: Store,
        clock: Callable[[], date],
        *,
        throwaway: bool = False,
        first: FirstRun | None = None,
        moment: Callable[[], float] = moment,
    ) -> None:
        self._store = store
        self.first = first
        self._clock = clock
        self.moment = moment
        self.throwaway = throwaway
        self.last_point = ""
        self.drafts = Drafts()
        self.trials: tuple[Trial, ...] = ()
        self.trouble: StoreError | None = None
        self.copy: Path | None = None
        self.remembered = False
        self._unsaved = Unsaved()
        self._written = store.load()
        self.view = View(self._written, clock())

    @property
    def path(self) -> Path:
        """The home's file."""
        return self._store.path

    @property
    def unsaved(self) -> tuple[AnyEvent, ...]:
        """Events recorded that are not in the home's file, oldest first."""
        return self._unsaved.events

    def record(self, *events: AnyEvent) -> View:
        """Record events. Where the file does not take them they wait in memory, and `trouble` says so.

        Raises:
            StoreError: no file could hold them, or the home is not written yet; they do not wait.
        """
        if self.first is not None:
            self._written = self._store.append(*events)
            return self._show()
        self._unsaved, self.copy = self._unsaved.adding(events), None
        return self.write()

    def write(self) -> View:
        """Try again to write what waits, in the order recorded."""
        self.trouble = None
        while batch := self._unsaved.first():
            try:
                self._written = self._store.append(*batch)
            except StoreError as problem:
                self.trouble = problem
                break
            self._unsaved = self._unsaved.written(self._written)
        return self._show()

    def save_copy(self, path: Path) -> Path:
        """Write the home, with what waits, to a file that is not there yet; gives its path.

        At the home's own path, where nothing is any more, this writes the home anew and nothing waits any longer.

        Raises:
            StoreError: there is something at the path, or it cannot be written.
        """
        from model.store.repository import Repository

        other = Repository(path)
        events = (*self._written.events, *self._unsaved.numbered_after(self._written))
        home = other.create(self._written.house, events)
        if other.path == self.path:
            self._unsaved = self._unsaved.written(home, len(self._unsaved.batches))
            self._written, self.trouble = home, None
            self._show()
        else:
            self.copy = other.path
            self.remembered = not self.throwaway and remember(self.path, other.path, self.unsaved)
        return other.path

    def copies(self) -> tuple[Found, ...]:
        """Copies saved earlier that hold what the home's file does not."""
        return () if self.throwaway else found_copies(self.path, None if self.first else self._written)

    def take_in(self, copy: Path) -> int:
        """Record what a copy holds and the home's file does not; where there is no home yet, begin it with the copy.
        Gives how many events were recorded.

        Raises:
            StoreError: the copy cannot be read, is of another home, or the file cannot be written.
        """
        from model.store.repository import Repository

        found, before = Repository(copy).load(), len(self._written.events)
        if self.first is not None:
            self.begin(found.house, found.events)
        else:
            self._written = Repository(self.path).take_in(found)
            self._show()
        return len(self._written.events) - before

    def begin(self, house: House, events: Iterable[AnyEvent]) -> View:
        """Write a home that is not written yet, or raise StoreError and write nothing."""
        if self.first is None:
            raise StoreError("This home is written already.", "Change it under House.")
        self._written = self.first.begin(house, events)
        self.first = None
        return self._show()

    def refresh(self) -> View:
        """Write what waits, take in what another program wrote, and a new day.

        Raises:
            StoreError: the file cannot be read; the view is the last one, on this day.
        """
        if self._unsaved.batches:
            self.write()
        try:
            if self._store.changed_outside():
                self._written = self._store.load()
                self._show()
        finally:
            if self._clock() != self.view.today:
                self._show()
        return self.view

    def _show(self) -> View:
        waiting = frozenset(one.id for one in self.unsaved)
        self.view = View(self._unsaved.shown_on(self._written), self._clock(), waiting)
        return self.view
