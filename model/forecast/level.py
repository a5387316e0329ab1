"""The daily level of water use, learned from meter intervals: a small Bayesian regression in logs."""

from __future__ import annotations

from datetime import date
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

Vector = tuple[float, float, float]


class Seen(msgspec.Struct, frozen=True):
    """One meter interval as the regression sees it: middle day, days at home, mean use [L/day]."""

    middle: date
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


def learn(prior_l_per_day: float, prior_log_sd: float, seen: list[Seen], today: date) -> Level:
    """Posterior level given the intervals seen. The weight of an interval halves with every HALF_LIFE_DAYS of age.

    Formula: Gaussian linear regression of ln(use) on 1, cos, sin of the day of the year, prior N(ln prior, sd^2) on the
    level and N(0, PRIOR_SEASON_SD^2) on the swing.
    Source: conjugate normal regression, Gelman et al., Bayesian Data Analysis, 3rd ed., ch. 14.
    """
    precision = [[prior_log_sd**-2, 0.0, 0.0], [0.0, PRIOR_SEASON_SD**-2, 0.0], [0.0, 0.0, PRIOR_SEASON_SD**-2]]
    right = [log(prior_l_per_day) * prior_log_sd**-2, 0.0, 0.0]
    for one in seen:
        weight = 0.5 ** ((today - one.middle).days / HALF_LIFE_DAYS) / (DAY_SD**2 / one.days + INTERVAL_SD**2)
        _add(precision, right, _terms(one.middle.timetuple().tm_yday), log(one.litres_per_day), weight)
    covariance = _inverse(precision)
    mean = tuple(sum(covariance[i][j] * right[j] for j in range(3)) for i in range(3))
    return Level(mean, covariance, len(seen))  # type: ignore[arg-type]


def _add(precision: list[list[float]], right: list[float], terms: Vector, value: float, weight: float) -> None:
    for i in range(3):
        right[i] += weight * terms[i] * value
        for j in range(3):
            precision[i][j] += weight * terms[i] * terms[j]


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
