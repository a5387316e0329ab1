"""What people read and write down, with their errors, and when. Knows nothing of the program."""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, pi
from random import Random
from typing import Literal, NamedTuple, get_args

from tests.benchmarks.forecast.household import Household

Habit = Literal["weekly", "monthly", "hardly"]
HABITS: tuple[Habit, ...] = get_args(Habit)
EVERY_DAYS: dict[Habit, float] = {"weekly": 7.0, "monthly": 30.4, "hardly": 180.0}
SKIPPED: dict[Habit, float] = {"weekly": 0.07, "monthly": 0.05, "hardly": 0.0}
WANDER_DAYS: dict[Habit, int] = {"weekly": 1, "monthly": 3, "hardly": 30}
TRIP_NOTED: dict[Habit, float] = {"weekly": 0.85, "monthly": 0.7, "hardly": 0.15}
BED_EVERY_DAYS: dict[Habit, int] = {"weekly": 30, "monthly": 60, "hardly": 0}
OTHER_DAY = 0.03
"""Share of meter readings that stand for the morning before or after."""
BAG_KG = 10.0
FILL_SD_CM = 2.0
PEN_SD = 0.03
SOLIDS_MG_L = 250.0
"""Dissolved solids before the membrane."""


class Eyes(NamedTuple):
    """How one household reads: its errors, and what it reads at all."""

    stick_sd_cm: float
    meter_step_l: float
    bag_part: float
    counts: bool
    tape_sd_cm: float
    gauge_sd_bar: float
    gauge_apart_bar: float


def draw_eyes(name: str, seed: int) -> Eyes:
    """The errors of a household."""
    rng = Random(f"eyes {name} {seed}")
    return Eyes(
        stick_sd_cm=rng.uniform(1.5, 3.0),
        meter_step_l=rng.choice((10.0, 100.0)),
        bag_part=rng.choice((0.25, 0.25, 1.0)),
        counts=rng.random() < 0.5,
        tape_sd_cm=rng.uniform(1.0, 2.5),
        gauge_sd_bar=rng.uniform(0.03, 0.07),
        gauge_apart_bar=rng.gauss(0.0, 0.03),
    )


class Notes:
    """One household's readings: each call is a new look, with its own error."""

    def __init__(self, eyes: Eyes, rng: Random) -> None:
        self.eyes, self._rng = eyes, rng

    def meter(self, before: Sequence[float], day: int) -> float:
        """The meter [L], now and then of the morning before or after."""
        off = self._rng.choice((-1, 1)) if self._rng.random() < OTHER_DAY else 0
        return self.eyes.meter_step_l * round(before[max(day + off, 0)] / self.eyes.meter_step_l)

    def salt_cm(self, true_cm: float) -> float:
        """Salt by the stick, whole centimetres."""
        return float(max(round(self._rng.gauss(true_cm, self.eyes.stick_sd_cm)), 0))

    def bags_kg(self, true_kg: float) -> float:
        """Salt put in, by the bags opened [kg]: to a quarter of a bag, or by those who count whole bags to a bag."""
        part = BAG_KG * (self.eyes.bag_part if true_kg >= BAG_KG else 0.25)
        return part * round(true_kg / part)

    def bed_cm(self, true_cm: float) -> float:
        """The bed by the tape, whole centimetres."""
        return float(max(round(self._rng.gauss(true_cm, self.eyes.tape_sd_cm)), 0))

    def gauges_bar(self, drop_bar: float) -> tuple[float, float]:
        """Pressure before and after, to 0.05 bar."""
        inlet = self._rng.uniform(2.8, 3.6)
        sd = self.eyes.gauge_sd_bar
        after = self._rng.gauss(inlet - drop_bar + self.eyes.gauge_apart_bar, sd)
        return _to(0.05, self._rng.gauss(inlet, sd)), _to(0.05, max(after, 0.0))

    def solids_mg_l(self, feed: float, passage: float) -> tuple[float, float]:
        """Dissolved solids before and after the membrane by the pen, whole mg/L."""
        seen = self._rng.gauss(1.0, PEN_SD), self._rng.gauss(1.0, PEN_SD)
        return float(round(feed * seen[0])), float(round(feed * passage * seen[1]))

    def pH(self, true: float) -> float:
        """A pH to a tenth."""
        return round(self._rng.gauss(true, 0.1), 1)


def _to(step: float, value: float) -> float:
    return round(step * round(value / step), 4)


def reading_days(habit: Habit, house: Household, days: int, rng: Random) -> list[int]:
    """The days on which meter and levels are read, the first day one of them; never while away."""
    found, due = [0], EVERY_DAYS[habit]
    while due < days:
        day = max(round(due) + rng.randint(-WANDER_DAYS[habit], WANDER_DAYS[habit]), found[-1] + 1)
        if rng.random() >= SKIPPED[habit] and day < days and not house.away(day):
            found.append(day)
        due += EVERY_DAYS[habit]
    return found


def warmer_c(house: Household, day: int) -> float:
    """How much warmer than its mean the water at the tap is."""
    return 4.0 * cos(2.0 * pi * (house.on(day).timetuple().tm_yday - 220.0) / 365.25)
