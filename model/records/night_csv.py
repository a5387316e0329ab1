"""From a meter's file with times of day to the least that ran in an hour of each night."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, datetime

import msgspec

from model.records.events import Taken
from model.records.history import History

NIGHT_FLOW = "night_flow"
METHOD = "hourly meter"
NIGHT_ENDS_AT_HOUR = 5
"""A night is looked at from midnight to this hour. From memory; owner's default."""
FEWEST_ROWS = 3
"""With fewer rows in a night its stillest hour is not known. From memory; owner's default."""

_SHORTEST_HOURS, _LONGEST_HOURS = 0.9, 1.5
"""What counts as an hour: shorter and a leak that comes in bursts hides, longer and a flush of a toilet is in it."""


class Counted(msgspec.Struct, frozen=True):
    """What a meter had counted at a moment [L], in the time of the clocks in the house."""

    at: datetime
    litres: float


def night_readings(counted: Iterable[Counted]) -> list[tuple[date, Taken]]:
    """The least hourly use [L/h] of each night that has rows enough, oldest first.

    Args:
        counted: in order of time.
    """
    nights: dict[date, list[Counted]] = {}
    for one in counted:
        if _in_night(one.at):
            nights.setdefault(one.at.date(), []).append(one)
    found = ((on, _least_l_per_hour(rows)) for on, rows in nights.items() if len(rows) >= FEWEST_ROWS)
    return [(on, _taken(least)) for on, least in found if least is not None]


def new_nights(nights: Sequence[tuple[date, Taken]], history: History) -> list[tuple[date, Taken]]:
    """The nights that are not on record with the same value."""
    there: dict[date, list[float]] = {}
    for one in history.taken(NIGHT_FLOW):
        there.setdefault(one.on, []).append(one.taken.value)
    return [(on, taken) for on, taken in nights if not any(_same(taken.value, one) for one in there.get(on, ()))]


def _in_night(at: datetime) -> bool:
    return at.hour < NIGHT_ENDS_AT_HOUR or (at.hour == NIGHT_ENDS_AT_HOUR and not at.minute and not at.second)


def _least_l_per_hour(rows: Sequence[Counted]) -> float | None:
    """The least between a row and the first one an hour later; None where no two rows lie an hour apart.

    A count that falls belongs to a meter that was replaced or rolled over: that hour is left out.
    """
    flows = []
    for place, first in enumerate(rows):
        for last in rows[place + 1 :]:
            hours = (last.at - first.at).total_seconds() / 3600.0
            if hours >= _SHORTEST_HOURS:
                if hours <= _LONGEST_HOURS and last.litres >= first.litres:
                    flows.append((last.litres - first.litres) / hours)
                break
    return min(flows, default=None)


def _taken(litres_per_hour: float) -> Taken:
    # Differences of large counts carry noise in their last digits, which would make the same night new again.
    value = round(litres_per_hour, 3)
    return Taken(quantity=NIGHT_FLOW, value=value, point="house", entered=f"{value:g} L/h", method=METHOD)


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= 1e-6 * max(abs(one), abs(other), 1.0)
