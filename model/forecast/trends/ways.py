"""Lines between readings, broken where something was put in that nobody measured."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

from model.forecast.trends.shape import Path, at
from model.records.history import Dated


def joined(read: list[Dated], put_in: list[date], height: Callable[[float], float]) -> tuple[Path, ...]:
    """Lines between the readings; what was put in on a day measured before and after is a step, else a break.

    `height` gives the y of a value read.
    """
    measured_after = {one.on for one in read if one.taken.moment == "after"}
    unknown_after = [on for on in put_in if on not in measured_after]
    found: list[list[tuple[float, float]]] = []
    last: Dated | None = None
    for one in read:
        if last is None or _broken(last, one, put_in, unknown_after):
            found.append([])
        found[-1].append((at(one.on), height(one.taken.value)))
        last = one
    return tuple(Path(tuple(way), seen=True) for way in found if len(way) > 1)


def _broken(last: Dated, one: Dated, put_in: list[date], unknown_after: list[date]) -> bool:
    """Whether something was put in between two readings without one of them telling how much there was."""
    if last.on == one.on:
        return False
    return last.on in unknown_after or one.taken.moment == "after" or any(last.on < on < one.on for on in put_in)
