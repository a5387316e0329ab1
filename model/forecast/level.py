"""The daily level of water use, learned from meter intervals: a small Bayesian regression in logs."""

from __future__ import annotations

from math import cos, exp, log, pi, sin

import msgspec

PRIOR_SEASON_SD = 0.12
"""Prior spread of the yearly swing, in natural logs. Common practice, no source."""

DAY_SD = 0.35
"""Day-to-day spread of one house's use, in natural logs. Common practice, no source."""

INTERVAL_SD = 0.10
"""Spread between intervals beyond the days' own, in natural logs. Common practice, no source."""

HALF_LIFE_DAYS = 150.0
"""Age at which a meter interval counts half, so that a change of household shows. Owner's default."""

FORGOTTEN_DAYS = 10 * HALF_LIFE_DAYS
"""Beyond this age an interval weighs less than a thousandth and is passed over."""

Vector = tuple[float, float, float]


class Seen(msgspec.Struct, frozen=True, gc=False):
    """One meter interval as the regression sees it: age and day of the year of its middle, days at home, mean use."""

    age_days: int
    day_of_year: int
    days: float
    litres_per_day: float


class Level(msgspec.Struct, frozen=True):
    """Use as exp(level + cosine + sine of the year) [L/day], with the covariance of the three terms in logs."""

    mean: Vector
    covariance: tuple[Vector, Vector, Vector]
    seen: int

    def litres_per_day(self, day_of_year: int) -> float:
        """Expected use on a day of the year [L/day]."""
        return exp(_dot(self.mean, _terms(day_of_year)))

    def log_sd(self, day_of_year: int) -> float:
        """Standard deviation of the level on a day of the year, in natural logs."""
        terms = _terms(day_of_year)
        return float(sum(terms[i] * self.covariance[i][j] * terms[j] for i in range(3) for j in range(3)) ** 0.5)


def learn(prior_l_per_day: float, prior_log_sd: float, seen: list[Seen]) -> Level:
    """Posterior level given the intervals seen. The weight of an interval halves with every HALF_LIFE_DAYS of age.

    Formula: Gaussian linear regression of ln(use) on 1, cos, sin of the day of the year, prior N(ln prior, sd^2) on the
    level and N(0, PRIOR_SEASON_SD^2) on the swing.
    Source: conjugate normal regression, Gelman et al., Bayesian Data Analysis, 3rd ed., ch. 14.
    """
    season, level = PRIOR_SEASON_SD**-2, prior_log_sd**-2
    sums = [level, 0.0, 0.0, season, 0.0, season, log(prior_l_per_day) * level, 0.0, 0.0]
    for one in seen:
        if one.age_days < FORGOTTEN_DAYS:
            _add(sums, one)
    a, b, c, d, e, f, *right = sums
    covariance = _inverse([[a, b, c], [b, d, e], [c, e, f]])
    mean = tuple(sum(covariance[i][j] * right[j] for j in range(3)) for i in range(3))
    return Level(mean, covariance, len(seen))  # type: ignore[arg-type]


def _add(sums: list[float], one: Seen) -> None:
    """Add one interval to the six sums of the precision and the three of the right side."""
    weight = 0.5 ** (one.age_days / HALF_LIFE_DAYS) / (DAY_SD**2 / one.days + INTERVAL_SD**2)
    _, c, s = _terms(one.day_of_year)
    value = weight * log(one.litres_per_day)
    parts = (
        weight,
        weight * c,
        weight * s,
        weight * c * c,
        weight * c * s,
        weight * s * s,
        value,
        value * c,
        value * s,
    )
    sums[:] = [total + part for total, part in zip(sums, parts, strict=True)]


def _terms(day_of_year: int) -> Vector:
    angle = 2.0 * pi * day_of_year / 365.25
    return (1.0, cos(angle), sin(angle))


def _dot(a: Vector, b: Vector) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _inverse(m: list[list[float]]) -> tuple[Vector, Vector, Vector]:
    """Inverse of a symmetric positive definite 3 x 3 matrix by cofactors."""
    (a, b, c), (_, d, e), (_, _, f) = m
    first, second, third = d * f - e * e, c * e - b * f, b * e - c * d
    det = a * first + b * second + c * third
    rows = ((first, second, third), (second, a * f - c * c, b * c - a * e), (third, b * c - a * e, a * d - b * b))
    return tuple(tuple(x / det for x in row) for row in rows)  # type: ignore[return-value]
