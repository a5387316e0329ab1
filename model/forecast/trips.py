"""How often and how long this household leaves the house empty."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple

from model.records.events import Absence
from model.records.history import History

USUAL_A_YEAR, USUAL_DAYS = 2.0, 8.0
"""Trips of a household in a year, and days of each, before its own record says. From memory; owner's default."""

PRIOR_YEARS, PRIOR_TRIPS = 1.0, 2.0
"""What the usual counts as beside the record. Owner's default."""

RECORD_DAYS = 730
"""How far back trips count. Owner's default."""


class Trips(NamedTuple):
    """Trips in a day [1/day], and days of each."""

    a_day: float
    days: float


def trips_of(history: History, since: date) -> Trips:
    """Trips by the absences of the last two years on record, drawn towards the usual.

    Source: mean of a Poisson rate with a gamma prior, Gelman et al., Bayesian Data Analysis, 3rd ed., ch. 2.
    """
    today = history.today
    seen = [one for one in history.of(Absence) if 0 <= (today - one.on).days <= RECORD_DAYS]
    years = min((today - since).days, RECORD_DAYS) / 365.25
    lengths = sum(min((one.until - one.on).days + 1, 60) for one in seen)
    a_year = (USUAL_A_YEAR * PRIOR_YEARS + len(seen)) / (PRIOR_YEARS + years)
    return Trips(a_year / 365.25, (USUAL_DAYS * PRIOR_TRIPS + lengths) / (PRIOR_TRIPS + len(seen)))
