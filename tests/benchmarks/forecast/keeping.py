"""How a household keeps its record: of the softener, and of the slow parts."""

from __future__ import annotations

from random import Random
from typing import Protocol

from model.equipment.neutralizer import Neutralizer
from model.equipment.reverse_osmosis import ReverseOsmosis
from model.equipment.sediment_filter import SedimentFilter
from model.equipment.softener import Softener
from model.home import House, Supply
from model.records.events import Taken
from tests.benchmarks.forecast.brine import TANK_CM
from tests.benchmarks.forecast.household import Household
from tests.benchmarks.forecast.log import Log, taken
from tests.benchmarks.forecast.notes import (
    BAG_KG,
    BED_EVERY_DAYS,
    SOLIDS_MG_L,
    Habit,
    Notes,
    draw_eyes,
    reading_days,
    warmer_c,
)
from tests.benchmarks.forecast.wear import CHANGE_BAR, CLEAN_BAR, LAST_PASSAGE, NEW_PASSAGE
from tests.benchmarks.forecast.world import SaltWorld, SlowWorld

CONDITION_EVERY_DAYS = 26
"""Gauges, pen and pH are read with the first look at the meter after so many days: once a month."""


class Keeper(Protocol):
    """Writes the record of a home."""

    log: Log

    def morning(self, day: int) -> None:
        """What is read on the morning of a day."""

    def renewed(self, day: int, thing: str, left: float, added: float) -> None:
        """What is written down of a job: what was left before it, and what was put in."""


class _Reader:
    def __init__(self, lived: Household, days: int, habit: Habit, seed: int, house: House) -> None:
        rng = Random(f"keeper {lived.name} {seed} {habit}")
        self.lived, self.habit, self.reads = lived, habit, habit != "hardly"
        self.log = Log(house, lived, habit, rng)
        self.notes = Notes(draw_eyes(lived.name, seed), rng)
        self.looks = frozenset(reading_days(habit, lived, days, rng))

    def meter(self, day: int) -> Taken:
        return taken("meter", self.notes.meter(self.lived.before, day), "house")


class SaltKeeper(_Reader):
    """The record of a softener: meter, stick, with some the valve's counter; and each refill."""

    def __init__(self, world: SaltWorld, habit: Habit, seed: int) -> None:
        super().__init__(world.house, world.days, habit, seed, _salt_house(world))
        self._world = world

    def morning(self, day: int) -> None:
        self.log.morning(day)
        if day not in self.looks:
            return
        self.log.read(day, self.meter(day))
        if self.reads:
            self.log.read(day, self._stick(self._world.things["salt"].stock.left(day)))
            if self.notes.eyes.counts:
                self.log.read(day, taken("regenerations", float(self._world.counted[day]), "softener"))

    def _stick(self, kg: float, moment: str = "") -> Taken:
        return taken("salt_depth", self.notes.salt_cm(self._world.tank.depth_cm(kg)), "softener", moment)

    def renewed(self, day: int, thing: str, left: float, added: float) -> None:
        seen = (self._stick(left, "before"), self._stick(left + added, "after")) if self.reads else ()
        self.log.did(day, thing, {"salt": self.notes.bags_kg(added)}, *seen)


class SlowKeeper(_Reader):
    """The record of the slow parts: meter, bed, gauges, solids before and after the membrane, pH; and each job."""

    def __init__(self, world: SlowWorld, habit: Habit, seed: int) -> None:
        super().__init__(world.house, world.days, habit, seed, _slow_house(world))
        self._world = world
        self._next_bed = self._next_condition = 0
        self._membrane_on = 0

    def morning(self, day: int) -> None:
        self.log.morning(day)
        if day == 0:
            self._reports()
        if day not in self.looks:
            return
        self.log.read(day, self.meter(day))
        if self.reads and day >= self._next_bed:
            self._next_bed = day + BED_EVERY_DAYS[self.habit] - 4
            self.log.read(day, self._tape(self._world.things["media"].stock.left(day)))
        if self.reads and day >= self._next_condition:
            self._next_condition = day + CONDITION_EVERY_DAYS
            self.log.read(day, *self._gauges(day), *self._solids(day))
            self.log.read(day, taken("pH", self.notes.pH(self._world.water.out_pH), "tap"))

    def _reports(self) -> None:
        """A laboratory's two samples on the first day: of the well, with the charges in balance, and after the tank."""
        water = self._world.water
        hardness = 0.8 * water.alkalinity_mg_l
        sodium = 22.99 * (water.alkalinity_mg_l / 50.043 + 12.0 / 35.45 + 10.0 / 48.03 - hardness / 50.043)
        values = {
            "pH": water.pH,
            "temperature": water.temperature_c,
            "alkalinity": water.alkalinity_mg_l,
            "hardness": hardness,
            "sodium": sodium,
            "chloride": 12.0,
            "sulfate": 10.0,
        }
        self.log.report(0, "source", *(taken(name, value, "source") for name, value in values.items()))
        self.log.report(0, "tap", taken("pH", round(water.out_pH, 2), "tap"))

    def _tape(self, kg: float, moment: str = "") -> Taken:
        return taken("bed_depth", self.notes.bed_cm(self._world.bed.depth_cm(kg)), "neutralizer", moment)

    def _gauges(self, day: int, moment: str = "") -> tuple[Taken, Taken]:
        stock = self._world.things["cartridge"].stock
        one = self._world.cartridges[stock.count]
        return self._pressures(one.drop_bar(one.life_l - stock.left(day)), moment)

    def _pressures(self, drop_bar: float, moment: str) -> tuple[Taken, Taken]:
        inlet, outlet = self.notes.gauges_bar(drop_bar)
        at = "sediment_filter"
        return taken("pressure_in", inlet, at, moment), taken("pressure_out", outlet, at, moment)

    def _solids(self, day: int) -> tuple[Taken, Taken]:
        stock = self._world.things["membrane"].stock
        passage = self._world.membranes[stock.count].passage(day - stock.since, warmer_c(self.lived, day))
        feed, product = self.notes.solids_mg_l(SOLIDS_MG_L, min(passage, 1.0))
        at = "reverse_osmosis"
        return taken("ro_feed_tds", feed, at), taken("ro_product_tds", product, at)

    def renewed(self, day: int, thing: str, left: float, added: float) -> None:
        if thing == "media":
            step = 1.0 if self.reads else BAG_KG / 2.0
            seen = (self._tape(left, "before"), self._tape(left + added, "after")) if self.reads else ()
            self.log.did(day, thing, {"calcite": step * max(round(added / step), 1)}, *seen)
        elif thing == "cartridge":
            one = self._world.cartridges[self._world.things[thing].stock.count - 1]
            before = self._pressures(one.drop_bar(one.life_l - left), "before") if self.reads else ()
            self.log.did(day, thing, {"cartridge": 1.0}, *before)
        else:
            self.log.did(day, thing, {"membrane": 1.0})


def _salt_house(world: SaltWorld) -> House:
    """As the household describes it: settings by the labels, depths by the marks."""
    softener = Softener(
        id="softener",
        salt_dose_kg=world.valve.dose_kg,
        regenerate_every_l=world.valve.set_l,
        regenerate_every_days=world.valve.override_days,
        brine_tank_diameter_cm=TANK_CM,
        brine_tank_height_cm=max(90.0, world.mark.full_cm + 15.0),
        salt_full_cm=world.mark.full_cm,
        salt_low_cm=world.mark.line_cm,
        water_depth_cm=world.mark.water_cm,
        supplies={"salt": "salt"},
    )
    supplies = (Supply(id="salt", title="Salt", unit="kg", pack=BAG_KG),)
    return _house(world.house, (softener,), supplies)


def _slow_house(world: SlowWorld) -> House:
    stages = (
        SedimentFilter(
            id="sediment_filter",
            rated_l=world.rated_l,
            clean_drop_bar=CLEAN_BAR,
            change_drop_bar=CHANGE_BAR,
            cap_months=24,
            supplies={"cartridge": "cartridge"},
        ),
        Neutralizer(
            id="neutralizer",
            tank_diameter_cm=world.bed.diameter_cm,
            full_bed_cm=world.bed.full_cm,
            minimum_bed_cm=world.bed.least_cm,
            supplies={"calcite": "calcite"},
        ),
        ReverseOsmosis(
            id="reverse_osmosis",
            rejection=1.0 - NEW_PASSAGE,
            replace_below_rejection=1.0 - LAST_PASSAGE,
            supplies={"membrane": "membrane"},
        ),
    )
    names = (("cartridge", "each"), ("calcite", "kg"), ("membrane", "each"))
    return _house(world.house, stages, tuple(Supply(id=name, title=name, unit=unit) for name, unit in names))


def _house(
    lived: Household,
    stages: tuple[Softener | SedimentFilter | Neutralizer | ReverseOsmosis, ...],
    supplies: tuple[Supply, ...],
) -> House:
    return House(
        name=lived.name,
        started=lived.start,
        people=float(lived.people),
        units="metric",
        stages=stages,
        supplies=supplies,
    )
