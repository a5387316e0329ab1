"""The one place that asks what day it is. Everything else is handed `today`."""

from __future__ import annotations

from calendar import monthrange
from datetime import date, datetime
from time import time


def today() -> date:
    """Today's date where this computer stands."""
    return datetime.now().astimezone().date()


def moment() -> float:
    """Now, in seconds since 1970."""
    return time()


def stamp() -> str:
    """The moment of recording, ISO 8601 in UTC, to the second."""
    # Here and not above: what only looks must not wait for it.
    import pendulum

    return pendulum.now("UTC").replace(microsecond=0).to_iso8601_string()


def add_months(day: date, months: int) -> date:
    """The same day of the month, `months` later (or earlier); the last day where the month is shorter.

    Raises OverflowError beyond the year 9999. `tests/test_clock.py` holds it against pendulum.
    """
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    if not 1 <= year <= 9999:
        raise OverflowError(f"{months} months from {day} is no date")
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))
