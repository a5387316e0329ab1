"""What a house is expected to use before any meter reading, and what is known of it by the calendar."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from model.home import House
from model.records.events import Absence, Guests
from model.records.history import History
from model.records.stays import LONGEST_STAY_DAYS, can_be_guests

PERSON_L_PER_DAY = 230.0
"""Geometric mean of indoor use per person and day [L]: 595 houses. Source: NAP 6287 p. 56 (DeOreo data)."""

BETWEEN_HOUSES_GSD = 1.8
"""Geometric standard deviation between houses. Source: NAP 6287 p. 56."""

MEAN_PEOPLE = 2.6
"""People in the mean household, for which the figure per person holds. From memory (United States census)."""

_HOUSE_GPD, _EACH_GPD = 69.2, 37.2
"""Indoor use grows by so much for each person [gal/day]. From memory (Mayer and others 1999, Residential End Uses of
Water); only its shape is taken from it."""

RO_PERSON_L_PER_DAY = 2.5
"""Product water drawn at the RO tap per person and day [L] where no use is named. Common practice, no source."""


def household_l_per_day(people: float) -> float:
    """Indoor use expected of so many people before any meter reading [L/day], 0 people or more.

    PERSON_L_PER_DAY each in a household of MEAN_PEOPLE; in others in proportion to 69.2 + 37.2 n, since the second
    person adds less than the first. Source: NAP 6287 p. 56; the shape from memory (Mayer and others 1999).
    """
    mean_house = _HOUSE_GPD + _EACH_GPD * MEAN_PEOPLE
    return MEAN_PEOPLE * PERSON_L_PER_DAY * (_HOUSE_GPD + _EACH_GPD * people) / mean_house


def known_l_per_day(house: House, month: int, *, hose: bool) -> float:
    """Named uses in a month [L/day]: those at the hose, or those of the treated house."""
    return sum(use.litres_per_week / 7.0 for use in house.uses if (use.point == "hose") == hose and month in use.months)


def ro_product_l_per_day(house: House) -> float:
    """Water drawn at the RO tap [L/day], mean over the year: the named uses, or a default by people."""
    named = [use for use in house.uses if use.point == "ro"]
    if not named:
        return house.people * RO_PERSON_L_PER_DAY
    return sum(use.litres_per_week / 7.0 * len(use.months) / 12.0 for use in named)


def away_days(history: History) -> frozenset[date]:
    """Every day on which nobody was or will be at home."""
    return frozenset(day for absence in history.of(Absence) for day in _days(absence))


def guest_people(history: History) -> dict[date, float]:
    """How many people more than live there were or will be in the house on a day; days without guests are absent.

    Visits that overlap add up. A number of people that cannot be, which only a file changed by hand can hold, counts
    nothing.
    """
    found: dict[date, float] = {}
    for guests in history.of(Guests):
        if can_be_guests(guests.people):
            for day in _days(guests):
                found[day] = found.get(day, 0.0) + guests.people
    return found


def _days(stay: Absence | Guests) -> Iterator[date]:
    """The days of a stay, both ends counted."""
    days = min((stay.until - stay.on).days, LONGEST_STAY_DAYS, (date.max - stay.on).days)
    return (stay.on + timedelta(days=k) for k in range(days + 1))
