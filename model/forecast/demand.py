"""Water use day by day, past and to come, through the treated house."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import accumulate
from math import exp, log

import msgspec

from model.forecast.almanac import almanac
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


class _Treated(msgspec.Struct, frozen=True, gc=False):
    """Litres of treated water between two days, counted from `since`."""

    low: int
    high: int
    litres: float


class Demand:
    """Litres a day through the treated house: metered where the meter was read, else forecast.

    Untreated hose water is left out. Days away count nothing.
    """

    def __init__(
        self,
        house: House,
        history: History,
        since: date,
        people: tuple[tuple[date, float], ...] = (),
        *,
        read_meter: bool = True,
    ) -> None:
        self.today = history.today
        self.since = min(since, self.today)
        self._house = house
        self._months, self._days_of_year = almanac(self.since, (self.today - self.since).days + HORIZON_DAYS)
        self._home = self._days_at_home(away_days(history))
        self._known = [0.0] + [known_l_per_day(house, month, hose=False) for month in range(1, 13)]
        self._household = self._household_share(people)
        metered, self.problems = intervals(house, history) if read_meter else ((), ())
        self._treated = self._without_hose(metered)
        self.level = self._learn()
        self._level_sd = self.level.log_sd(self.today.timetuple().tm_yday)
        self.last_read = metered[-1].end if metered else None
        self._days = self._day_by_day()
        self._sums: dict[float, list[float]] = {0.0: [0.0, *accumulate(self._days)]}
        self._per_day = sum(self.per_day_on(self.today + timedelta(days=k)) for k in range(28)) / 28.0

    def _household_share(self, people: tuple[tuple[date, float], ...]) -> list[float]:
        """People of each day over the people of today: a known change of the household."""
        share = [1.0] * len(self._months)
        for on, before in people:
            upto = min(max((on - self.since).days, 0), len(share))
            share[:upto] = [_people(before) / _people(self._house.people)] * upto
        return share

    def _days_at_home(self, away: frozenset[date]) -> list[int]:
        """1 for each day at home, 0 for each day away."""
        home = [1] * len(self._months)
        for day in away:
            if 0 <= (k := (day - self.since).days) < len(home):
                home[k] = 0
        return home

    def _without_hose(self, metered: tuple[Interval, ...]) -> list[_Treated]:
        """The metered intervals as litres through the treated house. One from before `since` counts only in part."""
        hose = [0.0] + [known_l_per_day(self._house, month, hose=True) for month in range(1, 13)]
        if self._house.meter_reads == "house":
            hose = [0.0] * 13
        watered = [0.0, *accumulate(hose[month] * home for month, home in zip(self._months, self._home, strict=True))]
        found = []
        for one in metered:
            low, high = max((one.start - self.since).days, 0), (one.end - self.since).days
            if high > low:
                litres = one.litres * (high - low) / (one.end - one.start).days
                found.append(_Treated(low, high, max(litres - watered[high] + watered[low], 0.2 * litres)))
        return found

    def _learn(self) -> Level:
        named = [self._known[month] * home for month, home in zip(self._months, self._home, strict=True)]
        taken, days = [0.0, *accumulate(named)], [0, *accumulate(self._home)]
        seen = []
        for one in self._treated:
            at_home = days[one.high] - days[one.low]
            if at_home:
                own = max(one.litres - taken[one.high] + taken[one.low], 0.1 * one.litres, 1.0)
                middle = (one.low + one.high) // 2
                age = (self.today - self.since).days - middle
                own_now = own / self._household[middle]
                seen.append(Seen(age, self._days_of_year[middle], float(at_home), own_now / at_home))
        return learn(_people(self._house.people) * PERSON_L_PER_DAY, log(BETWEEN_HOUSES_GSD), seen)

    def _day_by_day(self) -> list[float]:
        by_day = [self.level.litres_per_day(k) for k in range(367)]
        known = self._known
        shape = [
            (by_day[day] * household + known[month]) * home
            for day, month, home, household in zip(
                self._days_of_year, self._months, self._home, self._household, strict=True
            )
        ]
        for one in self._treated:
            _scale(shape, one)
        return shape

    def litres(self, start: date, end: date, least_l_per_day: float = 0.0) -> float:
        """House use from one day to another [L], the first counted and the last not.

        Each day counts as at least `least_l_per_day`, for what goes on by the calendar in an empty house.
        """
        if least_l_per_day not in self._sums:
            self._sums[least_l_per_day] = [0.0, *accumulate(max(litres, least_l_per_day) for litres in self._days)]
        sums = self._sums[least_l_per_day]
        return self._up_to(sums, end) - self._up_to(sums, start)

    def _up_to(self, sums: list[float], day: date) -> float:
        k, last = (day - self.since).days, len(self._days)
        if k < 0:
            return k * self.per_day_on(self.since)
        return sums[k] if k <= last else sums[last] + (k - last) * (sums[last] - sums[last - 365]) / 365.0

    def per_day_on(self, day: date) -> float:
        """Expected use of one day at home [L/day]."""
        return self.level.litres_per_day(day.timetuple().tm_yday) + self._known[day.month]

    def per_day(self) -> float:
        """Expected mean use over the next four weeks at home [L/day]."""
        return self._per_day

    def year_litres(self) -> float:
        """Expected use of the next 365 days [L]."""
        return self.litres(self.today, self.today + timedelta(days=365))

    def forecast_log_sd(self, days: int) -> float:
        """Spread of the use summed over the coming days, in natural logs: level, drift and day-to-day."""
        if days <= 0:
            return 0.0
        drift = DRIFT_PER_YEAR**2 * days / 365.0
        return float((self._level_sd**2 + drift + DAY_SD**2 / days) ** 0.5)

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


def _people(people: float) -> float:
    """People as the prior counts them: an empty house still uses a little."""
    return max(people, 0.2)


def _scale(shape: list[float], one: _Treated) -> None:
    """Make the days of a metered interval add up to what the meter said."""
    part = shape[one.low : one.high]
    expected = sum(part)
    if expected > 0:
        factor = one.litres / expected
        shape[one.low : one.high] = [litres * factor for litres in part]
    else:
        shape[one.low : one.high] = [one.litres / len(part)] * len(part)
