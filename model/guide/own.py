"""The home's own numbers, as the answers ask for them; nothing is worked out here that is not worked out elsewhere."""

from __future__ import annotations

from datetime import date
from functools import cached_property
from typing import TypeVar

from model.equipment.base import Stage
from model.equipment.registry import AnyStage, title_of
from model.forecast.costs import costs_of
from model.forecast.numbers.common import Numbers, inlet_of, outlet_of
from model.forecast.reports import reports
from model.forecast.situation import Situation
from model.forecast.slow_parts import ten_years
from model.forecast.source import merged
from model.guide.shape import Missing, Said
from model.plan import plan_of
from model.plan_types import Costs, Due, Plan, PointWater, TenYears
from model.records.bounds import for_health
from model.records.events import Absence
from model.records.history import Dated
from model.records.points import canonical_point
from model.records.quantities import QUANTITIES, show_taken
from model.units import display_unit, show
from model.water.limits import NITRATE_LIMIT_MG_L_N
from model.water.sample import Sample

S = TypeVar("S", bound=Stage)

_RAW = ("pH", "alkalinity", "hardness")
"""Without these the water cannot be carried through the train."""

_PLACES = {"source": "of the raw water", "tap": "at the tap", "ro": "at the RO tap", "house": "of the house"}


class Own:
    """One home on one day. Each picture is worked out when an answer first asks for it."""

    def __init__(self, now: Situation) -> None:
        self.now = now
        self.house = now.house
        self.today = now.today

    @cached_property
    def plan(self) -> Plan:
        """What is due, the waters and the shelf."""
        return plan_of(self.now, with_numbers=False)

    @cached_property
    def reports(self) -> dict[str, Numbers]:
        """The numbers of the stages."""
        return reports(self.now)

    @cached_property
    def costs(self) -> Costs:
        """The next twelve months."""
        return costs_of(self.now, 12)

    @cached_property
    def ten_years(self) -> TenYears:
        """The next ten years."""
        return ten_years(self.now)

    # The train and its water

    def all(self, kind: type[S]) -> list[S]:
        """The stages of one kind, in train order."""
        return [one for one in self.house.stages if isinstance(one, kind)]

    def first(self, kind: type[S]) -> S | None:
        """The first stage of a kind, None where there is none."""
        return next(iter(self.all(kind)), None)

    def numbers(self, stage: Stage | str) -> Numbers:
        """What a stage reports, or "drain"; empty where nothing can be told."""
        return self.reports.get(stage if isinstance(stage, str) else stage.id, {})

    def fed(self, stage: Stage) -> Sample | None:
        """The water that meets a stage, None where the source is unknown."""
        return self.now.carried.fed.get(stage.id)

    def left(self, stage: Stage) -> Sample | None:
        """The water that leaves a stage, None where the source is unknown."""
        return self.now.carried.treated.get(stage.id)

    def water(self, point: str) -> PointWater | None:
        """The water at a point of the train, None where there is no such point or nothing is known of it."""
        wanted = canonical_point(self.house, point)
        return next((one for one in self.plan.points if one.point == wanted and one.sample is not None), None)

    def outlet(self, stage: AnyStage) -> str:
        """The point after a stage of the main train."""
        return outlet_of(self.now, stage)

    def inlet(self, stage: AnyStage) -> str:
        """The point before a stage of the main train."""
        return inlet_of(self.now, stage)

    # What happened, and what is due

    def read(self, quantity: str, *points: str) -> Dated | None:
        """The newest value of a quantity at any of the points; anywhere, where none is named."""
        every = [one for one in self.now.history.taken(quantity) if not points or one.taken.point in points]
        return max(every, key=lambda one: one.on, default=None)

    def done(self, stage: Stage, job: str) -> date | None:
        """The day a stage's job was last done, None where that is not on record."""
        return self.now.history.last_done(f"{stage.id}.{job}")

    def due(self, stage: Stage, job: str) -> Due | None:
        """The date of a job, None where it has none."""
        return next((one for one in self.plan.due if one.task == f"{stage.id}.{job}"), None)

    @cached_property
    def absence(self) -> Absence | None:
        """The absence written down that is going on or comes next."""
        coming = [one for one in self.now.history.of(Absence) if one.until >= self.today]
        return min(coming, key=lambda one: one.on, default=None)

    # In words

    def show(self, value: float, dimension: str) -> str:
        """A quantity in the owner's units."""
        return show(value, dimension, self.house.units)

    def day(self, on: date) -> str:
        """A day in words."""
        return self.now.known.day(on)

    def seen(self, one: Dated) -> str:
        """A reading with its day: "17.1 gal on 5 Oct"."""
        return f"{show_taken(one.taken, self.house.units)} on {self.day(one.on)}"

    def when(self, stage: Stage, job: str) -> str:
        """When a job is to be done: "due on 22 Dec", "overdue since 5 Nov", or that it has no date."""
        found = self.due(stage, job)
        if found is None:
            return "not dated"
        word = "overdue since" if found.act_on < self.today else "due on"
        return f"{word} {self.day(found.act_on)}"

    def last(self, stage: Stage, job: str) -> str:
        """When a job was last done: "last done on 5 Nov", or that this was never recorded."""
        on = self.done(stage, job)
        return f"last done on {self.day(on)}" if on else "never recorded as done"

    def dated(self, text: str) -> str:
        """An answer that rests on the raw water carried through the train, with the newest day of that water."""
        on = merged(self.now.history, "source").last_on
        return f"{text} Raw water as of {self.day(on)}." if on else text

    def instead(self) -> str:
        """What to drink where germs may be in the water: bottled; boiled only where nitrate is known to be low."""
        nitrate = self.now.planned_nitrate_mg_l_n
        if nitrate is None:
            return "drink bottled water (boiling would concentrate nitrate, which was never measured here)"
        if nitrate >= self.now.nitrate_action_mg_l_n():
            return f"drink bottled water (boiling would concentrate your nitrate of {nitrate:.1f} mg/L as N)"
        return "drink bottled water or, as raw nitrate is known to be low, boil drinking water"

    def over(self, nitrate: Dated) -> str:
        """What a nitrate of drinking water means where it is at or over the limit; else nothing."""
        if nitrate.taken.qualifier == "<" or for_health(nitrate.taken) < NITRATE_LIMIT_MG_L_N:
            return ""
        return " That is not under the limit of 10: do not drink it, and call the health authority."

    def name(self, stage: AnyStage) -> str:
        """What the owner calls a stage, on one line."""
        return plain(title_of(stage))

    # What is missing

    def ask(self, quantity: str, point: str, what: str = "") -> Missing:
        """A reading that is missing, with the command that records it in the owner's units."""
        known = QUANTITIES[quantity]
        unit = "" if known.dimension == "organisms" else display_unit(known.dimension, self.house.units)
        words = ["wellward read", quantity, "VALUE", f'"{unit}"' if " " in unit else unit]
        words += [] if known.points == "house" else [f"--at {point}"]
        return Missing(
            what=what or f"{known.name} {self._where(point)}", command=" ".join(word for word in words if word)
        )

    def _where(self, point: str) -> str:
        """A place in words: "at the tap", "after Calcite tank"."""
        if point in _PLACES:
            return _PLACES[point]
        stage = self.house.stage(point.removeprefix("after_"))
        if stage is None:
            return f"at {point}"
        return f"{'after' if point.startswith('after_') else 'at'} {self.name(stage)}"

    def unread(self, quantity: str, point: str, what: str = "") -> tuple[Missing, ...]:
        """As `ask`, where the quantity was never read at that point; else nothing."""
        return () if self.now.history.newest(quantity, point) else (self.ask(quantity, point, what),)

    def raw_missing(self, *more: str) -> tuple[Missing, ...]:
        """What was never read of the raw water, of all that the train is reckoned with."""
        return tuple(one for quantity in (*_RAW, *more) for one in self.unread(quantity, "source"))

    def unknown_water(self, *more: str) -> Said:
        """The raw water is not known well enough to answer."""
        missing = self.raw_missing(*more) or (self.ask("hardness", "source"),)
        return Said("The raw water is not known well enough to answer from your numbers.", missing)


def plain(text: str) -> str:
    """What somebody typed, on one line, without marks that cannot be printed."""
    return " ".join("".join(mark if mark.isprintable() else " " for mark in text).split())
