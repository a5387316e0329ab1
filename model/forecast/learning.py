"""How the level of water use follows the meter: intervals taken in one by one, changes of household found, leaks asked
about."""

from __future__ import annotations

from math import exp, log
from typing import Literal

import msgspec

from model.forecast.level import DRIFT_PER_YEAR, PRIOR_SEASON_SD, Level, interval_log_variance, season_terms

UNUSUAL = 3.0
"""Standard deviations beyond which an interval is no ordinary week. Owner's default."""

JUMP_SD = 0.5
"""How far use may jump at once when something happened, in natural logs. Owner's default."""

SHIFT_SD = 0.2
"""How far a household's use may have moved when week after week lies to one side, in natural logs. Owner's default."""

CHANGE_SD = 0.15
"""How well the effect of a known change of household is known, in natural logs. Owner's default."""

_LEAN, _LEANING = 0.35, 2.8
"""Weight of the newest interval in the mean of surprises, and how many of its deviations are no chance any more."""

_OWN_COUNT, _PRIOR_COUNT, _MOST_SURPRISE = 60.0, 8.0, 9.0
"""For the spread of this house: intervals remembered, what the prior counts as, and the most one may say."""

Answer = Literal["", "over", "goes_on"]


class Seen(msgspec.Struct, frozen=True, gc=False):
    """One meter interval as the regression sees it: day of its end counted from any day, day of the year of its middle,
    days at home, mean use of those [L/day]. `changed`: people came or left since the interval before. `told`: what the
    owner said of it."""

    end: int
    day_of_year: int
    days: float
    litres_per_day: float
    changed: bool = False
    told: Answer = ""


class Unusual(msgspec.Struct, frozen=True):
    """An interval well above what was expected: its place in the row, what was expected [L/day], whether use was back
    to what it had been afterwards."""

    place: int
    expected_l_per_day: float
    ended: bool


class Learned(msgspec.Struct, frozen=True):
    """The level, the unusual intervals that nobody has explained, and the place of the interval from which use has
    stayed up since, None if it has not."""

    level: Level
    unusual: tuple[Unusual, ...]
    risen_from: int | None


def learn(prior_l_per_day: float, prior_log_sd: float, seen: list[Seen]) -> Learned:
    """Level given the intervals seen, oldest first.

    Formula: Kalman filter of ln(use) = level + a cos + b sin of the day of the year, prior N(ln prior, sd^2) on the
    level and N(0, PRIOR_SEASON_SD^2) on a and b; the level wanders by DRIFT_PER_YEAR. The variance of the intervals is
    learned with them (inverse gamma). An interval more than UNUSUAL deviations above is taken as a jump that goes on
    until the next says otherwise; one below waits for a second.
    Source: dynamic linear regression, West and Harrison, Bayesian Forecasting and Dynamic Models, 2nd ed., ch. 4, 11.
    """
    follower = _Follower(log(prior_l_per_day), prior_log_sd)
    for place, one in enumerate(seen):
        follower.take(place, one)
    return follower.learned(len(seen))


class _State:
    """Mean and covariance of the three terms."""

    __slots__ = ("mean", "p")

    def __init__(self, mean: list[float], p: list[float]) -> None:
        self.mean = mean
        self.p = p  # upper triangle by rows: 00 01 02 11 12 22

    def copy(self) -> _State:
        return _State(self.mean[:], self.p[:])

    def expected(self, c: float, s: float) -> float:
        m = self.mean
        return m[0] + m[1] * c + m[2] * s

    def variance(self, c: float, s: float) -> float:
        a, b, d, e, f, g = self.p
        return a + c * (2.0 * b + c * e + 2.0 * s * f) + s * (2.0 * d + s * g)

    def deviations(self, c: float, s: float, value: float, r: float) -> float:
        """How far a value with variance `r` of its own lies from what is expected, in standard deviations."""
        return float((value - self.expected(c, s)) / (self.variance(c, s) + r) ** 0.5)

    def update(self, c: float, s: float, value: float, r: float) -> None:
        a, b, d, e, f, g = self.p
        x, y, z = a + b * c + d * s, b + e * c + f * s, d + f * c + g * s
        total = x + c * y + s * z + r
        k = (value - self.expected(c, s)) / total
        self.mean = [self.mean[0] + x * k, self.mean[1] + y * k, self.mean[2] + z * k]
        x_, y_ = x / total, y / total
        self.p = [a - x_ * x, b - x_ * y, d - x_ * z, e - y_ * y, f - y_ * z, g - z * z / total]


class _Follower:
    """Takes the intervals in, oldest first."""

    def __init__(self, level: float, level_sd: float) -> None:
        season = PRIOR_SEASON_SD**2
        self._state = _State([level, 0.0, 0.0], [level_sd**2, 0.0, 0.0, season, 0.0, season])
        self._before: _State | None = None  # the state before a jump that may prove to be an outlier
        self._low: tuple[Seen, float] | None = None  # an interval far below, waiting for a second
        self._end: int | None = None
        self._count = self._surprise = 0.0
        self._lean = 0.0
        self._unusual: list[Unusual] = []
        self._risen: tuple[int, float] | None = None

    def take(self, place: int, one: Seen) -> None:
        """Take in one interval, unless the owner said that what it shows is over."""
        self._wait(one)
        if one.told == "over":
            return
        _, c, s = season_terms(one.day_of_year)
        value, r = log(one.litres_per_day), self._noise * interval_log_variance(one.days)
        deviations = self._state.deviations(c, s, value, r)
        if self._fell_back(c, s, value, r, deviations):
            deviations = self._state.deviations(c, s, value, r)
        if one.told == "goes_on":
            self._low = None
            self._loosen(JUMP_SD)
        elif deviations > UNUSUAL:
            self._jump(place, c, s)
        elif deviations < -UNUSUAL and self._first_low(one, value):
            return
        elif abs(deviations) <= UNUSUAL:
            self._ordinary(deviations)
        self._state.update(c, s, value, r)
        if self._risen is not None and self._state.mean[0] < self._risen[1] + SHIFT_SD:
            self._back_to_before()

    def _back_to_before(self) -> None:
        """Use has come back to what it was before it rose: whatever it was, it has ended."""
        self._risen = None
        self._unusual = [msgspec.structs.replace(one, ended=True) for one in self._unusual]

    def _wait(self, one: Seen) -> None:
        days = 0 if self._end is None else max(one.end - self._end, 0)
        self._end = one.end
        wandered = DRIFT_PER_YEAR**2 / 365.25 * days + (CHANGE_SD**2 if one.changed else 0.0)
        for state in (self._state, self._before):
            if state is not None:
                state.p[0] += wandered

    @property
    def _noise(self) -> float:
        return (_PRIOR_COUNT + self._surprise) / (_PRIOR_COUNT + self._count)

    def _fell_back(self, c: float, s: float, value: float, r: float, deviations: float) -> bool:
        """After a jump: whether this interval fits the level before it better, so that the jump has ended."""
        before, self._before = self._before, None
        if before is None:
            return False
        old = before.deviations(c, s, value, r)
        if abs(old) >= abs(deviations) or abs(old) > UNUSUAL:
            return False
        self._state, self._risen = before, None
        self._unusual[-1] = msgspec.structs.replace(self._unusual[-1], ended=True)
        return True

    def _jump(self, place: int, c: float, s: float) -> None:
        expected = self._state.expected(c, s)
        self._before, self._low = self._state.copy(), None
        self._unusual.append(Unusual(place, exp(expected), ended=False))
        self._risen = self._risen or (place, self._state.mean[0])
        self._loosen(JUMP_SD)

    def _first_low(self, one: Seen, value: float) -> bool:
        """Whether this is the first interval far below: it waits. A second one moves the level, and both count."""
        if self._low is None:
            self._low = (one, value)
            return True
        self._loosen(JUMP_SD)
        first, was = self._low
        _, c, s = season_terms(first.day_of_year)
        self._low = None
        self._state.update(c, s, was, self._noise * interval_log_variance(first.days))
        return False

    def _ordinary(self, deviations: float) -> None:
        self._low = None
        decay = 1.0 - 1.0 / _OWN_COUNT
        self._surprise = decay * self._surprise + min(deviations**2, _MOST_SURPRISE) * self._noise
        self._count = decay * self._count + 1.0
        self._lean = (1.0 - _LEAN) * self._lean + _LEAN * deviations
        if abs(self._lean) > _LEANING * (_LEAN / (2.0 - _LEAN)) ** 0.5:
            self._loosen(SHIFT_SD)
            self._lean = 0.0

    def _loosen(self, sd: float) -> None:
        self._state.p[0] += sd**2

    def learned(self, count: int) -> Learned:
        a, b, d, e, f, g = self._state.p
        level = Level(
            mean=(self._state.mean[0], self._state.mean[1], self._state.mean[2]),
            covariance=((a, b, d), (b, e, f), (d, f, g)),
            seen=count,
            noise=self._noise**0.5,
        )
        return Learned(level, tuple(self._unusual), self._risen[0] if self._risen else None)
