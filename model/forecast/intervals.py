"""Water use between meter readings, with the meter's own troubles taken out."""

from __future__ import annotations

from datetime import date

import msgspec

from model.home import House
from model.records.history import History
from model.records.meter_check import meter_counts


class Interval(msgspec.Struct, frozen=True, gc=False):
    """Litres through the meter from one day to another."""

    start: date
    end: date
    litres: float


def intervals(house: House, history: History) -> tuple[tuple[Interval, ...], tuple[str, ...]]:
    """Use between successive meter readings, and what could not be used, in words.

    A replaced meter joins the old count to the new one. A meter that ran backwards rolled over if the house says
    where it does so and less than half the dial was used; else the interval is left out and named.
    """
    walk = _Walk(house.meter_rolls_over_at_l)
    for on, _, new, old in meter_counts(history):
        walk.step(on, old, new)
    return tuple(walk.found), tuple(walk.problems)


class _Walk:
    """Follows one meter, and its successors, from count to count."""

    def __init__(self, rolls_over_at_l: float | None) -> None:
        self.found: list[Interval] = []
        self.problems: list[str] = []
        self._dial = rolls_over_at_l
        self._start: date | None = None
        self._used = self._count = 0.0

    def step(self, on: date, old: float | None, new: float) -> None:
        """Take in a reading, or a replacement."""
        if self._start is None:
            self._begin(on, new)
        elif old is None:
            self._leave_out(on, new, f"The old meter's last count is not on record: {self._start} to {on} is left out.")
        elif (used := self._difference(old)) < 0:
            said = f"The meter ran backwards between {self._start} and {on}: that interval is left out."
            self._leave_out(on, new, said)
        else:
            self._go_on(self._start, on, used, new)

    def _begin(self, on: date, count: float) -> None:
        self._start, self._used, self._count = on, 0.0, count

    def _leave_out(self, on: date, count: float, said: str) -> None:
        self.problems.append(said)
        self._begin(on, count)

    def _go_on(self, start: date, on: date, used: float, count: float) -> None:
        """What was used on the day of the reading itself belongs to the interval that begins there."""
        self._used, self._count = self._used + used, count
        if on > start:
            self.found.append(Interval(start, on, self._used))
            self._start, self._used = on, 0.0

    def _difference(self, count: float) -> float:
        used = count - self._count
        rolled = used + self._dial if self._dial else used
        return rolled if used < 0 and self._dial and 0 <= rolled < self._dial / 2 else used
