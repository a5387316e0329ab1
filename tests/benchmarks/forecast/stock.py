"""A stock as it truly is: filled now and then, drawn on day by day. Knows nothing of the program."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence


class Stock:
    """What is left of something, in its own unit.

    `drawn[k]` is all that would have been drawn before the morning of day k; `fills` gives what stands there after each
    renewal, the first at once. `line`: where it is done. `tops_up`: what was left stays in it. `by_dose`: it fails when
    a draw finds too little, and not on reaching the line.
    """

    def __init__(
        self,
        drawn: Sequence[float],
        fills: Iterator[float],
        line: float = 0.0,
        *,
        tops_up: bool = False,
        by_dose: bool = False,
    ) -> None:
        self.line = line
        self.since = 0
        self._drawn, self._fills, self._tops_up, self._by_dose = drawn, fills, tops_up, by_dose
        self.held = next(fills)
        self.count = 0
        """Which fill this is, from 0."""

    def left(self, day: int) -> float:
        """What is there on the morning of a day; a draw takes no more than there is."""
        return max(self.held - (self._drawn[day] - self._drawn[self.since]), 0.0)

    def falls_to(self, level: float) -> int | None:
        """The first morning with no more than `level` left if nobody renews; None beyond the days known."""
        return self._known(bisect_left(self._drawn, self._drawn[self.since] + self.held - level, lo=self.since))

    @property
    def out_on(self) -> int | None:
        """The day on which the line is reached."""
        return self.falls_to(self.line)

    @property
    def fails_on(self) -> int | None:
        """The day on which it is missed: a draw found too little, or the line was reached."""
        if not self._by_dose:
            return self.out_on
        return self._known(bisect_right(self._drawn, self._drawn[self.since] + self.held + 1e-9, lo=self.since))

    def _known(self, day: int) -> int | None:
        return day if day < len(self._drawn) else None

    def renew(self, day: int) -> float:
        """Fill it up or put a new one in. Gives what was added."""
        before = self.left(day) if self._tops_up else 0.0
        self.held = max(next(self._fills), before)
        self.since, self.count = day, self.count + 1
        return self.held - before
