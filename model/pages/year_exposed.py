"""What the house was exposed to in a year, from the first to the last day of each line: no day between is left out.

A line comes or goes with something on record, or with time alone: what is overdue, what is reckoned to have run out.
Looked at are therefore each day on which something is on record and the day before it, days a week apart where nothing
is, and between two that differ those in between, by halves.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date, timedelta
from functools import cache, partial
from itertools import pairwise
from typing import NamedTuple

from model.findings.find import findings
from model.forecast.alerts import alerts
from model.forecast.due import due_items
from model.forecast.exposure import exposure
from model.forecast.points import point_waters
from model.forecast.situation import Situation
from model.home import Home
from model.records.events import Absence, AnyEvent, FindingAnswered, Guests

_APART = timedelta(days=7)
_DAY = timedelta(days=1)

Lines = tuple[str, ...]


class Exposed(NamedTuple):
    """A line, and the first and the last day of one time that it stood."""

    first: date
    last: date
    line: str


def exposed(home: Home, start: date, end: date) -> list[Exposed]:
    """Every line that stood between two days, both counted, by what is on record now; by its first day."""
    on = cache(partial(_lines, home))
    days = [day for before, after in pairwise(_looked_at(home, start, end)) for day in _between(before, after, on)]
    found: list[Exposed] = []
    begun: dict[str, date] = {}
    last = start
    for day in [*dict.fromkeys((start, *days, end))]:
        for line in [line for line in begun if line not in on(day)]:
            found.append(Exposed(begun.pop(line), last, line))
        begun = {line: begun.get(line, day) for line in on(day)}
        last = day
    found += [Exposed(first, end, line) for line, first in begun.items()]
    return sorted(found)


def _looked_at(home: Home, start: date, end: date) -> list[date]:
    """The days to look at, in order; where nothing is on record no two are further apart than a week."""
    changed = {day for event in home.events for day in _changes(event)}
    days = sorted({start, end, *(day for one in changed for day in (one - _DAY, one) if start <= day <= end)})
    found: list[date] = []
    for day in days:
        while found and day - found[-1] > _APART:
            found.append(found[-1] + _APART)
        found.append(day)
    return found


def _changes(event: AnyEvent) -> Iterator[date]:
    """The days on which something changes by an event: its own, and that on which it is over."""
    yield event.on
    if isinstance(event, Absence | Guests):
        yield event.until + _DAY
    if isinstance(event, FindingAnswered) and event.until is not None:
        yield event.until


def _between(before: date, after: date, on: Callable[[date], Lines]) -> Iterator[date]:
    """Both days, and those between on which lines come or go, with the day before each."""
    if after - before > _DAY and on(before) != on(after):
        middle = before + (after - before) // 2
        yield from _between(before, middle, on)
        yield from _between(middle, after, on)
        return
    yield from (before, after)


def _lines(home: Home, day: date) -> Lines:
    now = Situation(home, day, brief=True)
    return exposure(now, due_items(now), alerts(now, point_waters(now)), findings(now))
