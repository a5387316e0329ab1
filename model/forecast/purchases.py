"""What is paid for the supplies that are used together, at every point of the uncertainty."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable
from datetime import date
from math import ceil
from typing import NamedTuple

import msgspec

from model.equipment.base import Job
from model.equipment.registry import AnyStage
from model.forecast.due import due_item
from model.forecast.needs import Need, deciding, needs_of, supplied_jobs, taken
from model.forecast.normal import OWN_POINTS, SHARED_POINTS, points
from model.forecast.shelf import on_shelf, price_of
from model.forecast.situation import Situation
from model.forecast.wear import Coming, Wear
from model.home import Supply


class Paid(NamedTuple):
    """One supply at one point: cash by month, and how much of it is used, in its unit."""

    months: list[float]
    used: float


_Needs = list[tuple[int, float]]
"""Day, counted from today, and quantity needed then."""

Point = dict[str, Paid]
"""Supply -> what is paid for it."""


class Group(msgspec.Struct, frozen=True):
    """Supplies that jobs take together, so that they share one draw of their own.

    `points` holds, for each point of the shared water use, one `Point` for each of the group's own points. Where
    nothing is uncertain there is one of each; where the water use does not matter, one shared point.
    """

    points: list[list[Point]]

    def at(self, shared: int) -> list[tuple[Point, float]]:
        """The group's own points with their weights, at one point of the shared water use."""
        own = self.points[shared if len(self.points) > 1 else 0]
        return [(point, 1.0 / len(own)) for point in own]


class _Taker(msgspec.Struct, frozen=True):
    """A job that takes supplies: by its wear, or on days that only the calendar gives."""

    takes: dict[str, float]
    refills: bool = False
    wear: Wear | None = None
    dated: tuple[Need, ...] = ()


def groups_of(now: Situation, starts: list[date], counts: Callable[[Job], bool]) -> list[Group]:
    """Every group of supplies over months that start on `starts`, the last entry being the end.

    `counts`: whether a job is counted.
    """
    known = {supply.id: supply for supply in now.house.supplies}
    takers = [
        taker
        for stage, job in supplied_jobs(now)
        if counts(job) and (taker := _taker(now, stage, job, starts[-1], known)) is not None
    ]
    coming = Coming(now.demand, now.today, (starts[-1] - now.today).days)
    till = _Till(now, starts, known)
    return [_group(members, till, coming) for members in _together(takers)]


def _taker(now: Situation, stage: AnyStage, job: Job, until: date, known: dict[str, Supply]) -> _Taker | None:
    item = due_item(now, stage, job)
    if item is None:
        return None
    stock = deciding(now, stage, item, job)
    takes = {supply: amount for supply, amount in taken(stage, job, stock).items() if supply in known}
    if not takes:
        return None
    if stock is None:
        return _Taker(takes, dated=tuple(one for one in needs_of(now, stage, job, until) if one.supply in known))
    return _Taker(takes, bool(stock.refills), Wear(now, job, item, stock))


def _together(takers: list[_Taker]) -> list[list[_Taker]]:
    """Takers joined that take a supply in common, directly or through others."""
    groups: list[tuple[set[str], list[_Taker]]] = []
    for taker in takers:
        names, members = set(taker.takes), [taker]
        apart = []
        for other in groups:
            if other[0] & names:
                names, members = names | other[0], other[1] + members
            else:
                apart.append(other)
        groups = [*apart, (names, members)]
    return [members for _, members in groups]


class _Till:
    """Where supplies are paid: the shelf first, then whole packs on the day of need, at the newest receipt's price."""

    def __init__(self, now: Situation, starts: list[date], known: dict[str, Supply]) -> None:
        self.today = now.today
        self._starts = [(start - now.today).days for start in starts]
        self._shelf = on_shelf(now)
        self._packs = {one.id: (one.pack, price_of(now, one)[0]) for one in known.values()}

    def pay(self, supply: str, needs: _Needs) -> Paid:
        """What needs (day, quantity) cost by month."""
        pack, price = self._packs[supply]
        there, used = self._shelf[supply], 0.0
        months = [0.0] * (len(self._starts) - 1)
        for day, quantity in sorted(needs):
            short = quantity - there
            packs = ceil(short / pack - 1e-9) if short > 1e-9 else 0
            there += packs * pack - quantity
            used += quantity
            if packs:
                months[bisect_right(self._starts, day) - 1] += packs * price
        return Paid(months, used)


def _group(takers: list[_Taker], till: _Till, coming: Coming) -> Group:
    dated: dict[str, _Needs] = {name: [] for taker in takers for name in taker.takes}
    for need in (need for taker in takers for need in taker.dated):
        dated[need.supply].append(((need.on - till.today).days, need.quantity))
    worn = [(taker, taker.wear) for taker in takers if taker.wear is not None]
    if not worn:
        return Group([[{name: till.pay(name, needs) for name, needs in dated.items()}]])
    shared = range(SHARED_POINTS if any(wear.by_water for _, wear in worn) else 1)
    return Group([_own_points(worn, dated, till, coming, point) for point in shared])


def _own_points(
    worn: list[tuple[_Taker, Wear]], dated: dict[str, _Needs], till: _Till, coming: Coming, point: int
) -> list[Point]:
    """What is paid at each of the group's own points, at one point of the shared water use."""
    grids = [wear.grid(coming, point) for _, wear in worn]
    found = []
    for own in points(OWN_POINTS):
        needs = {name: list(days) for name, days in dated.items()}
        for (taker, wear), (grid, pace) in zip(worn, grids, strict=True):
            for day, share in wear.services(grid, pace, own):
                for name, amount in taker.takes.items():
                    needs[name].append((day, amount * share if taker.refills else amount))
        found.append({name: till.pay(name, days) for name, days in needs.items()})
    return found
