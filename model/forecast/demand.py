"""Water use day by day, past and to come, through the treated house."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import accumulate
from math import exp, log

from model.forecast.intervals import Interval, intervals
from model.forecast.level import DAY_SD, Level, Seen, learn
from model.forecast.use import (
    BETWEEN_HOUSES_GSD,
    PERSON_L_PER_DAY,
    away_days,
    known_l_per_day,
    ro_product_l_per_day,
)
from model.home import House
from model.records.history import History

HORIZON_DAYS = 1200
DRIFT_PER_YEAR = 0.08
"""How far a household's level wanders in a year, in natural logs. Common practice, no source."""


class Demand:
    """Litres a day through the treated house: metered where the meter was read, else forecast.

    Untreated hose water is left out. Days away count nothing.
    """

    def __init__(self, house: House, history: History, since: date) -> None:
        self.today = history.today
        self.since = min(since, self.today)
        self._house = house
        self._away = away_days(history)
        self._known = [0.0] + [known_l_per_day(house, month, hose=False) for month in range(1, 13)]
        self._hose = [0.0] + [known_l_per_day(house, month, hose=True) for month in range(1, 13)]
        metered, self.problems = intervals(house, history)
        self.level = self._learn(metered)
        self.last_read = metered[-1].end if metered else None
        self._days = self._day_by_day(metered)
        self._cumulative = [0.0, *accumulate(self._days)]
        self._tail = sum(self._days[-365:]) / 365.0

    def _learn(self, metered: tuple[Interval, ...]) -> Level:
        prior = max(self._house.people, 0.2) * PERSON_L_PER_DAY
        seen = [found for one in metered if (found := self._seen(one)) is not None]
        return learn(prior, log(BETWEEN_HOUSES_GSD), seen, self.today)

    def _seen(self, interval: Interval) -> Seen | None:
        """What an interval says of the people's own use, with the hose and the named uses taken off."""
        days = [day for day in _span(interval.start, interval.end) if day not in self._away]
        if not days:
            return None
        named = sum(self._known[day.month] for day in days)
        own = max(self._house_litres(interval) - named, 0.1 * interval.litres, 1.0)
        return Seen(days[len(days) // 2], float(len(days)), own / len(days))

    def _house_litres(self, interval: Interval) -> float:
        if self._house.meter_reads == "house":
            return interval.litres
        hose = sum(self._hose[day.month] for day in _span(interval.start, interval.end) if day not in self._away)
        return max(interval.litres - hose, 0.2 * interval.litres)

    def _day_by_day(self, metered: tuple[Interval, ...]) -> list[float]:
        count = (self.today - self.since).days + HORIZON_DAYS
        by_day = [self.level.litres_per_day(k) for k in range(367)]
        shape = [
            0.0 if day in self._away else by_day[day.timetuple().tm_yday] + self._known[day.month]
            for day in (self.since + timedelta(days=k) for k in range(count))
        ]
        for interval in metered:
            self._scale(shape, interval)
        return shape

    def _scale(self, shape: list[float], interval: Interval) -> None:
        """Make the days of a metered interval add up to what the meter said."""
        low, high = (max((edge - self.since).days, 0) for edge in (interval.start, interval.end))
        expected = sum(shape[low:high])
        days = (interval.end - interval.start).days
        share = (high - low) / days
        if high > low and expected > 0:
            factor = self._house_litres(interval) * share / expected
            shape[low:high] = [litres * factor for litres in shape[low:high]]
        elif high > low:
            shape[low:high] = [interval.litres / days] * (high - low)

    def litres(self, start: date, end: date) -> float:
        """House use from one day to another [L], the first counted and the last not."""
        return self._up_to(end) - self._up_to(start)

    def _up_to(self, day: date) -> float:
        k = (day - self.since).days
        last = len(self._days)
        if k < 0:
            return k * self.per_day_on(self.since)
        return self._cumulative[k] if k <= last else self._cumulative[last] + (k - last) * self._tail

    def per_day_on(self, day: date) -> float:
        """Expected use of one day at home [L/day]."""
        return self.level.litres_per_day(day.timetuple().tm_yday) + self._known[day.month]

    def per_day(self) -> float:
        """Expected mean use over the next four weeks at home [L/day]."""
        return sum(self.per_day_on(self.today + timedelta(days=k)) for k in range(28)) / 28.0

    def year_litres(self) -> float:
        """Expected use of the next 365 days [L]."""
        return self.litres(self.today, self.today + timedelta(days=365))

    def forecast_log_sd(self, days: int) -> float:
        """Spread of the use summed over the coming days, in natural logs: level, drift and day-to-day."""
        if days <= 0:
            return 0.0
        level = self.level.log_sd(self.today.timetuple().tm_yday)
        drift = DRIFT_PER_YEAR**2 * days / 365.0
        return float((level**2 + drift + DAY_SD**2 / days) ** 0.5)

    def ro_product_l_per_day(self) -> float:
        """Water drawn at the RO tap [L/day]."""
        return ro_product_l_per_day(self._house)

    def basis(self) -> str:
        """What the forecast rests on, in words."""
        if self.last_read is None:
            spread = exp(self.level.log_sd(1))
            each = f"{PERSON_L_PER_DAY:g} L a day each"
            return f"{self._house.people:g} people at {each}, right within a factor {spread:.1f}"
        return f"{self.level.seen} meter intervals, the last read {self.last_read}"


def _span(start: date, end: date) -> list[date]:
    return [start + timedelta(days=k) for k in range((end - start).days)]
