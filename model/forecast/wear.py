"""One job's services to come, if the water use and the draw turn out so many standard deviations off."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from datetime import date, timedelta
from functools import cached_property
from itertools import accumulate
from math import exp
from typing import NamedTuple

from model.equipment.base import Job, Stock
from model.forecast.chance import day_of_chance, expected_left
from model.forecast.demand import Demand
from model.forecast.needs import MOST_REFILLS, cap_after, usable_of
from model.forecast.normal import SHARED_POINTS, points
from model.forecast.situation import Situation
from model.plan_types import Due


class Service(NamedTuple):
    """A service on a day [counted from today], and the share of a full stock that it puts back, 0-1."""

    day: int
    share: float


class Coming:
    """Litres of the coming days, summed from today, at each point of the water use that all stages share."""

    def __init__(self, demand: Demand, today: date, days: int) -> None:
        self._demand, self._today, self.days = demand, today, days
        self._by_least: dict[float, list[list[float]]] = {}

    @cached_property
    def _factors(self) -> list[list[float]]:
        spreads = [self._demand.forecast_log_sd(day) for day in range(self.days + 1)]
        return [[exp(point * spread) for spread in spreads] for point in points(SHARED_POINTS)]

    def litres(self, point: int, least_l_per_day: float) -> list[float]:
        """Litres by the end of so many days; never falling. `point`: which of the points, 0 the driest."""
        if least_l_per_day not in self._by_least:
            self._by_least[least_l_per_day] = self._summed(least_l_per_day)
        return self._by_least[least_l_per_day][point]

    def _summed(self, least_l_per_day: float) -> list[list[float]]:
        ends = (self._today + timedelta(days=day) for day in range(self.days + 1))
        sums = [self._demand.litres(self._today, end, least_l_per_day) for end in ends]
        return [
            list(accumulate((litres * factor for litres, factor in zip(sums, factors, strict=True)), max))
            for factors in self._factors
        ]


class Wear:
    """A job that a stock drives: what is left, what goes, the margin at which this owner acts, the calendar cap."""

    def __init__(self, now: Situation, job: Job, item: Due, stock: Stock) -> None:
        self.stock, self.by_water = stock, stock.per_litre > 0
        self._job, self._today = job, now.today
        self._margin = acts_at(now, job, stock)
        self._usable = usable_of(stock, self._margin)
        self._used = stock.left - expected_left(stock, now.demand, now.today) if stock.left > 0 else 0.0
        level = (stock.left_sd**2 / stock.left - 2.0 * stock.covariance) / stock.left if stock.left > 0 else 0.0
        self._first_spread = float((stock.spread**2 + min(max(level, 0.0), 1.0)) ** 0.5)
        self._first_cap = max((item.cap_on - now.today).days, 0) if item.cap_on else None
        self._caps: dict[int, int] = {}

    def grid(self, coming: Coming, point: int) -> tuple[Sequence[float], float]:
        """What grows by the day, and how much of the stock goes for each of it."""
        stock, days = self.stock, range(coming.days + 1)
        if stock.per_litre <= 0:
            return days, stock.per_day
        litres = coming.litres(point, stock.least_l_per_day)
        if stock.per_day <= 0:
            return litres, stock.per_litre
        return [stock.per_litre * one + stock.per_day * day for one, day in zip(litres, days, strict=True)], 1.0

    def services(self, grid: Sequence[float], pace: float, own: float) -> list[Service]:
        """The services of the coming days: at the margin, or on the day of the cap.

        `own`: how many standard deviations this consumable goes faster than expected, the water use apart.
        """
        if pace <= 0:
            return []
        stock, last = self.stock, len(grid) - 1
        first, later = exp(self._first_spread * own), exp(stock.spread * own)
        day = bisect_left(grid, ((stock.left - self._margin) / first - self._used) / pace)
        day = day if self._first_cap is None else min(day, self._first_cap)
        gone = stock.full - stock.left + (self._used + grid[min(day, last)] * pace) * first
        found: list[Service] = []
        while day < last and len(found) < MOST_REFILLS:
            found.append(Service(day, min(max(gone / stock.full, 0.0), 1.0) if stock.full > 0 else 1.0))
            after = bisect_left(grid, grid[day] + self._usable / later / pace, day + 1)
            after = max(min(after, self._cap_after(day)), day + 1)
            gone = (grid[min(after, last)] - grid[day]) * pace * later
            day = after
        return found

    def _cap_after(self, day: int) -> int:
        if day not in self._caps:
            self._caps[day] = (cap_after(self._today + timedelta(days=day), self._job) - self._today).days
        return self._caps[day]


def acts_at(now: Situation, job: Job, stock: Stock) -> float:
    """The margin at which this owner acts: what is expected to be left on the day the risk is reached."""
    risk = risk_of(now, job)
    on = day_of_chance(stock, now.demand, risk)
    if job.health and stock.per_litre:
        days = (on, day_of_chance(stock, now.unread_demand, risk))
        on = min((day for day in days if day is not None), default=None)
    return 0.0 if on is None else expected_left(stock, now.demand, on)


def risk_of(now: Situation, job: Job) -> float:
    """The owner's risk of running out for this job, 0-1."""
    return now.house.risk_health if job.health or job.careful else now.house.risk_other
