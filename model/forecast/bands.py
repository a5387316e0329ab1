"""How sure a forecast is: 10, 50 and 90 % of water use and of what is left, day by day. The one place that asks."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from math import exp, sqrt

from model.equipment.base import Stock
from model.forecast.chance import used_by
from model.forecast.normal import Z90
from model.forecast.situation import Situation

Three = tuple[float, float, float]

_MEAN_OF_DAYS = 28
_LARGEST_SPREAD = 1.5


def use_band(now: Situation, days: Sequence[date]) -> list[Three]:
    """10, 50 and 90 % of the treated house's use [L/day], as a mean of four weeks around each day; 0 on days away."""
    found = []
    for day in days:
        middle = now.demand.litres(day, day + timedelta(days=1))
        sd = sqrt(now.demand.level_log_sd(day, _MEAN_OF_DAYS) ** 2 + now.demand.noise_log_sd(_MEAN_OF_DAYS) ** 2)
        found.append((middle * exp(-Z90 * sd), middle, middle * exp(Z90 * sd)))
    return found


def left_band(now: Situation, stock: Stock, days: Sequence[date]) -> list[Three]:
    """10, 50 and 90 % of what is left above the line, in the stock's unit, never below 0.

    Each comes to 0 on the day on which `chance_out` comes to 90, 50 and 10 % while the level's error is small beside
    it: a deviation is shared between use and level by their variances.
    """
    if stock.left <= 0.0:
        return [(0.0, 0.0, 0.0) for _ in days]
    return [_left(now, stock, day) for day in days]


def _left(now: Situation, stock: Stock, day: date) -> Three:
    used = used_by(stock, now.demand, day)
    of_level = max((stock.left_sd**2 + stock.step**2 / 12.0) / stock.left - 2.0 * stock.covariance, 0.0) / stock.left
    of_level, of_use = min(of_level, 1.0), used.spread**2 if used.amount > 0.0 else 0.0
    spread = min(max(sqrt(of_level + of_use), 0.005), _LARGEST_SPREAD)

    def at(deviation: float) -> float:
        by_level, by_use = deviation * of_level / spread, deviation * of_use / spread
        return max(stock.left * exp(-by_level) - used.amount * exp(by_use), 0.0)

    return at(Z90), at(0.0), at(-Z90)
