"""From single forecasts and refills to shares, widths, errors and ratios. Knows nothing of the program."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from math import inf
from statistics import median
from typing import TYPE_CHECKING, NamedTuple

if TYPE_CHECKING:
    from tests.benchmarks.forecast.run import Outcome, Score

LEAST_SCORED, LEAST_SHARE = 100, 0.65
SHARE_FROM, SHARE_TO = 0.75, 0.85


class Windows(NamedTuple):
    """How the windows of a class did. `share` of true dates inside; `sooner`, `later`: those before and after it."""

    of: str
    scored: int
    share: float
    sooner: float
    later: float
    width_days: float
    without: int


class Errors(NamedTuple):
    """Median absolute error of the middle date [days] so many days ahead, and of the rules' dates."""

    item: str
    ahead_days: int
    scored: int
    ours: float
    rules: tuple[float, ...]


class Total(NamedTuple):
    """A way to renew a stock, over all homes."""

    item: str
    policy: str
    renewals: int
    run_outs: int
    years: float

    @property
    def per_renewal(self) -> float:
        """Run-outs in each renewal, those of the intervals that still ran at the end too."""
        return self.run_outs / max(self.renewals, 1)

    @property
    def a_year(self) -> float:
        """Renewals in a year of one home."""
        return self.renewals / self.years


def inside(one: Score) -> bool:
    """Whether the true date lies in the window, its first and last day counted."""
    return one.low is not None and one.high is not None and one.low <= one.true <= one.high


def windows(of: str, scores: Sequence[Score]) -> Windows | None:
    """One class; None without any window."""
    found = [one for one in scores if one.low is not None]
    if not found:
        return None
    count = len(found)
    return Windows(
        of,
        count,
        sum(inside(one) for one in found) / count,
        sum(one.true < (one.low or 0.0) for one in found) / count,
        sum(one.true > (inf if one.high is None else one.high) for one in found) / count,
        median((one.high or 0.0) - (one.low or 0.0) for one in found),
        len(scores) - count,
    )


CLASSES: tuple[Callable[[Score], str], ...] = (
    lambda one: one.item,
    lambda one: one.habit,
    lambda one: one.kind,
    lambda one: one.stage,
    lambda one: f"{one.item}, {one.habit}",
    lambda one: f"{one.item}, {one.kind}",
    lambda one: f"{one.item}, {one.stage}",
)


def by_class(scores: Iterable[Score]) -> list[Windows]:
    """All, and each class of consumable, reading habit, type of household and stage of the record."""
    grid = [one for one in scores if one.grid]
    found = [windows("all", grid)]
    for name in CLASSES:
        groups: dict[str, list[Score]] = {}
        for one in grid:
            groups.setdefault(name(one), []).append(one)
        found += [windows(of, group) for of, group in sorted(groups.items())]
    return [one for one in found if one is not None]


def errors(scores: Iterable[Score], ahead_days: int) -> list[Errors]:
    """For each consumable, forecasts made when the true date was so many days ahead."""
    groups: dict[str, list[Score]] = {}
    for one in scores:
        if one.true == ahead_days and one.middle is not None:
            groups.setdefault(one.item, []).append(one)
    return [
        Errors(
            item,
            ahead_days,
            len(group),
            median(abs((one.middle or 0.0) - ahead_days) for one in group),
            tuple(median(abs(one.rules[k] - ahead_days) for one in group) for k in range(len(group[0].rules))),
        )
        for item, group in groups.items()
    ]


def totals(outcomes: Iterable[Outcome]) -> list[Total]:
    """Each way to renew each stock, and ours by reading habit too."""
    groups: dict[tuple[str, str], list[Outcome]] = {}
    for one in outcomes:
        groups.setdefault((one.item, one.policy), []).append(one)
        if one.habit is not None:
            groups.setdefault((one.item, f"{one.policy}, {one.habit}"), []).append(one)
    return [
        Total(
            *key,
            sum(one.renewals for one in group),
            sum(one.run_outs for one in group),
            sum(one.days for one in group) / 365.25,
        )
        for key, group in groups.items()
    ]


def times_fewer(other: Total, ours: Total) -> float:
    """Run-outs per renewal of another way over ours. With none of ours, as if there had been one: at least so many."""
    return other.per_renewal / (max(ours.run_outs, 1) / max(ours.renewals, 1))


def windows_hold(found: Sequence[Windows]) -> bool:
    """Whether the share of all is where it belongs and no class that counts falls short."""
    return SHARE_FROM <= found[0].share <= SHARE_TO and not too_narrow(found)


def too_narrow(found: Sequence[Windows]) -> list[Windows]:
    """Classes of at least 100 forecasts with too few true dates inside."""
    return [one for one in found if one.scored >= LEAST_SCORED and one.share < LEAST_SHARE]
