"""Water use between meter readings, with the meter's own troubles taken out."""

from __future__ import annotations

from datetime import date
from itertools import pairwise

import msgspec

from model.home import House
from model.records.events import MeterReplaced
from model.records.history import History


class Interval(msgspec.Struct, frozen=True):
    """Litres through the meter from one day to another."""

    start: date
    end: date
    litres: float


def intervals(house: House, history: History) -> tuple[tuple[Interval, ...], tuple[str, ...]]:
    """Use between successive meter readings, and what could not be used, in words.

    A replaced meter joins the old count to the new one. A meter that ran backwards rolled over if the house says
    where it does so; else the interval is left out and named.
    """
    found: list[Interval] = []
    problems: list[str] = []
    replaced = history.of(MeterReplaced)
    readings = list({one.on: one.taken.value for one in history.taken("meter")}.items())
    for (start, before), (end, after) in pairwise(readings):
        litres = _used(before, after, [one for one in replaced if start < one.on <= end], house.meter_rolls_over_at_l)
        if litres < 0:
            problems.append(f"The meter ran backwards between {start} and {end}: that interval is left out.")
        else:
            found.append(Interval(start, end, litres))
    return tuple(found), tuple(problems)


def _used(before: float, after: float, replaced: list[MeterReplaced], rolls_over_at_l: float | None) -> float:
    used = 0.0
    for change in replaced:
        used += change.old_reading_l - before
        before = change.new_reading_l
    used += after - before
    return used + rolls_over_at_l if used < 0 and rolls_over_at_l else used
