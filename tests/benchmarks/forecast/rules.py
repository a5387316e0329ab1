"""Refills without a forecast: a fixed reminder, an interval from the sizing table, the mean of the last three.

Each gives the days from one refill to the next. Knows nothing of the program.
"""

from __future__ import annotations

from collections.abc import Callable
from statistics import fmean
from typing import NamedTuple

MONTH_DAYS = 30
SIZING_L_PER_PERSON = 284.0
"""75 US gal per person and day. Common practice, no source: usual in sizing tables, which have 50 to 80."""
LAST = 3
MARGIN = 0.8
"""For the variant that keeps a fifth in hand."""


class Took(NamedTuple):
    """Between two refills: the days, and what share of a full stock the later one took, as the household knows it."""

    days: int
    share: float


Rule = Callable[[list[Took]], int]


def sized_days(people: int, stock: float, per_litre: float) -> int:
    """Whole days that the sizing table gives: a full stock over people x 75 gal x what each litre takes."""
    return max(int(stock / (people * SIZING_L_PER_PERSON * per_litre)), 1)


def fixed(days: int) -> Rule:
    """Always so many days."""
    return lambda past: days


def last_three(first_days: int, margin: float = 1.0) -> Rule:
    """The mean of the last three intervals, each stretched to what a full tank would have lasted; times a margin.

    Until there is one, `first_days`.
    """

    def next_days(past: list[Took]) -> int:
        full = [one.days / one.share for one in past[-LAST:]]
        return max(int(margin * fmean(full)), 1) if full else first_days

    return next_days
