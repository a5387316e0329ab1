"""The standard normal: its quantiles, and the points and weights at which costs are worked out."""

from __future__ import annotations

from functools import lru_cache
from itertools import pairwise
from math import erfc, exp, pi, sqrt

SHARED_POINTS = 15
"""Points of the water use that all consumables share. An odd multiple of five, so that the 10 and 90 % points each lie
in the middle of a slice. Owner's default."""

OWN_POINTS = 5
"""Points of what a group of consumables has of its own, likewise. Owner's default."""

Z90 = 1.2816
"""Standard deviations from the middle to the 10 and 90 % points of a normal. Source: normal table."""


def below(x: float) -> float:
    """Chance that a standard normal lies under `x`, 0-1. Source: the complementary error function."""
    return 0.5 * erfc(-x / sqrt(2.0))


def quantile(chance: float) -> float:
    """The point under which a standard normal lies with this chance, 0-1; found by halving, within +-38.

    Exact in the lower tail; for the upper one ask for the other and turn its sign.
    """
    low, high = -38.0, 38.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        if below(middle) < chance:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


@lru_cache(maxsize=2)
def points(count: int) -> tuple[float, ...]:
    """The mean of each of so many equally likely slices of a standard normal, lowest first; their own mean is 0.

    Source: the mean of a truncated normal, count times the difference of the density at its two edges.
    """
    edges = [quantile(k / count) for k in range(1, count)]
    heights = [0.0, *(exp(-0.5 * edge**2) / sqrt(2.0 * pi) for edge in edges), 0.0]
    return tuple(count * (low - high) for low, high in pairwise(heights))
