"""What the owner said about stretches between meter readings."""

from __future__ import annotations

from datetime import date

from model.records.events import Explained
from model.records.history import History

Stretch = tuple[date, date]


def explanations(history: History) -> dict[Stretch, Explained]:
    """The owner's answer for each stretch, by its first and last day; of several for one stretch the last recorded."""
    answers = sorted(history.of(Explained), key=lambda one: one.id)
    return {(one.start, one.end): one for one in answers}
