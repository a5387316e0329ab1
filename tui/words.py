"""How dates, states and amounts are said on the screens."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

from model.plan_types import Amount
from model.records.names import amount_of
from model.units import System, inside_unit, show

if TYPE_CHECKING:
    from model.forecast.visits import PartReady

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
_NEAR = timedelta(days=300)


def day_words(day: date, today: date) -> str:
    """A day in plain words: "Thu 26 Nov"; with the year instead of the weekday where the year could be mistaken."""
    month = MONTHS[day.month - 1]
    if abs(day - today) < _NEAR:
        return f"{_DAYS[day.weekday()]} {day.day} {month}"
    return f"{day.day} {month} {day.year}"


def short_day(day: date, today: date) -> str:
    """A day for narrow columns: "26 Nov", or "Nov 2027" when far."""
    month = MONTHS[day.month - 1]
    return f"{day.day} {month}" if abs(day - today) < _NEAR else f"{month} {day.year}"


def span_words(earliest: date | None, latest: date | None, today: date) -> str:
    """A window of two days: "28 Nov to 9 Dec", empty without one."""
    if earliest is None or latest is None:
        return ""
    return f"{short_day(earliest, today)} to {short_day(latest, today)}"


def from_now(day: date, today: date, *, short: bool = False) -> str:
    """How far away: "3 days late", "today", "tomorrow", "in 12 days", "in 5 weeks"; short: "3 d late", "in 5 wk"."""
    days = (day - today).days
    if days < 0:
        return f"{_length(-days, short)} late"
    if days < 2:
        return ("today", "tomorrow")[days]
    return f"in {_length(days, short)}"


_LENGTHS = (("year", "yr", 365, 730), ("month", "mo", 30, 90), ("week", "wk", 7, 28), ("day", "d", 1, 0))


def _length(days: int, short: bool) -> str:
    long, brief, size, _ = next(row for row in _LENGTHS if days >= row[3])
    count = days // size
    return f"{count} {brief}" if short else f"{count} {long}{'' if count == 1 else 's'}"


def gauge(share: float | None, width: int = 8, *, known: bool = True) -> str:
    """A stock as text: "[####----]", "[????????]" of which nothing is known; empty where there is no full to compare
    with."""
    if share is None:
        return ""
    if not known:
        return f"[{'?' * width}]"
    filled = round(min(max(share, 0.0), 1.0) * width)
    return f"[{'#' * filled}{'-' * (width - filled)}]"


_DIMENSIONS = ("volume", "mass", "length", "pressure", "lit_time", "percent")


def amount_words(amount: Amount | None, system: System) -> str:
    """An amount in the owner's units: "68 lb"; as it is where it is no measured quantity ("2 each")."""
    if amount is None:
        return ""
    for dimension in _DIMENSIONS:
        if inside_unit(dimension) == amount.unit:
            return show(amount.value, dimension, system)
    return f"{amount.value:,.3g} {amount.unit}"


def part_words(part: PartReady, units: System) -> str:
    """A supply, how much of it, and what the shelf lacks."""
    needed, there, lacks = (amount_of(one, part.unit, units) for one in (part.needed, part.on_shelf, part.lacks))
    shelf = f"LACKING {lacks}, the shelf has {there}" if part.lacks > 0 else f"the shelf has {there}"
    return f"{needed} {part.title} ({shelf})"
