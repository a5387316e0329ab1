"""What the screens show: one frozen picture of the home on one day, and the way to add to it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from functools import cached_property
from typing import TYPE_CHECKING, Protocol

from model.errors import StoreError
from model.forecast.costs import costs_of
from model.forecast.playbooks import Running, running
from model.forecast.present import Change, coming_changes, scheduled
from model.forecast.situation import Situation
from model.forecast.slow_parts import ten_years
from model.home import Home, House
from model.plan import plan_of, with_stage_numbers
from model.plan_types import Costs, Plan, TenYears
from model.records.events import AnyEvent
from model.records.history import History
from tui.drafts import Drafts

if TYPE_CHECKING:
    from model.forecast.trends.shape import Trend
    from model.forecast.what_if_home import Change as Trial
    from model.guide.own import Own
    from model.store.first import FirstRun


class Store(Protocol):
    """What the screens need of the repository."""

    def load(self) -> Home: ...
    def append(self, event: AnyEvent, *more: AnyEvent) -> Home: ...
    def changed_outside(self) -> bool: ...


class View:
    """The home on one day. Derived pictures are worked out when first asked for."""

    def __init__(self, home: Home, today: date) -> None:
        self.home = home
        self.today = today

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
        return costs_of(self.situation, 12)

    @cached_property
    def ten_years(self) -> TenYears:
        """The next ten years, with the slow parts."""
        return ten_years(self.situation)


class Session:
    """One sitting at one home's file. Screens send events here; only the store writes.

    `first` is there while the home is not written yet.
    `last_point` is the point of the train at which the last reading was taken, "" before the first.
    `drafts` has what was typed in forms that were left, `trials` what is tried in What if.
    """

    def __init__(
        self, store: Store, clock: Callable[[], date], *, throwaway: bool = False, first: FirstRun | None = None
    ) -> None:
        self._store = store
        self.first = first
        self._clock = clock
        self.throwaway = throwaway
        self.last_point = ""
        self.drafts = Drafts()
        self.trials: tuple[Trial, ...] = ()
        self.view = View(store.load(), clock())

    def record(self, *events: AnyEvent) -> View:
        """Record events, or raise StoreError and record none."""
        first, *more = events
        self.view = View(self._store.append(first, *more), self._clock())
        return self.view

    def begin(self, house: House, events: Iterable[AnyEvent]) -> View:
        """Write a home that is not written yet, or raise StoreError and write nothing."""
        if self.first is None:
            raise StoreError("This home is written already.", "Change it under House.")
        self.view = View(self.first.begin(house, events), self._clock())
        self.first = None
        return self.view

    def refresh(self) -> View:
        """Take in what another program wrote, and a new day."""
        if self._store.changed_outside() or self._clock() != self.view.today:
            self.view = View(self._store.load(), self._clock())
        return self.view
