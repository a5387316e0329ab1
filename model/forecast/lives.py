"""How long a slow part lasts: the chance of its having been replaced by a month from now, and how often in all."""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise
from math import exp, inf, log, sqrt

import msgspec

from model.forecast.normal import Z90, below, quantile

_LEAST_CHANCE = 1e-9


class Life(msgspec.Struct, frozen=True):
    """The age at which such parts are done, log-normal: 10 % by `low_years` and 90 % by `high_years` [year].

    Source: log-normal lives, e.g. Crow and Shimizu, Lognormal Distributions, 1988. The ages are the job's.
    """

    low_years: float
    high_years: float

    @property
    def middle_years(self) -> float:
        """The age that half of them reach [year]."""
        return sqrt(self.low_years * self.high_years)

    def lasts(self, years: float) -> float:
        """Chance of reaching an age [year], 0-1."""
        return below(-self._off(years)) if years > 0 else 1.0

    def age_at(self, chance: float, age_years: float) -> float:
        """The age by which a part that has reached `age_years` is done with this chance [year]."""
        left = max(self.lasts(age_years) * (1.0 - chance), 1e-300)
        return max(self.middle_years * exp(-quantile(left) * self._spread), age_years)

    @property
    def _spread(self) -> float:
        return max(log(self.high_years / self.low_years) / (2.0 * Z90), 1e-6)

    def _off(self, years: float) -> float:
        share = years / self.middle_years
        return log(share) / self._spread if share > 0.0 else -inf


def done_by(life: Life, age_years: float, cap_month: float | None) -> Callable[[float], float]:
    """Chance of the next replacement by a month from now, of a part that has reached its age; sure at the cap."""
    reached = max(life.lasts(age_years), 1e-300)

    def chance(month: float) -> float:
        if cap_month is not None and month >= cap_month:
            return 1.0
        return 1.0 - life.lasts(age_years + month / 12.0) / reached if month > 0 else 0.0

    return chance


def replacements(first: Callable[[float], float], later: Callable[[float], float], months: int) -> dict[float, float]:
    """How many replacements come within so many months, each number with its chance.

    `first`, `later`: the chance of the next one by a month from now, and from a replacement. Source: renewal theory;
    the sums are taken month by month.
    """
    by_month = _by_month(first, months)
    each = _by_month(later, months)
    each[0] = 0.0
    reached, found = 1.0, {}
    for count in range(months + 2):  # one in each month, the present one too, is the most there can be
        more = sum(by_month)
        found[float(count)] = max(reached - more, 0.0)
        if more < _LEAST_CHANCE:
            break
        reached, by_month = more, _after(by_month, each)
    return {count: chance / sum(found.values()) for count, chance in found.items() if chance > 0.0}


def _by_month(chance: Callable[[float], float], months: int) -> list[float]:
    """Chance of each month from 0 on, rounded to the nearest; what comes after the last is left out."""
    edges = [0.0, *(chance(month + 0.5) for month in range(months)), chance(float(months))]
    return [after - before for before, after in pairwise(edges)]


def _after(by_month: list[float], each: list[float]) -> list[float]:
    """The month of the next replacement: that of the last one and a life more."""
    last = len(by_month)
    found = [0.0] * last
    for start, chance in enumerate(by_month):
        if chance > _LEAST_CHANCE:
            for month in range(start, last):
                found[month] += chance * each[month - start]
    return found
