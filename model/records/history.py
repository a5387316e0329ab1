"""The log, sorted for asking. What was taken back does not count; what lies after today has not happened."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from datetime import date
from operator import attrgetter
from typing import TypeVar

import msgspec

from model.records.events import (
    Absence,
    AnyEvent,
    Correction,
    Guests,
    LabReport,
    PausedService,
    PlaybookStarted,
    Reading,
    Service,
    Taken,
)
from model.records.quantities import can_be

E = TypeVar("E", bound=AnyEvent)

CHANGED_AT_REST = frozenset({"pH", "alkalinity", "hardness", "temperature", "pressure_in", "pressure_out"})
"""Quantities that at rest say nothing of running water: magnesia goes on dissolving, a full filter shows no drop.
Never one that protects health, such as nitrate, lead or bacteria."""

BOUND_IS_NO_NUMBER = frozenset({"pH"})
"""Quantities of which "less than" is no number to reckon with: half of a pH means nothing. `History.ends` has them."""

_KNOWN_AHEAD = frozenset({Absence, Guests, PlaybookStarted})
"""Kinds that count before their day has come."""


class Dated(msgspec.Struct, frozen=True, gc=False):
    """A measured quantity with its day and the event that holds it."""

    on: date
    taken: Taken
    event: int
    from_lab: bool


def voided(events: Iterable[AnyEvent]) -> frozenset[int]:
    """Ids of events taken back. A correction that was itself taken back no longer counts."""
    gone: set[int] = set()
    corrections = [event for event in events if type(event) is Correction]
    for correction in sorted(corrections, key=lambda one: one.id, reverse=True):
        if correction.id not in gone and correction.voids < correction.id:
            gone.add(correction.voids)
    return frozenset(gone)


class History:
    """What stands of the log as of `today`, by kind and by quantity, each in order of day.

    `impossible` holds values that cannot be, which only a file changed by hand can have; they count nowhere else.
    """

    def __init__(self, events: tuple[AnyEvent, ...], today: date) -> None:
        gone = voided(events)
        self.today = today
        self.impossible: list[Dated] = []
        self._by_kind: dict[type, list[AnyEvent]] = defaultdict(list)
        self._by_quantity: dict[str, list[Dated]] = defaultdict(list)
        self._standing: dict[str, list[Dated]] = defaultdict(list)
        self._ends: dict[str, list[Dated]] = defaultdict(list)
        self._services: dict[str, list[Service]] = defaultdict(list)
        # Events come in the order recorded and the sort is stable: those of one day stay in that order.
        for event in sorted(events, key=attrgetter("on")):
            if event.id not in gone and (event.on <= today or type(event) in _KNOWN_AHEAD):
                self._file(event)

    def _file(self, event: AnyEvent) -> None:
        self._by_kind[type(event)].append(event)
        if type(event) is Reading:
            self._take(event, (event.taken,), from_lab=False)
        elif type(event) is LabReport:
            self._take(event, event.taken, from_lab=True)
        elif type(event) is Service:
            self._services[event.task].append(event)
            if event.taken:
                self._take(event, event.taken, from_lab=False)

    def _take(self, event: AnyEvent, taken: tuple[Taken, ...], *, from_lab: bool) -> None:
        for one in taken:
            dated = Dated(event.on, one, event.id, from_lab)
            rows = self._rows(one)
            (rows[one.quantity] if can_be(one.quantity, one.value) else self.impossible).append(dated)

    def _rows(self, one: Taken) -> dict[str, list[Dated]]:
        if one.qualifier != "=" and one.quantity in BOUND_IS_NO_NUMBER:
            return self._ends
        return self._standing if one.state == "at_rest" and one.quantity in CHANGED_AT_REST else self._by_quantity

    def of(self, kind: type[E]) -> list[E]:
        """Standing events of one kind, oldest first."""
        return self._by_kind.get(kind, [])  # type: ignore[return-value]

    def services(self, task: str) -> list[Service]:
        """Services of one task, oldest first."""
        return self._services.get(task, [])

    def services_by_task(self) -> list[tuple[str, list[Service]]]:
        """Each task that was ever done, with its services, oldest first."""
        return list(self._services.items())

    def last_done(self, task: str) -> date | None:
        """The day a task was last done, or None."""
        done = self.services(task)
        return done[-1].on if done else None

    def every_taken(self) -> list[tuple[date, Taken]]:
        """All that was measured, of any quantity, with its day."""
        every = (*self._by_quantity.values(), *self._standing.values(), *self._ends.values())
        return [(one.on, one.taken) for rows in every for one in rows]

    def since_done(self, task: str, quantity: str, point: str, start: date) -> list[Dated]:
        """Readings of a quantity since a task was last done, or since `start`, oldest first.

        What was read before the work, on its day or with it, belongs to what was there before.
        """
        done = self.services(task)
        if not done:
            return [one for one in self.taken(quantity, point) if one.on >= start]
        last = (done[-1].on, done[-1].id)
        return [
            one
            for one in self.taken(quantity, point)
            if (one.on, one.event) > last or ((one.on, one.event) == last and one.taken.moment != "before")
        ]

    def taken(self, quantity: str, point: str | None = None) -> list[Dated]:
        """Readings and laboratory results of one quantity, at one point or anywhere, oldest first.

        Those of standing water that say nothing of running water are left out: see `standing`; so is a pH beyond the
        last mark of a strip: see `ends`.
        """
        every = self._by_quantity.get(quantity, [])
        return every if point is None else [one for one in every if one.taken.point == point]

    def standing(self, quantity: str, point: str) -> list[Dated]:
        """What was read at a point of water that had stood, of a quantity in `CHANGED_AT_REST`, oldest first."""
        return [one for one in self._standing.get(quantity, []) if one.taken.point == point]

    def ends(self, quantity: str, point: str) -> list[Dated]:
        """What was read at a point only as less or more than so much, of a quantity in `BOUND_IS_NO_NUMBER`."""
        return [one for one in self._ends.get(quantity, []) if one.taken.point == point]

    def newest(self, quantity: str, point: str) -> Dated | None:
        """The newest value of a quantity at a point, or None."""
        found = self.taken(quantity, point)
        return found[-1] if found else None

    def paused(self, task: str) -> PausedService | None:
        """The half-done service of a task that was not finished since, or None."""
        pauses = [one for one in self.of(PausedService) if one.task == task]
        if not pauses:
            return None
        last = max(pauses, key=attrgetter("id"))
        return None if any(done.id > last.id for done in self.services(task)) else last
