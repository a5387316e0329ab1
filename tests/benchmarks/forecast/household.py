"""What a household does to its daily use: season, trips, guests, people who come to stay or leave.

All ranges are set by what is plausible for a home, not by any result; no source.
"""

from __future__ import annotations

from datetime import date, timedelta
from itertools import accumulate
from math import cos, pi
from random import Random
from typing import NamedTuple

from tests.benchmarks.forecast.homefile import HomeFile

FIRST = date(2023, 1, 1)
SEASON_MOST = 0.2
TRIPS_A_YEAR_MOST, TRIP_DAYS = 4, (3, 16)
GUESTS_A_YEAR_MOST, GUEST_DAYS = 5, (2, 7)
GUEST_SHARE = 0.7
"""What a guest uses of what one of the household uses."""
SIZE_POWER = 0.75
"""Use grows with the number of people to this power: a larger household shares a little."""
CHANGE_SHARE = 1.0 / 3.0
CHANGE_NOTED_SHARE = 0.5


class Span(NamedTuple):
    """Days from `first` to `last`, both counted, as day numbers."""

    first: int
    last: int


class Change(NamedTuple):
    """From `day` on the household has `people`; `noted_on` is the day it was written down, None for never."""

    day: int
    people: int
    noted_on: int | None


class Household(NamedTuple):
    """The truth of one home. `before[k]` is all water used before the morning of day k [L]."""

    name: str
    kind: str
    people: int
    start: date
    litres: tuple[float, ...]
    before: tuple[float, ...]
    trips: tuple[Span, ...]
    change: Change | None
    usual_l: float

    def on(self, day: int) -> date:
        """The date of a day number."""
        return self.start + timedelta(days=day)

    def away(self, day: int) -> bool:
        """Whether nobody is at home."""
        return any(trip.first <= day <= trip.last for trip in self.trips)


def household(home: HomeFile, seed: int, days: int, known_days: int) -> Household:
    """One household for `days`, its file repeated as often as needed; a change falls within `known_days`."""
    rng = Random(f"household {home.name} {seed}")
    start = FIRST + timedelta(days=rng.randrange(365))
    season, peak = rng.uniform(0.0, SEASON_MOST), rng.gauss(200.0, 40.0)
    trips = _spans(rng, days, TRIPS_A_YEAR_MOST, TRIP_DAYS)
    guests = _guests(rng, days, home.people)
    change = _change(rng, home.people, known_days)
    litres = []
    for day in range(days):
        share = _share(day, home.people, change) * guests.get(day, 1.0)
        turn = 2.0 * pi * ((start + timedelta(days=day)).timetuple().tm_yday - peak) / 365.25
        litres.append(home.litres[day % len(home.litres)] * share * (1.0 + season * cos(turn)))
    for trip in trips:
        litres[trip.first : trip.last + 1] = [0.0] * (min(trip.last, days - 1) - trip.first + 1)
    before = tuple(accumulate(litres, initial=0.0))
    return Household(home.name, home.kind, home.people, start, tuple(litres), before, trips, change, home.mean_l)


def _share(day: int, people: int, change: Change | None) -> float:
    """Use over that of the household as it began."""
    if change is None or day < change.day:
        return 1.0
    return float((change.people / people) ** SIZE_POWER)


def _spans(rng: Random, days: int, a_year_most: int, length: tuple[int, int]) -> tuple[Span, ...]:
    """Stretches of days that do not overlap, so many a year at most."""
    found: list[Span] = []
    a_year = rng.randint(0, a_year_most)
    for year in range(0, days, 365):
        for _ in range(a_year):
            first = year + rng.randrange(2, 360)
            span = Span(first, first + rng.randint(*length) - 1)
            if span.first < days and all(span.first > one.last + 2 or span.last < one.first - 2 for one in found):
                found.append(span)
    return tuple(sorted(found))


def _guests(rng: Random, days: int, people: int) -> dict[int, float]:
    """Day -> how many times the usual use, on days with guests."""
    found: dict[int, float] = {}
    for span in _spans(rng, days, GUESTS_A_YEAR_MOST, GUEST_DAYS):
        more = 1.0 + GUEST_SHARE * rng.randint(1, 2) / people
        found |= dict.fromkeys(range(span.first, span.last + 1), more)
    return found


def _change(rng: Random, people: int, days: int) -> Change | None:
    """One more or one fewer for good, in a third of the homes."""
    drawn, up, day = rng.random(), rng.random() < 0.5 or people == 1, rng.randint(days // 4, 3 * days // 4)
    noted, late = rng.random() < CHANGE_NOTED_SHARE, rng.randint(0, 14)
    if drawn >= CHANGE_SHARE:
        return None
    return Change(day, people + (1 if up else -1), day + late if noted else None)
