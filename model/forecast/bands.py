"""How sure a forecast is: 10, 50 and 90 % of water use and of what is left, day by day. The one place that asks."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from math import exp

from model.equipment.base import Stock
from model.forecast.demand import DRIFT_PER_YEAR
from model.forecast.level import DAY_SD
from model.forecast.situation import Situation

Three = tuple[float, float, float]

TENTH = 1.2816
"""Standard deviations from the middle to the 10 and the 90 % point. Source: the normal distribution."""

_MEAN_OF_DAYS = 28
_LARGEST_SPREAD = 1.5


def use_band(now: Situation, days: Sequence[date]) -> list[Three]:
    """10, 50 and 90 % of the treated house's use [L/day], as a mean of four weeks around each day; 0 on days away."""
    found = []
    for day in days:
        middle = now.demand.litres(day, day + timedelta(days=1))
        drift = DRIFT_PER_YEAR**2 * max((day - now.today).days, 0) / 365.0
        level = now.demand.level.log_sd(day.timetuple().tm_yday)
        sd = (level**2 + drift + DAY_SD**2 / _MEAN_OF_DAYS) ** 0.5
        found.append((middle * exp(-TENTH * sd), middle, middle * exp(TENTH * sd)))
    return found


def left_band(now: Situation, stock: Stock, days: Sequence[date]) -> list[Three]:
    """10, 50 and 90 % of what is left above the line, in the stock's unit, never below 0.

    Each comes to 0 on the day on which `chance_out` comes to 90, 50 and 10 %: use and level are log-normal, and a
    deviation is shared among them by their variances.
    """
    if stock.left <= 0.0:
        return [(0.0, 0.0, 0.0) for _ in days]
    return [_left(now, stock, day) for day in days]


def _left(now: Situation, stock: Stock, day: date) -> Three:
    used, of_use = _used(now, stock, day)
    of_level = min(stock.left_sd / stock.left, 1.0)
    spread = min(max((of_level**2 + of_use**2) ** 0.5, 0.005), _LARGEST_SPREAD)

    def at(deviation: float) -> float:
        by_level, by_use = deviation * of_level**2 / spread, deviation * of_use**2 / spread
        return max(stock.left * exp(-by_level) - used * exp(by_use), 0.0)

    return at(TENTH), at(0.0), at(-TENTH)


def _used(now: Situation, stock: Stock, day: date) -> tuple[float, float]:
    """Expected use since the level was known, and its spread in natural logs."""
    days = max((day - stock.since).days, 0)
    water = stock.per_litre * now.demand.litres(stock.since, day, stock.least_l_per_day) if days else 0.0
    used = water + stock.per_day * days
    if used <= 0.0:
        return 0.0, 0.0
    if day <= now.today:
        return used, stock.spread
    coming = stock.per_litre * now.demand.litres(max(now.today, stock.since), day, stock.least_l_per_day) / used
    return used, float((stock.spread**2 + (coming * now.demand.forecast_log_sd((day - now.today).days)) ** 2) ** 0.5)
