"""What a measure is, and how two things are timed in turn."""

from __future__ import annotations

import gc
import time
from collections.abc import Callable
from statistics import median

import msgspec


class Measure(msgspec.Struct, frozen=True):
    """A ratio with its aim: at most, or with `at_least` at least so much (how many times faster).

    `unit`: "x" for a ratio, "share" for a part of 1. `judged`: whether it holds, where that takes more than the aim.
    """

    name: str
    value: float
    aim: float
    against: str
    at_least: bool = False
    unit: str = "x"
    judged: bool | None = None

    @property
    def holds(self) -> bool:
        if self.judged is not None:
            return self.judged
        return self.value >= self.aim if self.at_least else self.value <= self.aim

    def as_json(self) -> dict[str, object]:
        return {"name": self.name, "value": self.value, "aim": self.aim, "unit": self.unit, "holds": self.holds}


def ratio(ours: Callable[[], float], theirs: Callable[[], float], rounds: int) -> float:
    """Median of ours over median of theirs, run in turn after one round to warm up."""
    pairs = [(ours(), theirs()) for _ in range(rounds + 1)][1:]
    return median(pair[0] for pair in pairs) / median(pair[1] for pair in pairs)


def seconds(work: Callable[[], object]) -> float:
    """Wall time of one call, with the garbage of earlier calls out of the way."""
    gc.collect()
    start = time.perf_counter()
    work()
    return time.perf_counter() - start
