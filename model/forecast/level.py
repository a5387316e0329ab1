"""The daily level of water use, learned from meter intervals: a Bayesian regression in logs that forgets."""

from __future__ import annotations

from math import cos, exp, pi, sin

import msgspec

PRIOR_SEASON_SD = 0.12
"""Prior spread of each term of the yearly swing, in natural logs. Common practice, no source."""

DAY_SD = 0.35
"""Day-to-day spread of one house's use, in natural logs, until its own readings say. Common practice, no source."""

READ_SD_DAYS = 0.3
"""How far apart in the day two readings of one meter are taken [day]. Common practice, no source."""

INTERVAL_SD = 0.08
"""Spread of whole weeks beyond that of their days (visitors, washing, holidays at home), in natural logs. Common
practice, no source."""

WEEK_DAYS = 14.0
"""How long such a spell lasts [day]. Common practice, no source."""

DRIFT_PER_YEAR = 0.08
"""How far a household's level wanders in a year, in natural logs. With weekly readings a week then counts half after
about two months. Owner's default."""

CHANGES_PER_YEAR, CHANGE = 0.1, 0.35
"""How often people come to live in a house or leave it [1/year], and what that does to its use, in natural logs: one in
ten years, by four tenths. From memory; owner's default."""

_TURN = 2.0 * pi / 365.25

Vector = tuple[float, float, float]


class Level(msgspec.Struct, frozen=True):
    """Use as exp(level + cosine + sine of the year) [L/day] on the day it was last known, with the covariance of the
    three terms in logs.

    `noise`: the spread of this house's days and weeks over the one expected before its readings, 1 at first.
    `seen`: meter intervals it rests on.
    """

    mean: Vector
    covariance: tuple[Vector, Vector, Vector]
    seen: int
    noise: float = 1.0

    def litres_per_day(self, day_of_year: int) -> float:
        """Expected use on a day of the year [L/day]."""
        return exp(_dot(self.mean, season_terms(day_of_year)))

    def log_sd(self, day_of_year: int) -> float:
        """Standard deviation of the level on a day of the year, in natural logs, when it was last known."""
        return self._sd(season_terms(day_of_year))

    def mean_log_sd(self, day_of_year: int, days: int, waited: int = 0) -> float:
        """Standard deviation of the level over so many days from a day of the year on, in natural logs.

        The yearly swing counts with its mean over those days; from when it was last known, `waited` days before the
        first, the level wanders on, and now and then somebody comes to live there or leaves.
        """
        days = max(days, 1)
        low, high = _TURN * (day_of_year - 0.5), _TURN * (day_of_year - 0.5 + days)
        terms = (1.0, (sin(high) - sin(low)) / (high - low), (cos(low) - cos(high)) / (high - low))
        # A random walk, averaged over h days after a wait of w: q (w + h / 3).
        yearly = DRIFT_PER_YEAR**2 + CHANGES_PER_YEAR * CHANGE**2
        wandered: float = yearly / 365.25 * (waited + days / 3.0)
        return float((self._sd(terms) ** 2 + wandered) ** 0.5)

    def noise_log_sd(self, days: int) -> float:
        """Standard deviation of the use of so many days around their level, in natural logs."""
        days = max(days, 1)
        spells: float = INTERVAL_SD**2 * min(1.0, WEEK_DAYS / days)
        return float(self.noise * (DAY_SD**2 / days + spells) ** 0.5)

    def _sd(self, terms: Vector) -> float:
        (a, b, d), (_, e, f), (_, _, g) = self.covariance
        _, c, s = terms
        found = a + c * (2.0 * b + c * e + 2.0 * s * f) + s * (2.0 * d + s * g)
        return float(max(found, 0.0) ** 0.5)


def season_terms(day_of_year: int) -> Vector:
    """1, cosine and sine of a day of the year."""
    angle = _TURN * day_of_year
    return (1.0, cos(angle), sin(angle))


def interval_log_variance(days: float) -> float:
    """Variance of ln(mean use) of a meter interval of so many days at home around its level, before `noise`.

    Its days, the spells of a week or two, and the hour of the two readings: 0.35^2/n + 0.08^2 min(1, 14/n) + (0.3/n)^2.
    Raises ZeroDivisionError for 0 days. Source: sum of independent errors; the sizes are common practice, no source.
    """
    return DAY_SD**2 / days + INTERVAL_SD**2 * min(1.0, WEEK_DAYS / days) + (READ_SD_DAYS / days) ** 2


def _dot(a: Vector, b: Vector) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
