"""The chance that a stock has run out by a day, and the day on which that chance is reached."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date, timedelta
from math import erf, exp, log, sqrt
from typing import NamedTuple

from model.equipment.base import Stock
from model.forecast.demand import Demand

FURTHEST_DAYS = 12_000
_FIRST_STEP = 64
_LEAST_SPREAD, _LARGEST_SPREAD = 0.005, 1.5

_NEAR_EMPTY_SHARE = 0.25
"""Level error over what is left from which the level counts as normal instead of log-normal."""

_NODES = (
    (0.0, 0.40634920634920635),
    (1.0232556637891326, 0.2440975028949394),
    (2.0768479786778302, 0.04991640676521787),
    (3.205429002856470, 0.002789141321231769),
    (4.512745863399783, 2.234584400774658e-05),
)
"""Nodes and weights of the standard normal. Source: Gauss-Hermite quadrature of nine points, Abramowitz and Stegun,
table 25.10, on the normal's scale."""


class Used(NamedTuple):
    """Expected use since the level was known [the stock's unit], and its spread in natural logs."""

    amount: float
    spread: float


def chance_out(stock: Stock, demand: Demand, day: date) -> float:
    """Chance that the stock's threshold was passed by `day`, 0-1.

    Use is log-normal: the draw's spread and the water's. The level is log-normal, P = Phi(ln(used / left) / s) with
    s^2 = s_use^2 + (sd / left)^2 - 2 cov / left, until its error nears what is left; then it is normal, averaged over
    nine points of the use.
    Source: product and ratio of log-normal variables, e.g. Crow and Shimizu, Lognormal Distributions, 1988.
    """
    if stock.left <= 0:
        return 1.0
    used = used_by(stock, demand, day)
    if used.amount / stock.left <= 0:  # nothing used, or too little for a float
        return 0.0
    # A stock that goes in steps runs out up to half a step before or after its mean does: a uniform error.
    level_sd = sqrt(stock.left_sd**2 + stock.step**2 / 12.0)
    if level_sd <= _NEAR_EMPTY_SHARE * stock.left:
        joint = used.spread**2 + (level_sd**2 / stock.left - 2.0 * stock.covariance) / stock.left
        spread = min(max(sqrt(max(joint, 0.0)), _LEAST_SPREAD), _LARGEST_SPREAD)
        return _phi(log(used.amount / stock.left) / spread)
    return _near_empty(stock, used, level_sd)


def _near_empty(stock: Stock, used: Used, level_sd: float) -> float:
    """The level normal, given each of nine points of the use."""
    lean = stock.covariance / used.spread
    rest = sqrt(max(level_sd**2 - lean**2, (0.3 * level_sd) ** 2))
    return sum(
        weight * _phi((used.amount * exp(used.spread * node) - stock.left - lean * node) / rest)
        for place, weight in _NODES
        for node in ((place, -place) if place else (0.0,))
    )


def _phi(z: float) -> float:
    return 0.5 * (1.0 + erf(z / sqrt(2.0)))


def expected_left(stock: Stock, demand: Demand, day: date) -> float:
    """What is expected to be left above the threshold on a day, in the stock's unit, never below zero."""
    return max(stock.left - used_by(stock, demand, day).amount, 0.0)


def likely_out(stock: Stock, demand: Demand, day: date) -> float:
    """As `chance_out`, with the trips that this household is likely to make and nobody has written down yet.

    The number of trips to come is Poisson; given any, they take half or one and a half times their mean together.
    For the window that is shown, never for the day to act: a trip that may come postpones nothing.
    """
    coming = (day - max(demand.today, stock.since)).days
    stays = chance_out(stock, demand, day)
    if coming <= 0 or stock.per_litre <= 0.0 or stays <= 0.0:
        return stays
    trips = demand.trips.a_day * coming
    none = exp(-trips)
    away = trips * demand.trips.days / (1.0 - none)
    parts = [chance_out(stock, demand, day - timedelta(days=min(round(share * away), coming))) for share in (0.5, 1.5)]
    return none * stays + (1.0 - none) * sum(parts) / 2.0


def days_of_chances(
    stock: Stock, demand: Demand, chances: Iterable[float], chance_by: Callable[[Stock, Demand, date], float]
) -> list[date | None]:
    """As `day_of_chance` for several rising chances, each looked for from the day of the one before on."""
    found: list[date | None] = []
    start: date | None = stock.since
    for chance in chances:
        if start is not None:
            start = _first_day(stock.since, lambda day: chance_by(stock, demand, day) >= chance, start)  # noqa: B023
        found.append(start)
    return found


def day_of_chance(
    stock: Stock, demand: Demand, chance: float, chance_by: Callable[[Stock, Demand, date], float] = chance_out
) -> date | None:
    """The first day on which the chance of having run out is at least `chance`; None if further than 33 years.

    `chance_by`: `chance_out`, or `likely_out` for a window.
    """
    return _first_day(stock.since, lambda day: chance_by(stock, demand, day) >= chance)


def day_used_up(stock: Stock, demand: Demand) -> date | None:
    """The first day on which what was left is expected to be used up; None if further than 33 years."""
    if stock.left <= 0.0:
        return stock.since
    return _first_day(stock.since, lambda day: _drawn(stock, demand, stock.since, day)[1] >= stock.left)


def _first_day(since: date, holds: Callable[[date], bool], start: date | None = None) -> date | None:
    """The first day from `since` on which something holds that then holds for good; not before `start`."""
    low = (start - since).days if start is not None else 0
    step = _FIRST_STEP
    high = min(low + step, FURTHEST_DAYS)
    while not holds(since + timedelta(days=high)):
        if high >= FURTHEST_DAYS:
            return None
        low, step = high + 1, 3 * step
        high = min(high + step, FURTHEST_DAYS)
    while low < high:
        middle = (low + high) // 2
        if holds(since + timedelta(days=middle)):
            high = middle
        else:
            low = middle + 1
    return since + timedelta(days=low)


def used_by(stock: Stock, demand: Demand, day: date) -> Used:
    """Expected use from when the level was known to a day, with the spread of the draw and of the water that no meter
    has counted yet."""
    days = max((day - stock.since).days, 0)
    water, used = _drawn(stock, demand, stock.since, day) if days else (0.0, 0.0)
    if used <= 0.0:
        return Used(0.0, _held(stock.spread))
    start = max(demand.today if stock.as_if_read else demand.read_until, stock.since)
    share = _drawn(stock, demand, start, day)[0] / used if water > 0.0 and day > start else 0.0
    if share <= 0.0:
        return Used(used, _held(stock.spread))
    coming = (day - start).days
    level = stock.water_known * demand.level_log_sd(start, coming)
    return Used(used, _held(sqrt(stock.spread**2 + share**2 * (level**2 + demand.noise_log_sd(coming) ** 2))))


def _held(spread: float) -> float:
    return min(max(spread, _LEAST_SPREAD), _LARGEST_SPREAD)


def _drawn(stock: Stock, demand: Demand, start: date, end: date) -> tuple[float, float]:
    """What the water draws between two days, and what is drawn in all, each change of the draw from its day on."""
    water = total = 0.0
    for low, high, per_litre, per_day, least in _pieces(stock, start, end):
        by_water = per_litre * demand.litres(low, high, least)
        water += by_water
        total += by_water + per_day * (high - low).days
    return water, total


def _pieces(stock: Stock, start: date, end: date) -> list[tuple[date, date, float, float, float]]:
    found, low = [], start
    now = (stock.per_litre, stock.per_day, stock.least_l_per_day)
    for change in stock.later:
        if change.on > low and low < end:
            found.append((low, min(change.on, end), *now))
            low = min(change.on, end)
        now = (change.per_litre, change.per_day, change.least_l_per_day)
    if low < end:
        found.append((low, end, *now))
    return found
