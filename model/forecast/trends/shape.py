"""What a plot is made of: plain numbers and words, in the units used inside. Knows no screen."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Literal

import msgspec

from model.clock import add_months
from model.records.events import Qualifier

Way = tuple[tuple[float, float], ...]
"""Points of a line, x rising."""


class Point(msgspec.Struct, frozen=True, kw_only=True):
    """Something read. `series`: which of the trend's series it belongs to; `old`: of an earlier year than this."""

    x: float
    y: float
    series: int = 0
    old: bool = False
    qualifier: Qualifier = "="


class Path(msgspec.Struct, frozen=True):
    """A line: `seen` joins what was read, else it is reckoned."""

    points: Way
    seen: bool = False


class Band(msgspec.Struct, frozen=True):
    """10 and 90 % of a forecast: x, low, high."""

    name: str
    edges: tuple[tuple[float, float, float], ...]


class Level(msgspec.Struct, frozen=True):
    """A value to compare with, all across."""

    y: float
    name: str


class Upright(msgspec.Struct, frozen=True):
    """Something that happened, or today."""

    x: float
    name: str


class Span(msgspec.Struct, frozen=True):
    """Days that belong together: an absence, the window of a date. Both ends counted."""

    low: float
    high: float
    name: str


class Row(msgspec.Struct, frozen=True):
    """A line of the table: when, what, how much, in the owner's units."""

    when: str
    what: str
    value: str


class Trend(msgspec.Struct, frozen=True, kw_only=True):
    """One plot. y is in the inside unit of `dimension`; x is the day's ordinal, or for `across="year"` the day of the
    year, from `start` to `end`.

    `stage` and `jobs` say what it belongs to. `series`: names of the kinds of points; `seen`, `reckoned`: of the lines.
    `empty` tells what to read where there is nothing yet to show of what happened.
    """

    id: str
    name: str
    title: str
    dimension: str
    start: float
    end: float
    across: Literal["days", "year"] = "days"
    stage: str = ""
    jobs: tuple[str, ...] = ()
    series: tuple[str, ...] = ("read",)
    points: tuple[Point, ...] = ()
    seen: str = ""
    reckoned: str = ""
    paths: tuple[Path, ...] = ()
    band: Band | None = None
    levels: tuple[Level, ...] = ()
    uprights: tuple[Upright, ...] = ()
    spans: tuple[Span, ...] = ()
    from_zero: bool = False
    words: tuple[str, ...] = ()
    rows: tuple[Row, ...] = ()
    empty: str = ""


PAST_MONTHS = 18
"""How far back the plots look. Owner's default."""

TODAY = "today"


def at(day: date) -> float:
    """A day as x."""
    return float(day.toordinal())


def past(today: date) -> date:
    """The first day of the plots."""
    return add_months(today, -PAST_MONTHS)


def days_between(start: date, end: date, most: int = 120) -> list[date]:
    """At most so many days from one to the other, both among them."""
    length = max((end - start).days, 0)
    step = max(-(-length // most), 1)
    return [*(start + timedelta(days=k) for k in range(0, length, step)), start + timedelta(days=length)]
