"""The chance that a stock has run out by a day, and the day on which that chance is reached."""

from __future__ import annotations

from datetime import date, timedelta
from math import erf, log, sqrt

from model.equipment.base import Stock
from model.forecast.demand import Demand

FURTHEST_DAYS = 12_000
_FIRST_STEP = 64
_LARGEST_SPREAD = 1.5


def chance_out(stock: Stock, demand: Demand, day: date) -> float:
    """Chance that the stock's threshold was passed by `day`, 0-1.

    Use and stock are taken as log-normal: P = Phi(ln(used / left) / spread), the spread joining that of the draw, of
    the level when it was known and of the water still to be used.
    Source: product and ratio of log-normal variables, e.g. Crow and Shimizu, Lognormal Distributions, 1988.
    """
    if stock.left <= 0:
        return 1.0
    used, still_to_come = _used(stock, demand, day)
    if used / stock.left <= 0:  # nothing used, or too little for a float
        return 0.0
    return 0.5 * (1.0 + erf(log(used / stock.left) / _spread(stock, demand, day, still_to_come) / sqrt(2.0)))


def expected_left(stock: Stock, demand: Demand, day: date) -> float:
    """What is expected to be left above the threshold on a day, in the stock's unit, never below zero."""
    return max(stock.left - _used(stock, demand, day)[0], 0.0)


def day_of_chance(stock: Stock, demand: Demand, chance: float) -> date | None:
    """The first day on which the chance of having run out is at least `chance`; None if further than 33 years."""
    low, high = 0, _FIRST_STEP
    while chance_out(stock, demand, stock.since + timedelta(days=high)) < chance:
        if high >= FURTHEST_DAYS:
            return None
        low, high = high + 1, min(4 * high, FURTHEST_DAYS)
    while low < high:
        middle = (low + high) // 2
        if chance_out(stock, demand, stock.since + timedelta(days=middle)) >= chance:
            high = middle
        else:
            low = middle + 1
    return stock.since + timedelta(days=low)


def _used(stock: Stock, demand: Demand, day: date) -> tuple[float, float]:
    """Expected use since the level was known, and which share of it is still to come through the house."""
    days = max((day - stock.since).days, 0)
    water = stock.per_litre * demand.litres(stock.since, day, stock.least_l_per_day) if days else 0.0
    used = water + stock.per_day * days
    if used <= 0 or day <= demand.today:
        return used, 0.0
    coming = demand.litres(max(demand.today, stock.since), day, stock.least_l_per_day)
    return used, stock.per_litre * coming / used


def _spread(stock: Stock, demand: Demand, day: date, still_to_come: float) -> float:
    water = still_to_come * demand.forecast_log_sd((day - demand.today).days)
    level = min(stock.left_sd / stock.left, 1.0)
    return float(min(max((stock.spread**2 + level**2 + water**2) ** 0.5, 0.005), _LARGEST_SPREAD))
