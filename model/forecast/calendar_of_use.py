"""What is known of each day before any meter is read: who is at home, how many, and the named uses."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

import msgspec

from model.forecast.almanac import almanac
from model.forecast.use import away_days, guest_people, household_l_per_day, known_l_per_day
from model.home import House
from model.records.history import History

Houses = Sequence[tuple[date, House]]
"""The houses that stood here, each with the first day on which it held, oldest first."""


class Days(msgspec.Struct, frozen=True):
    """One entry a day, from the first on. `household`: use of that day's people over today's; `named`: litres of the
    named uses in the treated house on a day at home [L]; `hose`: the same at the hose; `home`: 1 at home, 0 away.
    `changes`: places on which the number of people who live here changed."""

    month: list[int]
    day_of_year: list[int]
    home: list[int]
    household: list[float]
    named: list[float]
    hose: list[float]
    changes: tuple[int, ...]


def days_of(houses: Houses, now: House, history: History, first: date, count: int) -> Days:
    """The calendar of `count` days from `first` on, seen from the house as it stands now."""
    months, days_of_year = almanac(first, count)
    household, named, hose = [1.0] * count, [0.0] * count, [0.0] * count
    changes = []
    for low, high, house in _spans(houses, first, count):
        if household_l_per_day(house.people) != household_l_per_day(now.people):
            household[low:high] = [household_l_per_day(house.people) / household_l_per_day(now.people)] * (high - low)
        for treated, filled in ((True, named), (False, hose)):
            by_month = [0.0] + [known_l_per_day(house, month, hose=not treated) for month in range(1, 13)]
            if any(by_month):
                filled[low:high] = [by_month[month] for month in months[low:high]]
        if low > 0 and household[low] != household[low - 1]:
            changes.append(low)
    _add_guests(household, houses, now, history, first)
    home = [1] * count
    for day in away_days(history):
        if 0 <= (k := (day - first).days) < count:
            home[k] = 0
    return Days(months, days_of_year, home, household, named, hose, tuple(changes))


def _spans(houses: Houses, first: date, count: int) -> list[tuple[int, int, House]]:
    """Each house with the places of its first day and of the day after its last."""
    starts = [min(max((on - first).days, 0), count) for on, _ in houses]
    ends = [*starts[1:], count]
    return [(low, high, house) for low, high, (_, house) in zip(starts, ends, houses, strict=True) if high > low]


def _add_guests(household: list[float], houses: Houses, now: House, history: History, first: date) -> None:
    """More people on the days of a visit."""
    for day, guests in guest_people(history).items():
        if 0 <= (k := (day - first).days) < len(household):
            people = [house.people for on, house in houses if on <= day][-1]
            household[k] = household_l_per_day(people + guests) / household_l_per_day(now.people)
