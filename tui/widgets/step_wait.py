"""The wait of one step as its line tells it, and what the keys do to it."""

from __future__ import annotations

from model.records.events import Wait
from model.upkeep import waits


class StepWait:
    """A wait of so many minutes; `wait` is None while it was not begun. `now` is in seconds since 1970."""

    def __init__(self, step: int, minutes: int, wait: Wait | None) -> None:
        self.minutes = minutes
        self.wait = wait if minutes else None
        self._step = step

    def begin(self, now: float) -> None:
        """Begin, unless it was begun before."""
        if self.minutes and self.wait is None:
            self.wait = waits.begun(self._step, self.minutes, now)

    def turn(self, now: float) -> None:
        """Begin, stop or resume; one that is over stays so."""
        if self.wait is None:
            self.begin(now)
        elif self.wait.since is not None:
            self.wait = waits.stopped(self.wait, now)
        elif not waits.is_heard(self.wait):
            self.wait = waits.resumed(self.wait, now)

    def drop(self) -> None:
        """As if never begun."""
        self.wait = None

    def settle(self, now: float) -> None:
        """Take a clock that was set back as it is now."""
        if self.wait is not None:
            self.wait = waits.settled(self.wait, now)

    def hear(self, now: float) -> None:
        """Take note that it is over."""
        if self.is_over(now) and self.wait is not None:
            self.wait = waits.stopped(self.wait, now)

    def is_running(self, now: float) -> bool:
        """Whether its line changes by itself."""
        return self.wait is not None and waits.is_running(self.wait, now)

    def is_over(self, now: float) -> bool:
        """Whether it has run out and nobody has taken note."""
        return self.wait is not None and self.wait.since is not None and waits.left_s(self.wait, now) <= 0.0

    def tail(self, now: float) -> str:
        """What follows ">> Wait 5 minutes" on the line."""
        if self.wait is None:
            return ""
        if self.is_over(now):
            return "!! THE WAIT IS OVER !!"
        if waits.is_heard(self.wait):
            return "over"
        left = f"{waits.clock_words(waits.left_s(self.wait, now))} left"
        return left if self.wait.since is not None else f"stopped, {left}"
