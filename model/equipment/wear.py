"""A stock followed from reading to reading: what is left, and how much faster or slower than reckoned it goes."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from math import ceil, exp, log, sqrt
from typing import Literal, NamedTuple

import msgspec

from model.equipment.levels import Mark

UNLIKE = 3.0
"""Standard deviations beyond which a level does not agree with what was reckoned. Owner's default."""

WANDER_PER_YEAR = 0.10
"""How far the draw of one consumable wanders in a year, in natural logs. Owner's default."""

DRAW_SHARE = 0.05
"""Share by which the draw of one spell is off by chance. Owner's default."""

ADDED_SHARE = 0.08
"""How well an amount put in is known: bags are counted, not weighed. Common practice, no source."""

FASTER_SD = 0.2
"""How much faster a stock may go than was ever seen, in natural logs, once it fell too low. Owner's default."""

MOST_LOG_RATE = 1.5
"""How far a draw can be from what settings and water say, in natural logs. Owner's default."""

Odd = Literal["", "high", "low", "stuck"]
"""What the newest level did against what was reckoned: it agrees, stands too high or too low, or has not fallen."""


class Drawn(NamedTuple):
    """What is reckoned to have gone between two days: with water that a meter counted, and with water itself
    reckoned."""

    metered: float
    reckoned: float


class Errors(msgspec.Struct, frozen=True, kw_only=True):
    """How well things are known: one look at the level [the stock's unit]; how often the stock is drawn on, how much
    each time, and the level of water use that no meter counted, each in natural logs.

    `each`: what goes at a time [the stock's unit], 0 for what goes steadily. `full`: what a tank filled to its mark
    holds; a refill that nobody measured is taken as up to it within `full_sd`, where it was of at least `much` or the
    mark is within what may have been there. `least`: with less than this a draw does not do its work; 0 where any does.
    """

    seen_sd: float
    rate_sd: float
    dose_sd: float = 0.0
    water_sd: float = 0.0
    each: float = 0.0
    full: float = 0.0
    full_sd: float = 0.0
    much: float = float("inf")
    least: float = 0.0


class Unlike(msgspec.Struct, frozen=True):
    """The newest level did not agree with what was reckoned: how (`odd`), on which day, and what was `seen` where
    `reckoned` was expected [the stock's unit, from empty]."""

    odd: Odd
    on: date
    seen: float
    reckoned: float


class Followed(NamedTuple):
    """A level on the day of its last mark, its standard deviation, and the day it was last truly seen.

    `log_rate`: how much faster than reckoned the stock goes, in natural logs, with its spread `log_sd`, which leaves
    out what is not known of the water: of that error, `water_known` is left (0-1). `covariance`: of level and rate.
    `odd`: what did not agree on `odd_on`: `odd_seen` where `odd_reckoned` was expected. `short_on`: the days on
    which a refill found too little for the draws before it, by what was seen that day or reckoned. `under_since`: since
    when there is too little, None where on its last day there was enough.
    """

    on: date
    level: float
    sd: float
    seen: date | None
    log_rate: float = 0.0
    log_sd: float = 0.0
    covariance: float = 0.0
    water_known: float = 1.0
    odd: Odd = ""
    odd_on: date | None = None
    odd_seen: float = 0.0
    odd_reckoned: float = 0.0
    short_on: tuple[date, ...] = ()
    under_since: date | None = None

    def unlike(self) -> Unlike | None:
        """What did not agree, None where all did."""
        if not self.odd or self.odd_on is None:
            return None
        return Unlike(self.odd, self.odd_on, self.odd_seen, self.odd_reckoned)

    def in_words(self) -> str:
        """How much faster or slower than reckoned it goes, to stand at the end of a phrase; empty near 2 %."""
        percent = round(100.0 * (exp(self.log_rate) - 1.0))
        if abs(percent) < 2:
            return ""
        return f"; your readings say {abs(percent)} % {'more' if percent > 0 else 'less'}"


MOST_MARKS = 60
"""How many of the last marks are followed: the older ones hardly count any more. Owner's default."""


def _recent(
    marks: list[Mark], start: tuple[date, float, float], seen_sd: float
) -> tuple[list[Mark], tuple[date, float, float]]:
    """The last marks, from a level on that can be believed: seen after a refill, or fallen since the one before.

    All of them where there are few or none such: a level that hangs must not become the beginning.
    """
    told = [place for place, mark in enumerate(marks) if mark.level is not None or mark.added]
    if len(told) <= MOST_MARKS:
        return marks, start
    for place in range(told[-MOST_MARKS], -1, -1):
        level = marks[place].level
        if level is not None and _believed(marks, place, level):
            return marks[place + 1 :], (marks[place].on, level, seen_sd)
    return marks, start


def _believed(marks: list[Mark], place: int, level: float) -> bool:
    if marks[place].refilled:
        return True
    for mark in reversed(marks[:place]):
        if mark.added or mark.refilled:
            return False
        if mark.level is not None:
            return level < mark.level
    return False


def follow(
    marks: list[Mark],
    start: tuple[date, float, float],
    capacity: float,
    drawn: Callable[[date, date], Drawn],
    errors: Errors,
) -> Followed:
    """Follow a level through its marks, oldest first: levels seen, amounts added, times counted.

    `start`: day, level and its standard deviation, all levels in one unit [kg, say]; `drawn(a, b)` is what is reckoned
    to go between two days. A level lies between 0 and `capacity`.
    Formula: extended Kalman filter of the level and of ln of how often, how much at a time and how much water.
    A level higher than agrees is left out, and so is one that has not fallen though something was drawn: neither moves
    a date later. A lower one counts at once.
    Source: Bar-Shalom, Li and Kirubarajan, Estimation with Applications to Tracking and Navigation, 2001, ch. 10.
    """
    recent, begun = _recent(marks, start, errors.seen_sd)
    follower = _Follower(begun, begun[0] if len(recent) < len(marks) else None, capacity, drawn, errors)
    for mark in recent:
        follower.take(mark)
    return follower.followed()


LEVEL, RATE, WATER, DOSE = range(4)


class _Follower:
    """Mean and covariance of level, rate, water and dose, and what the last readings were."""

    def __init__(
        self,
        start: tuple[date, float, float],
        seen: date | None,
        capacity: float,
        drawn: Callable[[date, date], Drawn],
        errors: Errors,
    ) -> None:
        self._on, level, sd = start
        self._seen: date | None = seen
        self._capacity, self._drawn, self._errors = capacity, drawn, errors
        self._x = [level, 0.0, 0.0, 0.0]
        variances = (sd**2, errors.rate_sd**2, errors.water_sd**2, errors.dose_sd**2)
        self._p = [[variances[i] if i == j else 0.0 for j in range(4)] for i in range(4)]
        self._looked = seen is not None
        self._total = 0.0  # all that was reckoned to go so far
        self._looks: list[tuple[float, float]] = (
            [(level, 0.0)] if seen is not None else []
        )  # levels that counted since the last refill, each with that total
        self._high: tuple[float, float] | None = None  # the first of the levels that stand too high, with that total
        self._count: float | None = None
        self._counted = [0.0, 0.0]  # metered and reckoned draw since the last count
        self._odd: tuple[Odd, date | None, float, float] = ("", None, 0.0, 0.0)
        self._short_on: list[date] = []
        self._under_since: date | None = None
        self._short_if_high: date | None = None  # the same for a refill that only levels standing too high tell of
        self._keep()

    def take(self, mark: Mark) -> None:
        """Take in one mark."""
        self._wait(mark.on)
        if mark.refilled or mark.added:
            self._look_for_short(mark.on)
        if mark.added:
            self._add(mark)
        if mark.counted is not None:
            self._take_count(mark.counted)
        left_out = mark.level is not None and self._look(
            mark.on, mark.level, refilled=mark.refilled or mark.added > 0.0, told=mark.added > 0.0
        )
        self._hold()
        if not self._is_short():
            self._under_since = None
        elif self._under_since is None:
            self._under_since = mark.on
        if not left_out:
            self._keep()

    def _keep(self) -> None:
        """What stands even if the next looks are left out."""
        self._kept = (self._on, self._seen, self._x[:], [row[:] for row in self._p])

    def _wait(self, on: date) -> None:
        """What goes until a day."""
        days = (on - self._on).days
        if days <= 0:
            return
        metered, reckoned = self._drawn(self._on, on)
        x, p = self._x, self._p
        dose = exp(x[DOSE])
        by_meter, by_guess = metered * exp(x[RATE]), reckoned * exp(x[RATE] + x[WATER])
        gone = (by_meter + by_guess) * dose
        self._counted[0] += metered
        self._counted[1] += reckoned
        self._total += gone
        self._look_for_crossing(days, gone)
        x[LEVEL] -= gone
        lean = (1.0, -gone, -by_guess * dose, -gone)
        row = [sum(lean[k] * p[k][j] for k in range(4)) for j in range(4)]
        corner = sum(lean[k] * row[k] for k in range(4))
        for j in range(1, 4):
            p[0][j] = p[j][0] = row[j]
        p[0][0] = corner + (DRAW_SHARE * gone) ** 2
        p[RATE][RATE] += WANDER_PER_YEAR**2 * days / 365.25
        self._on = on
        self._hold()

    def _look_for_short(self, on: date) -> None:
        """Whether the draws before a refill had too little to work with.

        What was seen that day leaves room for the last one, which began with more; what is only reckoned does not.
        """
        if self._is_short(self._errors.each if self._seen == on else 0.0):
            self._short_on.append(on)

    def _is_short(self, room: float = 0.0) -> bool:
        return self._errors.least > 0.0 and self._x[LEVEL] <= max(self._errors.least - room, 0.0)

    def _look_for_crossing(self, days: int, gone: float) -> None:
        """The day on which too little was left, where that came about in the days now waited for."""
        above = self._x[LEVEL] - self._errors.least
        if self._errors.least > 0.0 and 0.0 < above <= gone:
            self._under_since = self._on + timedelta(days=ceil(days * above / gone))

    def _add(self, mark: Mark) -> None:
        self._x[LEVEL] += mark.added
        self._p[0][0] += (ADDED_SHARE * mark.added) ** 2
        self._looks, self._high = [], None
        errors = self._errors
        if mark.level is None and errors.full_sd > 0.0:
            off = errors.full - self._x[LEVEL]
            if mark.added >= errors.much or off <= 2.0 * sqrt(self._p[0][0] + errors.full_sd**2):
                self._observe((1.0, 0.0, 0.0, 0.0), off, errors.full_sd**2)

    def _take_count(self, count: float) -> None:
        """How often the valve regenerated since the last count says how fast it does, whatever each one takes."""
        before, self._count = self._count, count
        metered, reckoned = self._counted
        self._counted = [0.0, 0.0]
        each = self._errors.each
        if before is None or count <= before or each <= 0.0 or metered + reckoned <= 0.0:
            return
        x = self._x
        by_meter, by_guess = metered * exp(x[RATE]), reckoned * exp(x[RATE] + x[WATER])
        expected = by_meter + by_guess
        # Each of the two counts is off by up to a whole one.
        variance = (each / expected) ** 2 / 6.0 + 0.02**2
        lean = (0.0, 1.0, by_guess / expected, 0.0)
        off = log((count - before) * each / expected)
        if abs(off) <= UNLIKE * sqrt(self._spread(lean) + variance):
            # One that is far off is a slip of the pen or another valve head: it says nothing of the salt.
            self._observe(lean, off, variance)

    def _look(self, on: date, level: float, *, refilled: bool, told: bool) -> bool:
        """Whether the look is left out. `told`: how much was put in with it is on record."""
        off, errors = level - self._x[LEVEL], self._errors
        variance = errors.seen_sd**2 + errors.each**2 / 12.0
        deviations = off / sqrt(self._p[0][0] + variance)
        first, self._looked = not self._looked, True
        odd: Odd = "" if first or refilled else self._oddness(level, off, deviations)
        reckoned = self._x[LEVEL]
        if odd == "high" and self._fell_since(level):
            # It fell as it should since it first stood too high: something was put in and not written down.
            self._short_on += [self._short_if_high] if self._short_if_high else []
            self._accept(on, level)
            self._reset(level, variance)
            self._odd = ("", None, 0.0, 0.0)
            return False
        self._odd = (odd if abs(deviations) > UNLIKE else "", on, level, reckoned)
        if odd in ("high", "stuck"):
            return True
        self._accept(on, level)
        if first or (refilled and (not told or abs(deviations) > UNLIKE)):
            # What it was before was a guess, or somebody filled it otherwise than written down.
            self._reset(level, variance)
            return False
        if odd == "low":
            self._p[0][0] += off**2
            self._p[RATE][RATE] += FASTER_SD**2
        self._observe((1.0, 0.0, 0.0, 0.0), off, variance)
        return False

    def _accept(self, on: date, level: float) -> None:
        self._seen, self._high = on, None
        self._looks.append((level, self._total))

    def _fell_since(self, level: float) -> bool:
        """Whether a level that stands too high fell since the first such by about what was reckoned to go, and that was
        enough to be seen. Measured again on the same day it tells nothing new."""
        if self._high is None:
            self._high = (level, self._total)
            self._short_if_high = self._on if self._is_short() else None
            return False
        was, total = self._high
        gone = self._total - total
        return gone >= max(self._errors.each, 2.0 * self._errors.seen_sd) and level < was - 0.5 * gone

    def _oddness(self, level: float, off: float, deviations: float) -> Odd:
        if deviations < -UNLIKE:
            return "low"
        if off > 0.0 and self._has_not_fallen(level):
            return "stuck"
        return "high" if deviations > UNLIKE else ""

    def _has_not_fallen(self, level: float) -> bool:
        """Whether it stands where the last look from before a regeneration saw it; where much should have gone, half of
        what a look may be off is no fall."""
        least = max(self._errors.each, 1e-9)
        before = next(((was, total) for was, total in reversed(self._looks) if self._total - total >= least), None)
        if before is None:
            return False
        much = self._total - before[1] >= 2.0 * self._errors.seen_sd
        return level >= before[0] - (0.5 * self._errors.seen_sd if much else 1e-9)

    def _reset(self, level: float, variance: float) -> None:
        self._x[LEVEL] = level
        for j in range(4):
            self._p[0][j] = self._p[j][0] = 0.0
        self._p[0][0] = variance

    def _spread(self, lean: tuple[float, float, float, float]) -> float:
        p = self._p
        return sum(lean[i] * p[i][k] * lean[k] for i in range(4) for k in range(4))

    def _observe(self, lean: tuple[float, float, float, float], off: float, variance: float) -> None:
        p, x = self._p, self._x
        row = [sum(p[i][k] * lean[k] for k in range(4)) for i in range(4)]
        total = sum(row[k] * lean[k] for k in range(4)) + variance
        if total <= 0.0:
            return
        for i in range(4):
            x[i] += row[i] * off / total
            for j in range(4):
                p[i][j] -= row[i] * row[j] / total
        x[RATE] = min(max(x[RATE], -MOST_LOG_RATE), MOST_LOG_RATE)

    def _hold(self) -> None:
        """A level that would lie under nothing or over the brim tells nothing of the rate any more."""
        held = min(max(self._x[LEVEL], 0.0), self._capacity)
        if held != self._x[LEVEL]:
            self._reset(held, self._p[0][0])

    def followed(self) -> Followed:
        on, seen_on, x, p = self._kept
        rate = p[RATE][RATE] + p[WATER][WATER] + p[DOSE][DOSE] + 2.0 * (p[1][2] + p[1][3] + p[2][3])
        prior = self._errors.water_sd**2
        odd, odd_on, seen, reckoned = self._odd
        return Followed(
            on=on,
            level=x[LEVEL],
            sd=sqrt(max(p[0][0], 0.0)),
            seen=seen_on,
            log_rate=x[RATE] + x[WATER] + x[DOSE],
            log_sd=sqrt(max(rate - p[WATER][WATER], 4e-4)),
            covariance=p[0][1] + p[0][2] + p[0][3],
            water_known=sqrt(max(p[WATER][WATER], 0.0) / prior) if prior > 0.0 else 1.0,
            odd=odd,
            odd_on=odd_on if odd else None,
            odd_seen=seen,
            odd_reckoned=reckoned,
            short_on=tuple(self._short_on),
            under_since=self._under_since,
        )
