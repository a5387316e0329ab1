"""Amounts of money with their chances: added where they are independent, and read at 10 and 90 %."""

from __future__ import annotations

from collections.abc import Iterable
from operator import itemgetter

from model.plan_types import Range

Chances = dict[float, float]
"""Amount -> its chance; the chances add up to 1."""

MOST_AMOUNTS = 64
"""So many different amounts are kept apart while adding; beyond it neighbours are joined at their mean."""

_CHEAPER, _DEARER = 0.1, 0.9


def gathered(amounts: Iterable[tuple[float, float]]) -> Chances:
    """Amounts with their weights, equal ones joined."""
    found: Chances = {}
    for amount, weight in amounts:
        key = round(amount, 4)
        found[key] = found.get(key, 0.0) + weight
    return found


def added(one: Chances, other: Chances) -> Chances:
    """The sum of two independent amounts. Its mean is exact; see `MOST_AMOUNTS` for its shape."""
    if len(other) == 1:
        ((more, _),) = other.items()
        return {amount + more: weight for amount, weight in one.items()}
    pairs = gathered((a + b, p * q) for a, p in one.items() for b, q in other.items())
    return pairs if len(pairs) <= MOST_AMOUNTS else _thinned(pairs)


def _thinned(amounts: Chances) -> Chances:
    """Neighbours joined until each holds about an equal share; the mean stays."""
    found: list[tuple[float, float]] = []
    held = total = 0.0
    for amount, weight in sorted(amounts.items()):
        held, total = held + weight, total + amount * weight
        if held >= 1.0 / MOST_AMOUNTS:
            found.append((total / held, held))
            held = total = 0.0
    if held > 0:
        found.append((total / held, held))
    return dict(found)


def mean(amounts: Chances) -> float:
    """What is expected."""
    return sum(amount * weight for amount, weight in amounts.items())


def mixed(slices: Iterable[Chances]) -> Chances:
    """One of several equally likely cases."""
    cases = list(slices)
    return gathered((amount, weight / len(cases)) for one in cases for amount, weight in one.items())


def spread_of(amounts: Chances, expected: float) -> Range:
    """What is expected, with the 10 and 90 % points.

    A whole pack that is rarely needed can put the mean outside them; the range is then widened to hold it.
    """
    ordered = sorted(amounts.items(), key=itemgetter(0))
    return Range(expected, min(_point(ordered, _CHEAPER), expected), max(_point(ordered, _DEARER), expected))


def _point(ordered: list[tuple[float, float]], chance: float) -> float:
    """The least amount at or under which the cost stays with this chance."""
    reached = 0.0
    for amount, weight in ordered:
        reached += weight
        if reached >= chance - 1e-9:
            return amount
    return ordered[-1][0]
