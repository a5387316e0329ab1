"""Roots of rising functions of one variable."""

from __future__ import annotations

from collections.abc import Callable

_MOST_STEPS = 200


def rising_root(f: Callable[[float], float], low: float, high: float, tolerance: float = 1e-12) -> float:
    """The place between `low` and `high` where the rising function `f` is zero, to `tolerance` of the bracket.

    `f(low)` must be negative and `f(high)` positive. Regula falsi with the Illinois correction, and a halving where
    the bracket shrinks slowly. Source: Dowell and Jarratt 1971, BIT 11, 168-174 (from memory).
    """
    f_low, f_high, width = f(low), f(high), abs(high - low)
    side = slow = 0
    while high - low > tolerance * width and slow < _MOST_STEPS:
        slow += 1
        middle = 0.5 * (low + high) if slow % 6 == 0 else (low * f_high - high * f_low) / (f_high - f_low)
        value = f(middle)
        if value == 0.0:
            return middle
        if value < 0.0:
            f_high = f_high / 2.0 if side < 0 else f_high
            low, f_low, side = middle, value, -1
        else:
            f_low = f_low / 2.0 if side > 0 else f_low
            high, f_high, side = middle, value, 1
    return 0.5 * (low + high)


def rising_bracket(f: Callable[[float], float], first: float, most: float) -> float | None:
    """The first of `first`, twice that, and so on where the rising `f` is not negative; None beyond `most`."""
    high = first
    while f(high) < 0.0:
        high *= 2.0
        if high > most:
            return None
    return high
