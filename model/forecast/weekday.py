"""What the days of the week do to water use, where the meter is read day by day."""

from __future__ import annotations

from math import exp

from model.forecast.level import DAY_SD

LEAST_DAYS = 28
"""Days read one by one from which the week is looked at. Owner's default."""

BETWEEN_WEEKDAYS_SD = 0.10
"""How far weekdays differ in most houses, in natural logs. Source: 10 % more at weekends in single working households,
smart meters of 227 homes."""


def weekday_factors(daily: list[tuple[int, float]]) -> tuple[float, ...] | None:
    """Use of each weekday, Monday first, over the mean of the week; None with fewer than LEAST_DAYS days.

    `daily`: weekday 0-6 and ln(use / level). Each weekday's mean is drawn towards the mean of all by
    n / (n + DAY_SD^2 / BETWEEN_WEEKDAYS_SD^2). The factors' mean is 1.
    Source: shrinkage of group means, Gelman et al., Bayesian Data Analysis, 3rd ed., ch. 5.
    """
    if len(daily) < LEAST_DAYS:
        return None
    groups: list[list[float]] = [[] for _ in range(7)]
    for weekday, off in daily:
        groups[weekday].append(min(max(off, -3.0 * DAY_SD), 3.0 * DAY_SD))
    middle = sum(off for group in groups for off in group) / len(daily)
    drawn = DAY_SD**2 / BETWEEN_WEEKDAYS_SD**2
    factors = [exp(sum(off - middle for off in group) / (len(group) + drawn)) for group in groups]
    mean = sum(factors) / 7.0
    return tuple(factor / mean for factor in factors)
