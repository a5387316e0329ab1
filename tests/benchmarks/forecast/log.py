"""What a household writes down, as events of the program."""

from __future__ import annotations

from random import Random

from model.home import Home, House
from model.records.events import Absence, AnyEvent, LabReport, Reading, Service, Setting, Taken
from tests.benchmarks.forecast.household import Household, Span
from tests.benchmarks.forecast.notes import TRIP_NOTED, Habit

TASKS = {
    "salt": "softener.refill_salt",
    "media": "neutralizer.top_up",
    "cartridge": "sediment_filter.replace_cartridge",
    "membrane": "reverse_osmosis.replace_membrane",
}


def taken(quantity: str, value: float, point: str, moment: str = "") -> Taken:
    """One measured quantity in the unit used inside."""
    return Taken(quantity=quantity, value=value, point=point, moment=moment)  # type: ignore[arg-type]


class Log:
    """A home's record as it grows."""

    def __init__(self, house: House, lived: Household, habit: Habit, rng: Random) -> None:
        self._house, self._lived = house, lived
        self._events: list[AnyEvent] = []
        self._trips = {one.first: one for one in lived.trips if rng.random() < TRIP_NOTED[habit]}

    @property
    def home(self) -> Home:
        """As the program would load it."""
        return Home(self._house, tuple(self._events))

    @property
    def size(self) -> int:
        """How many events there are."""
        return len(self._events)

    def morning(self, day: int) -> None:
        """What is written down of the household itself: a trip on leaving, a change of people when noted."""
        trip: Span | None = self._trips.get(day)
        if trip is not None:
            self._add(Absence(on=self._lived.on(day), until=self._lived.on(trip.last), id=self._next()))
        change = self._lived.change
        if change is not None and change.noted_on == day:
            self._add(Setting(on=self._lived.on(day), path="people", value=float(change.people), id=self._next()))

    def read(self, day: int, *values: Taken) -> None:
        """Readings."""
        for value in values:
            self._add(Reading(on=self._lived.on(day), taken=value, id=self._next()))

    def report(self, day: int, point: str, *values: Taken) -> None:
        """A laboratory's report."""
        self._add(LabReport(on=self._lived.on(day), point=point, taken=values, id=self._next()))

    def did(self, day: int, thing: str, used: dict[str, float], *values: Taken) -> None:
        """A job done."""
        self._add(Service(on=self._lived.on(day), task=TASKS[thing], used=used, taken=values, id=self._next()))

    def _next(self) -> int:
        return len(self._events) + 1

    def _add(self, event: AnyEvent) -> None:
        self._events.append(event)
