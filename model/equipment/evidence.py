"""What a stage may ask when it works out what is left of its consumables."""

from __future__ import annotations

from datetime import date
from math import exp
from typing import NamedTuple, Protocol

from model.equipment.base import Stage, Sure
from model.equipment.levels import Mark
from model.equipment.wear import Drawn
from model.records.history import Dated, History
from model.water.sample import Sample


class Pace(NamedTuple):
    """How something goes: per litre [1/L], each day counted as at least so many litres [L/day], and per day [1/day].

    Of regenerations as such, of kilograms once multiplied by the kilograms of each.
    """

    per_litre: float = 0.0
    least_l_per_day: float = 0.0
    per_day: float = 0.0

    def of_each(self, amount: float) -> Pace:
        """How an amount goes of which so much goes each time."""
        return Pace(amount * self.per_litre, self.least_l_per_day, amount * self.per_day)

    def faster(self, log_rate: float) -> Pace:
        """How it goes if everything goes exp(`log_rate`) times as fast."""
        return Pace(self.per_litre * exp(log_rate), self.least_l_per_day, self.per_day * exp(log_rate))

    def split(self, known: Evidence, start: date, end: date) -> Drawn:
        """What goes between two days: with time and with water that the meter counted, and with water reckoned."""
        counted, reckoned = known.counted(start, end, self.least_l_per_day)
        return Drawn(self.per_litre * counted + self.per_day * (end - start).days, self.per_litre * reckoned)


class Evidence(Protocol):
    """House, log and water use on one day."""

    today: date
    history: History

    def fed(self, stage: Stage) -> Sample | None:
        """The water that meets a stage, None if the source is unknown."""

    def treated(self, stage: Stage) -> Sample | None:
        """The water that leaves a stage, None if the source is unknown."""

    def litres(self, start: date, end: date, least_l_per_day: float = 0.0) -> float:
        """House use between two days [L], each day counted as at least so much."""

    def counted(self, start: date, end: date, least_l_per_day: float = 0.0) -> tuple[float, float]:
        """House use between two days [L] while the meter was read, and while it was not."""

    def water_log_sd(self) -> float:
        """How well the level of water use is known where no meter counted it, in natural logs."""

    def per_day(self) -> float:
        """Expected house use of a day at home [L/day]."""

    def ro_product_l_per_day(self) -> float:
        """Water drawn at the RO tap [L/day]."""

    def regenerations(self, *, careful: bool) -> Pace:
        """How often the first softener regenerates, never without one; `careful`: in the worst water of two years."""

    def since(self, stage: Stage) -> date:
        """When the stage was new, or when the home was written down."""

    def last_done(self, stage: Stage, job: str) -> date | None:
        """The day a stage's job was last done, or None."""

    def renewed(self, stage: Stage, job: str) -> date:
        """The day a part was last renewed: by the job, or with the stage."""

    def read(self, stage: Stage, quantity: str, job: str) -> list[Dated]:
        """Readings of a quantity of a stage since one of its jobs was last done, oldest first."""

    def versions(self, stage: Stage) -> list[tuple[date, Stage]]:
        """The stage as its settings were, each with the day from which they held, oldest first."""

    def scheduled(self, stage: Stage) -> list[tuple[date, Stage]]:
        """The stage as its settings will be, each with the day from which they will hold, soonest first."""

    def recorded(self, stage: Stage, job: str) -> bool:
        """Whether it is on record when a part was renewed."""

    def marks(
        self,
        stage: Stage,
        quantity: str,
        jobs: tuple[str, ...],
        parts: tuple[str, ...],
        counter: str = "",
        most: int | None = None,
    ) -> list[Mark]:
        """Levels seen (in the quantity's unit), amounts put in (in the supply's) and counts read, oldest first."""

    def sure(self, supporting: date | None) -> Sure:
        """How far a date can be trusted, by the age of the reading that supports it."""

    def show(self, value: float, dimension: str) -> str:
        """A quantity in the owner's units, in words."""

    def day(self, on: date) -> str:
        """A day in words."""


def fitted(what: str, known: Evidence, stage: Stage, job: str) -> str:
    """When a part was fitted, in words; taken as new with the record where nothing says so."""
    since = known.day(known.renewed(stage, job))
    if known.recorded(stage, job):
        return f"{what} fitted {since}."
    return f"{what} taken as new on {since}: no record of when fitted."
