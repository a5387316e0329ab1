"""Spans of days for which the house is empty or has guests: what can be one."""

from __future__ import annotations

from datetime import date, timedelta

from model.errors import BadInput
from model.records.typed import EARLIEST, parse_number
from model.units import echo

LONGEST_STAY_DAYS = 3660
"""No absence and no visit is longer, or begins further ahead. Owner's default."""

FEWEST_GUESTS, MOST_GUESTS = 0.1, 50.0
"""Extra people at a time; a tenth is one for a tenth of the day. Owner's default."""


def check_stay(what: str, first: date, last: date, today: date) -> None:
    """Refuse what is no span of days. `what`: "absence" or "visit".

    Raises:
        BadInput: the last day is before the first, they lie more than ten years apart, or it is a slip of the year.
    """
    if last < first:
        raise BadInput(
            f"The {what} would end ({last}) before it begins ({first}): the last day is before the first.",
            "Give the first day, then the last.",
        )
    longest = timedelta(days=LONGEST_STAY_DAYS)
    if last - first > longest:
        raise BadInput(f"A {what} of more than ten years is none.", "Check the years.")
    if first < EARLIEST or first - today > longest:
        raise BadInput(f"{first} is too far from today ({today}).", "Check the year.")


def parse_guests(text: str) -> float:
    """How many people more, as typed.

    Raises:
        BadInput: not a number, or not from 0.1 to 50.
    """
    people = parse_number(text)
    if not can_be_guests(people):
        raise BadInput(
            f"{echo(text)} is no number of guests.", f"Give from {FEWEST_GUESTS:g} to {MOST_GUESTS:g} people."
        )
    return people


def span_in_words(first: date, last: date) -> str:
    """ "From 2026-12-24 to 2026-12-27: 4 days, both ends counted"."""
    days = (last - first).days + 1
    return f"From {first} to {last}: {days} day{'' if days == 1 else 's'}, both ends counted"


def can_be_guests(people: float) -> bool:
    """Whether so many people more can be in a house at a time."""
    return FEWEST_GUESTS <= people <= MOST_GUESTS


def guests_in_words(people: float) -> str:
    """ "1 guest", "2.5 guests"."""
    return f"{people:g} guest{'' if people == 1 else 's'}"
