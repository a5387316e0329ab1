"""Everything that is worked out once for a day: the house, its log, its water and its stocks."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from functools import cached_property
from typing import TypeVar, cast

import msgspec

from model.equipment.base import Job, Stage, Stock
from model.equipment.registry import KINDS, AnyStage, kind_of
from model.equipment.softener import Softener
from model.equipment.ultraviolet import Ultraviolet
from model.equipment.well import MUCH_NITRATE_MG_L_N, Well, nitrate_twice_a_year
from model.errors import BadInput
from model.forecast.demand import Demand
from model.forecast.known import Known
from model.forecast.paces import paces
from model.forecast.present import houses_since, settings_changed, stage_versions
from model.forecast.source import planned_nitrate_mg_l_n, source_water, worst_of_two_years
from model.forecast.train import Carried, carry
from model.home import Home, House
from model.plan_types import Due
from model.records.events import Purchase
from model.records.history import History
from model.records.positions import Position, positions
from model.water.limits import NITRATE_ACTION_MG_L_N
from model.water.sample import Sample

T = TypeVar("T")


class Situation:
    """A home on one day. Holds what `plan` and `cost_forecast` both need; computes each thing once.

    `brief`: the reasons leave out which reading would narrow a window, which takes as long as the window.
    """

    def __init__(self, home: Home, today: date, *, brief: bool = False) -> None:
        self.brief = brief
        self.home = home
        self.today = today
        self.houses = houses_since(home, today)
        self.house: House = [house for on, house in self.houses if on <= today][-1]
        self.history = History(home.events, today)
        changes = settings_changed(home, today)
        self.demand = Demand(self.house, self.history, self._earliest(), self.houses)
        self.source: Sample | None = source_water(self.history)
        self.planned_nitrate_mg_l_n = planned_nitrate_mg_l_n(self.history, self.house.plan_nitrate)
        self.carried: Carried = carry(self.house, self.history, self.source)
        self.planned_source = self._planned_source()
        self.planned: Carried = carry(self.house, self.history, self.planned_source)
        versions = {stage.id: stage_versions(changes, stage) for stage in self.house.stages}
        fed, treated = self.planned.fed, self.carried.treated
        self.known = Known(self.house, self.history, self.demand, fed, treated, versions, self._coming())
        self.known.pace, self.known.worst_pace = paces(self.house, home.events, self.known)
        self._jobs: dict[str, tuple[Job, ...]] = {}
        self.items: dict[str, Due | None] = {}
        self._once: dict[object, object] = {}
        self.problems: list[tuple[str, str]] = []
        self.stocks = {stage.id: self._stocks(stage) for stage in self.house.stages}

    def _earliest(self) -> date:
        """The first day from which water use may be asked."""
        days = [self.house.started, *(stage.installed_on for stage in self.house.stages if stage.installed_on)]
        return max(min(days), self.today - timedelta(days=3660))

    def _coming(self) -> dict[str, list[tuple[date, Stage]]]:
        """The stages as their settings will be, by what is already written down for later."""
        found: dict[str, list[tuple[date, Stage]]] = {}
        for on, house in self.houses:
            if on > self.today:
                for stage in house.stages:
                    found.setdefault(stage.id, []).append((on, stage))
        return found

    def _stocks(self, stage: AnyStage) -> tuple[Stock, ...]:
        """What a stage uses up; nothing, and a problem to be told, where its settings cannot be reckoned with."""
        stocks = KINDS[kind_of(stage)].stocks
        if stocks is None:
            return ()
        try:
            return stocks(stage, self.known)
        except BadInput as problem:
            self.problems.append((stage.id, str(problem)))
            return ()

    def once(self, work: Callable[[Situation], T]) -> T:
        """What a function gives for this situation, worked out the first time it is asked."""
        if work not in self._once:
            self._once[work] = work(self)
        return cast(T, self._once[work])

    @cached_property
    def receipts(self) -> dict[str, Purchase]:
        """The newest purchase of each supply for which something was paid."""
        return {one.supply: one for one in self.history.of(Purchase) if one.price and one.quantity > 0}

    @cached_property
    def unread_demand(self) -> Demand:
        """Water use as if the meter had never been read: what protects health is never later than this says."""
        return Demand(self.house, self.history, self._earliest(), self.houses, read_meter=False)

    @cached_property
    def positions(self) -> tuple[Position, ...]:
        """Where each valve handle stands."""
        return positions(self.house, self.history)

    @cached_property
    def bypassed(self) -> dict[str, Position]:
        """The handles on bypass, by the stage that the water goes round."""
        return {one.handle.stage: one for one in self.positions if one.position == "bypass"}

    @cached_property
    def running(self) -> Carried:
        """The water as it runs today, round the stages on bypass. Dates go by `carried`, where all are in service."""
        gone = frozenset(self.bypassed)
        return carry(self.house, self.history, self.source, gone) if gone else self.carried

    @cached_property
    def running_planned(self) -> Carried:
        """As `running`, from the water that is planned on."""
        gone = frozenset(self.bypassed)
        return carry(self.house, self.history, self.planned_source, gone) if gone else self.planned

    def _planned_source(self) -> Sample | None:
        """The source with the nitrate that is planned on, never an average."""
        if self.source is None or self.planned_nitrate_mg_l_n is None:
            return self.source
        return msgspec.structs.replace(self.source, nitrate_mg_l_n=self.planned_nitrate_mg_l_n)

    def jobs(self, stage: AnyStage) -> tuple[Job, ...]:
        """The jobs of a stage of the house in the water it gets. What protects health goes by the worst water of two
        years, whatever is planned on: no reading of better water postpones it."""
        if stage.id not in self._jobs:
            self._jobs[stage.id] = self._jobs_of(stage)
        return self._jobs[stage.id]

    def _jobs_of(self, stage: AnyStage) -> tuple[Job, ...]:
        fed = self.known.fed(stage)
        if isinstance(stage, Ultraviolet) and fed is not None:
            fed = msgspec.structs.replace(
                fed,
                iron_mg_l=max(fed.iron_mg_l, self._worst("iron")),
                manganese_mg_l=max(fed.manganese_mg_l, self._worst("manganese")),
            )
        jobs = KINDS[kind_of(stage)].jobs(stage, fed)
        much = isinstance(stage, Well) and self._worst("nitrate") >= MUCH_NITRATE_MG_L_N
        return nitrate_twice_a_year(jobs) if much else jobs

    def nitrate_action_mg_l_n(self) -> float:
        """The owner's own level of nitrate that calls for action [mg/L as N]: the lowest of the softeners'."""
        levels = [one.nitrate_action_mg_l_n for one in self.house.stages if isinstance(one, Softener)]
        return min(levels, default=NITRATE_ACTION_MG_L_N)

    def _worst(self, quantity: str) -> float:
        """The highest value of the raw water in two years, 0 where never measured."""
        return worst_of_two_years(self.history.taken(quantity, "source"), self.today) or 0.0
