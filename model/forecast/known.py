"""What the log says, as the stages ask it."""

from __future__ import annotations

from datetime import date
from operator import attrgetter, itemgetter

from model.equipment.base import Stage, Sure
from model.equipment.evidence import Pace
from model.equipment.levels import Mark
from model.equipment.well import Well
from model.forecast.demand import Demand
from model.forecast.tested import tested_on
from model.forecast.words import day_in_words
from model.home import House
from model.records.history import Dated, History
from model.records.rules import ASK_AGAIN, last_asked
from model.units import show
from model.water.sample import Sample

FRESH_DAYS = 60
"""A level read within these days counts as measured. Owner's default."""

STALE_DAYS = 240
"""Beyond this age of the last reading a date is a guess. Owner's default."""


class Known:
    """House, log and water use on one day, with the water before and after each stage. See `Evidence`."""

    def __init__(
        self,
        house: House,
        history: History,
        demand: Demand,
        fed: dict[str, Sample | None],
        treated: dict[str, Sample | None],
        versions: dict[str, list[tuple[date, Stage]]] | None = None,
        coming: dict[str, list[tuple[date, Stage]]] | None = None,
    ) -> None:
        self.house = house
        self.history = history
        self.demand = demand
        self.today = history.today
        self.pace = Pace()
        self.worst_pace = Pace()
        self._fed = fed
        self._treated = treated
        self._versions = versions or {}
        self._coming = coming or {}
        self._tested: dict[str, date | None] = {}

    def fed(self, stage: Stage) -> Sample | None:
        """The water that meets a stage, None if the source is unknown."""
        return self._fed.get(stage.id)

    def treated(self, stage: Stage) -> Sample | None:
        """The water that leaves a stage, None if the source is unknown."""
        return self._treated.get(stage.id)

    def litres(self, start: date, end: date, least_l_per_day: float = 0.0) -> float:
        """House use between two days [L], each day counted as at least so much."""
        return self.demand.litres(start, end, least_l_per_day)

    def counted(self, start: date, end: date, least_l_per_day: float = 0.0) -> tuple[float, float]:
        """House use between two days [L] while the meter was read, and while it was not."""
        low, high = self.demand.read_from, self.demand.read_until
        low, high = min(max(low, start), end), max(min(high, end), start)
        by_meter = self.demand.litres(low, high, least_l_per_day) if high > low else 0.0
        return by_meter, self.demand.litres(start, end, least_l_per_day) - by_meter

    def water_log_sd(self) -> float:
        """How well the level of water use is known where no meter counted it, in natural logs."""
        return self.demand.level.log_sd(self.today.timetuple().tm_yday)

    def per_day(self) -> float:
        """Expected house use of a day at home [L/day]."""
        return self.demand.per_day()

    def ro_product_l_per_day(self) -> float:
        """Water drawn at the RO tap [L/day]."""
        return self.demand.ro_product_l_per_day()

    def regenerations(self, *, careful: bool) -> Pace:
        """How often the first softener regenerates, never without one; `careful`: in the worst water of two years."""
        return self.worst_pace if careful else self.pace

    def since(self, stage: Stage) -> date:
        """When the stage was new, or, if that was before, when the record began."""
        return max(stage.installed_on or self.house.started, self.house.started)

    def last_done(self, stage: Stage, job: str) -> date | None:
        """The day a stage's job was last done, or None; a laboratory test also by its report, a local rule as asked."""
        done = self.history.last_done(f"{stage.id}.{job}")
        if job == ASK_AGAIN:
            return last_asked(self.history, done)
        days = (done, self._tested_on(job) if isinstance(stage, Well) else None)
        return max((day for day in days if day is not None), default=None)

    def _tested_on(self, job: str) -> date | None:
        if job not in self._tested:
            self._tested[job] = tested_on(self.history, job)
        return self._tested[job]

    def renewed(self, stage: Stage, job: str) -> date:
        """The day a part was last renewed: by the job, or with the stage."""
        return self.last_done(stage, job) or self.since(stage)

    def read(self, stage: Stage, quantity: str, job: str) -> list[Dated]:
        """Readings of a quantity of a stage since one of its jobs was last done, oldest first."""
        return self.history.since_done(f"{stage.id}.{job}", quantity, stage.id, self.since(stage))

    def versions(self, stage: Stage) -> list[tuple[date, Stage]]:
        """The stage as its settings were, each with the day from which they held, oldest first."""
        return self._versions.get(stage.id, []) or [(date.min, stage)]

    def scheduled(self, stage: Stage) -> list[tuple[date, Stage]]:
        """The stage as its settings will be, each with the day from which they will hold, soonest first."""
        return self._coming.get(stage.id, [])

    def recorded(self, stage: Stage, job: str) -> bool:
        """Whether it is on record when a part was renewed: by the job, or with a stage put in since."""
        new = stage.installed_on is not None and stage.installed_on >= self.house.started
        return new or self.last_done(stage, job) is not None

    def marks(
        self,
        stage: Stage,
        quantity: str,
        jobs: tuple[str, ...],
        parts: tuple[str, ...],
        counter: str = "",
        most: int | None = None,
    ) -> list[Mark]:
        """Levels seen (in the quantity's unit), amounts put in (in the supply's) and counts read, oldest first.

        `most`: only so many of the newest.
        A level read after a service stands for the state after it; one read before it is followed by the amount added.
        A change of the stage's settings is a mark without either: up to it the old settings drew on the stock.
        """
        supplies = {stage.supplies.get(part, "") for part in parts} - {""}
        newest = slice(-most if most else None, None)  # what is not among these of its kind is not among all
        usual, *others = (self.history.services(f"{stage.id}.{job}") for job in jobs)
        services = {event.id: event for event in usual}
        services |= {event.id: event for done in others for event in done if event.used or event.taken}
        levels = [
            one
            for one in self.history.taken(quantity, stage.id)
            if one.event not in services or one.taken.moment == "before"
        ]
        found = [(one.on, one.event, Mark(one.on, one.taken.value, 0.0)) for one in levels[newest]]
        for event in sorted(services.values(), key=attrgetter("on", "id"))[newest]:
            after = [t.value for t in event.taken if t.quantity == quantity and t.moment != "before"]
            added = sum(amount for supply, amount in event.used.items() if supply in supplies)
            found.append((event.on, event.id, Mark(event.on, after[-1] if after else None, added, refilled=True)))
        found += [
            (one.on, one.event, Mark(one.on, None, 0.0, one.taken.value))
            for one in self.history.taken(counter, stage.id)[newest]
        ]
        found += [(on, 0, Mark(on, None, 0.0)) for on, _ in self.versions(stage)[1:]]
        return [mark for _, _, mark in sorted(found, key=itemgetter(0, 1))][newest]

    def sure(self, supporting: date | None) -> Sure:
        """How far a date can be trusted, by the age of the reading that supports it."""
        if supporting is None or (self.today - supporting).days > STALE_DAYS:
            return "guess"
        return "measured" if (self.today - supporting).days <= FRESH_DAYS else "forecast"

    def show(self, value: float, dimension: str) -> str:
        """A quantity in the owner's units, in words."""
        return show(value, dimension, self.house.units)

    def day(self, on: date) -> str:
        """A day in words."""
        return day_in_words(on, self.today)
