"""The one place that asks what day it is. Everything else is handed `today`."""

from __future__ import annotations

from datetime import date

import pendulum


def today() -> date:
    """Today's date where this computer stands."""
    now = pendulum.today()
    return date(now.year, now.month, now.day)


def stamp() -> str:
    """The moment of recording, ISO 8601 in UTC, to the second."""
    return pendulum.now("UTC").replace(microsecond=0).to_iso8601_string()


def add_months(day: date, months: int) -> date:
    """The same day of the month, `months` later; the last day where the month is shorter."""
    moved = pendulum.Date(day.year, day.month, day.day).add(months=months)
    return date(moved.year, moved.month, moved.day)
