"""What was measured against a limit: the newest day that tells, of which the worst counts."""

from __future__ import annotations

from datetime import date

from model.forecast.situation import Situation
from model.records.bounds import for_health
from model.records.history import Dated


def told_on(now: Situation, quantity: str, points: tuple[str, ...], limit: float) -> date | None:
    """The newest day on which a quantity was read at one of the points so that it tells on which side of the limit it
    lies, None where never.

    "Less than twice the limit" tells nothing, and takes nothing back.
    """
    read = _telling(now, quantity, points, limit)
    return read[-1].on if read else None


def over(now: Situation, quantity: str, points: tuple[str, ...], limit: float) -> Dated | None:
    """The worst of the newest day that tells, where it reaches the limit: of one day the first draw counts beside the
    flushed water."""
    read = _telling(now, quantity, points, limit)
    last = [one for one in read if one.on == read[-1].on and one.taken.qualifier != "<"]
    worst = max(last, key=lambda one: for_health(one.taken), default=None)
    return worst if worst is not None and for_health(worst.taken) >= limit else None


def _telling(now: Situation, quantity: str, points: tuple[str, ...], limit: float) -> list[Dated]:
    return [
        one
        for one in now.history.taken(quantity)
        if one.taken.point in points and not (one.taken.qualifier == "<" and one.taken.value > limit)
    ]
