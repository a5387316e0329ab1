"""The h-transform of a composition: the roots that travel one by one through a column, and the way back."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import prod

from model.water.roots import rising_root

ABSENT = 1e-12
"""Equivalent fraction below which an ion counts as absent."""

_APART = 1e-6


def reciprocal_factors(factors: Sequence[float]) -> tuple[float, ...]:
    """b = 1/factor of each ion, equal ones moved apart by a millionth, in the order given.

    `factors` are separation factors against any one ion, above 0. Equal factors have no h-transform of their own;
    a millionth apart they give the answer of their limit. Source: Helfferich and Klein, Multicomponent
    Chromatography, 1970 (from memory).
    """
    found = [1.0 / factor for factor in factors]
    order = sorted(range(len(found)), key=found.__getitem__)
    for lower, upper in pairwise(order):
        found[upper] = max(found[upper], found[lower] * (1.0 + _APART))
    return tuple(found)


def h_roots(fractions: Sequence[float], b: Sequence[float]) -> tuple[float, ...]:
    """The n - 1 roots h of sum x_i / (h - b_i) = 0, rising, for equivalent fractions x in solution that sum to 1.

    One root lies between each two neighbours among the b; an ion that is absent leaves its root at its own b.
    Source: Helfferich and Klein, Multicomponent Chromatography, 1970 (from memory).
    """
    present = sorted((b[i], x) for i, x in enumerate(fractions) if x > ABSENT)
    roots = [b[i] for i, x in enumerate(fractions) if x <= ABSENT]
    roots += [_between(present, k) for k in range(len(present) - 1)]
    return tuple(sorted(roots))


def _between(present: Sequence[tuple[float, float]], k: int) -> float:
    """The root between the k-th and the next b, from the sum times the two poles that bound it."""
    low, high = present[k][0], present[k + 1][0]
    others = [*present[:k], *present[k + 2 :]]

    def rising(h: float) -> float:
        below, above = h - low, h - high
        rest = sum(x / (h - pole) for pole, x in others)
        return present[k][1] * above + present[k + 1][1] * below + below * above * rest

    return rising_root(rising, low, high, 1e-14)


def fractions_of(roots: Sequence[float], b: Sequence[float]) -> tuple[float, ...]:
    """Equivalent fractions in solution that have these roots: x_j = prod_k (b_j - h_k) / prod_i (b_j - b_i), i not j.

    Source: partial fractions of the defining sum; Helfferich and Klein 1970 (from memory).
    """
    return tuple(max(0.0, _fraction(j, roots, b)) for j in range(len(b)))


def _fraction(j: int, roots: Sequence[float], b: Sequence[float]) -> float:
    """Numerator and denominator are paired by size, so that near-equal factors do not lose digits."""
    others = sorted(b[:j]) + sorted(b[j + 1 :])
    return prod((b[j] - h) / (b[j] - other) for h, other in zip(roots, sorted(others), strict=True))
