"""What the owner said about stretches between meter readings."""

from __future__ import annotations

from datetime import date

from model.errors import BadInput
from model.records.events import Cause, Explained
from model.records.history import History
from model.records.stays import LONGEST_STAY_DAYS
from model.records.typed import check_date

Stretch = tuple[date, date]


def explanations(history: History) -> dict[Stretch, Explained]:
    """The owner's answer for each stretch, by its first and last day; of several for one stretch the last recorded."""
    answers = sorted(history.of(Explained), key=lambda one: one.id)
    return {(one.start, one.end): one for one in answers}


GOES_ON: frozenset[Cause] = frozenset({"household", "leak"})
"""Causes that are taken to go on unless it is said that they are over."""


def explained(start: date, end: date, cause: Cause, over: bool | None, today: date, note: str = "") -> Explained:
    """The answer for a stretch, recorded today. `over`: None for what is usual for the cause.

    Raises:
        BadInput: no days between, a day to come, too long a stretch, or a misread meter that goes on.
    """
    check_date(start, today)
    check_date(end, today)
    if end <= start:
        raise BadInput(f"{end} is not after {start}.", "Give the days of two meter readings, the earlier one first.")
    if (end - start).days > LONGEST_STAY_DAYS:
        raise BadInput("A stretch of more than ten years is none.", "Check the years.")
    if cause == "misread" and over is False:
        raise BadInput("A misread meter does not go on.", "Read it again and record what it shows.")
    return Explained(
        on=today, start=start, end=end, cause=cause, over=_usual(cause) if over is None else over, note=note
    )


def _usual(cause: Cause) -> bool:
    return cause not in GOES_ON
