"""Water use day by day, past and to come, through the treated house."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, timedelta
from itertools import accumulate
from math import exp, log
from operator import mul

import msgspec

from model.forecast.calendar_of_use import Houses, days_of
from model.forecast.explained import explanations
from model.forecast.intervals import Interval, intervals
from model.forecast.learning import Answer, Learned, Seen, learn
from model.forecast.normal import Z90
from model.forecast.trips import trips_of
from model.forecast.use import BETWEEN_HOUSES_GSD, PERSON_L_PER_DAY, household_l_per_day, ro_product_l_per_day
from model.forecast.weekday import weekday_factors
from model.home import House
from model.records.events import Explained
from model.records.history import History
from model.units import show

HORIZON_DAYS = 1200

LEARNED_DAYS = 1100
"""How far back intervals teach [day]: three years tell the season, and what is older is long outweighed. Owner's
default."""

LEAST_SPAN_DAYS = 6
"""Shorter intervals are joined before the level learns from them: a day more or less says little. Owner's default."""


class Treated(msgspec.Struct, frozen=True, gc=False):
    """Litres of treated water between two days, counted from `since`. `told`: what the owner said of them."""

    low: int
    high: int
    litres: float
    told: Answer = ""


class Unusual(msgspec.Struct, frozen=True):
    """A stretch between readings with far more water than expected [L]; `goes_on`: no later reading says it ended."""

    start: date
    end: date
    litres: float
    expected_litres: float
    goes_on: bool


class Demand:
    """Litres a day through the treated house: metered where the meter was read, else forecast.

    Untreated hose water is left out. Days away count nothing. `houses`: the houses that stood and will stand here.
    """

    def __init__(
        self, house: House, history: History, since: date, houses: Houses = (), *, read_meter: bool = True
    ) -> None:
        self.today = history.today
        self.since = min(since, self.today)
        self._house = house
        count = (self.today - self.since).days + HORIZON_DAYS
        self.days = days_of(houses or ((date.min, house),), house, history, self.since, count)
        metered, self.problems = intervals(house, history) if read_meter else ((), ())
        self._treated = self._without_hose(metered, list(explanations(history).values()))
        self.last_read = metered[-1].end if metered else None
        self.read_from = metered[0].start if metered else self.today
        self.learned, self._spans = self._learn()
        self.level = self.learned.level
        self.trips = trips_of(history, max(self.since, min(house.started, self.today)))
        self.weekday = weekday_factors(self._daily())
        self._days = self._day_by_day()
        self._sums: dict[float, list[float]] = {0.0: [0.0, *accumulate(self._days)]}
        self._per_day = self._four_weeks(houses)

    def _without_hose(self, metered: tuple[Interval, ...], told: Sequence[Explained]) -> list[Treated]:
        """The metered intervals as litres through the treated house. One from before `since` counts only in part."""
        watered = [0.0]
        if self._house.meter_reads != "house" and any(self.days.hose):
            watered += accumulate(map(mul, self.days.hose, self.days.home))
        found = []
        for one in metered:
            start, high = (one.start - self.since).days, (one.end - self.since).days
            if high > (low := max(start, 0)):
                litres = one.litres * (high - low) / (high - start)
                hose = watered[high] - watered[low] if len(watered) > 1 else 0.0
                answer = _answer(told, one) if told else ""
                found.append(Treated(low, high, max(litres - hose, 0.2 * litres), answer))
        return found

    def _learn(self) -> tuple[Learned, list[Treated]]:
        """What the intervals teach, and those that it learned from: the short ones joined."""
        days = self.days
        taken = [0.0]
        if any(days.named):
            taken += accumulate(map(mul, days.named, days.home))
        else:
            taken *= len(days.home) + 1
        weight = [0.0, *accumulate(map(mul, days.household, days.home))]
        there = [0, *accumulate(days.home)]
        seen, spans, changes = [], [], list(days.changes)
        oldest = (self.today - self.since).days - LEARNED_DAYS
        for one in _joined([one for one in self._treated if one.high > oldest]):
            at_home = there[one.high] - there[one.low]
            if not at_home:
                continue
            own = max(one.litres - taken[one.high] + taken[one.low], 0.1 * one.litres, 1.0)
            changed = bool(changes) and changes[0] <= one.high
            while changes and changes[0] <= one.high:
                changes.pop(0)
            middle = days.day_of_year[(one.low + one.high) // 2]
            own_now = own / (weight[one.high] - weight[one.low])
            seen.append(Seen(one.high, middle, float(at_home), own_now, changed, one.told))
            spans.append(one)
        return learn(household_l_per_day(self._house.people), log(BETWEEN_HOUSES_GSD), seen), spans

    def _daily(self) -> list[tuple[int, float]]:
        """Weekday of each day read by itself, and ln of its use over the level's."""
        found = []
        oldest = (self.today - self.since).days - LEARNED_DAYS
        for one in self._treated:
            if (
                one.low >= oldest
                and one.high == one.low + 1
                and self.days.home[one.low]
                and one.litres > 0.0
                and not one.told
            ):
                level = self._level_of(one.low)
                found.append(((self.since.weekday() + one.low) % 7, log(one.litres / level)))
        return found

    def _level_of(self, k: int) -> float:
        return self.level.litres_per_day(self.days.day_of_year[k]) * self.days.household[k] + self.days.named[k]

    def _day_by_day(self) -> list[float]:
        by_day = [self.level.litres_per_day(k) for k in range(367)]
        days = self.days
        shape = [
            (by_day[day] * household + named) * home
            for day, household, named, home in zip(days.day_of_year, days.household, days.named, days.home, strict=True)
        ]
        if self.weekday is not None:
            first = self.since.weekday()
            shape = [litres * self.weekday[(first + k) % 7] for k, litres in enumerate(shape)]
        for one in self._treated:
            _scale(shape, one)
        return shape

    def _four_weeks(self, houses: Houses) -> float:
        """Mean use at home of the next four weeks, if what is written down to change did not."""
        ahead = min(((on - self.today).days for on, _ in houses if on > self.today), default=28)
        now, first = (self.today - self.since).days, self.today.timetuple().tm_yday
        total = 0.0
        for k in range(28):
            there = now + min(k, ahead - 1)
            total += self.level.litres_per_day(first + k) * self.days.household[there] + self.days.named[there]
        return total / 28.0

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

    @property
    def read_until(self) -> date:
        """The day up to which the meter says what was used; from there on use is reckoned."""
        return self.last_read or self.since

    def per_day_on(self, day: date) -> float:
        """Expected use of one day at home [L/day], with the people and named uses of that day."""
        k = min(max((day - self.since).days, 0), len(self.days.home) - 1)
        share, named = self.days.household[k], self.days.named[k]
        return self.level.litres_per_day(day.timetuple().tm_yday) * share + named

    def per_day(self) -> float:
        """Expected mean use over the next four weeks at home [L/day]."""
        return self._per_day

    def year_litres(self) -> float:
        """Expected use of the next 365 days [L]."""
        return self.litres(self.today, self.today + timedelta(days=365))

    def level_log_sd(self, start: date, days: int) -> float:
        """Spread of the level over the days from `start` on, in natural logs: what is not known of this house."""
        waited = (start - self.read_until).days if self.last_read else 0
        return self.level.mean_log_sd(start.timetuple().tm_yday, days, max(waited, 0))

    def noise_log_sd(self, days: int) -> float:
        """Spread of the use of so many days around their level, in natural logs: one week is not like another."""
        return self.level.noise_log_sd(days)

    def forecast_log_sd(self, days: int) -> float:
        """Spread of the use summed over the coming days, in natural logs: level and noise."""
        if days <= 0:
            return 0.0
        return float((self.level_log_sd(self.today, days) ** 2 + self.noise_log_sd(days) ** 2) ** 0.5)

    def period(self, start: date, end: date) -> tuple[float, float, float]:
        """10, 50 and 90 % points of the use from one day to another [L], both from today on."""
        middle = self.litres(start, end)
        spread = exp(Z90 * self.forecast_log_sd((end - start).days))
        return middle / spread, middle, middle * spread

    def day_range(self, day: date) -> tuple[float, float, float]:
        """10, 50 and 90 % points of the use of one day at home [L/day]."""
        return self.period(day, day + timedelta(days=1))

    def unusual(self) -> tuple[Unusual, ...]:
        """Stretches with far more water than expected that the owner has not explained, oldest first."""
        return tuple(self._unusual(one.place, one.expected_l_per_day, one.ended) for one in self.learned.unusual)

    def _unusual(self, place: int, level_l_per_day: float, ended: bool) -> Unusual:
        span = self._spans[place]
        there = range(span.low, span.high)
        days = self.days
        expected = sum((level_l_per_day * days.household[k] + days.named[k]) * days.home[k] for k in there)
        start, end = (self.since + timedelta(days=k) for k in (span.low, span.high))
        return Unusual(start, end, span.litres, expected, goes_on=not ended)

    def risen_since(self) -> date | None:
        """The day since which use has stayed well above what it was through two readings or more; None if it has
        not."""
        place = self.learned.risen_from
        if place is None or len(self._spans) - place < 2:
            return None
        return self.since + timedelta(days=self._spans[place].low)

    def ro_product_l_per_day(self) -> float:
        """Water drawn at the RO tap [L/day]."""
        return ro_product_l_per_day(self._house)

    def basis(self) -> str:
        """What the forecast rests on, in words."""
        if self.last_read is None:
            spread = exp(self.level.log_sd(1))
            each = f"about {show(PERSON_L_PER_DAY, 'volume', self._house.units)} a day each"
            return f"{self._house.people:g} people at {each}, right within a factor {spread:.1f}"
        sure = exp(self.forecast_log_sd(30) * Z90) - 1.0
        return f"{self.level.seen} meter intervals, the last read {self.last_read}; right within {sure:.0%} for a month"


def _answer(told: Sequence[Explained], one: Interval) -> Answer:
    """What the owner said last of a stretch that holds this interval."""
    said = [answer for answer in told if answer.start <= one.start and one.end <= answer.end]
    if not said:
        return ""
    return "over" if said[-1].over or said[-1].cause == "misread" else "goes_on"


def _joined(treated: list[Treated]) -> list[Treated]:
    """Intervals that follow each other joined up to LEAST_SPAN_DAYS, those that the owner explained by themselves."""
    found: list[Treated] = []
    for one in treated:
        last = found[-1] if found else None
        short = last is not None and last.high == one.low and last.high - last.low < LEAST_SPAN_DAYS
        if last is None or not short or one.told != last.told:
            found.append(one)
        else:
            found[-1] = Treated(last.low, one.high, last.litres + one.litres, one.told)
    return found


def _scale(shape: list[float], one: Treated) -> None:
    """Make the days of a metered interval add up to what the meter said."""
    part = shape[one.low : one.high]
    expected = sum(part)
    if expected > 0:
        factor = one.litres / expected
        shape[one.low : one.high] = [litres * factor for litres in part]
    else:
        shape[one.low : one.high] = [one.litres / len(part)] * len(part)
