"""The level of a stock, followed from mark to mark."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import NamedTuple


class Mark(NamedTuple):
    """A level of a stock that someone saw (`level`), or an amount put in (`added`), both in the stock's unit.

    With neither it only parts the time before from the time after.
    """

    on: date
    level: float | None
    added: float


class Standing(NamedTuple):
    """A level on the day it was last seen or added to, its standard deviation, and the day it was last truly seen."""

    on: date
    level: float
    sd: float
    seen: date | None


def follow(
    marks: list[Mark],
    start: Standing,
    full: float,
    seen_sd: float,
    drawn: Callable[[date, date], float],
    spread: float,
) -> Standing:
    """Follow a level through marks: a level seen replaces the reckoned one, an amount added is put on top.

    All levels in one unit [kg, say]; `drawn(a, b)` is the reckoned use between two days, right within the
    share `spread` (0-1). A level never falls below zero nor rises above `full` by reckoning.
    """
    now = start
    for mark in marks:
        if mark.level is not None:
            now = Standing(mark.on, mark.level, seen_sd, mark.on)
        else:
            used = drawn(now.on, mark.on)
            level = min(max(now.level - used, 0.0) + mark.added, full)
            now = Standing(mark.on, level, (now.sd**2 + (spread * used) ** 2) ** 0.5, now.seen)
    return now
