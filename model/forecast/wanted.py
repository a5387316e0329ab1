"""A job that the log asks for by a day of its own: it is brought forward to that day, and never moved back."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import NamedTuple


class Wanted(NamedTuple):
    """A job ("stage.job") wanted by a day, and why."""

    on: date
    task: str
    why: str


def soonest(every: Iterable[Wanted]) -> dict[str, Wanted]:
    """Of each job the one wanted first, by task."""
    found: dict[str, Wanted] = {}
    for one in every:
        if one.task not in found or one.on < found[one.task].on:
            found[one.task] = one
    return found
