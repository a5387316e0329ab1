"""One home as it is: its household and its stocks. Knows nothing of the program."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from random import Random
from statistics import median
from typing import NamedTuple

from tests.benchmarks.forecast import brine, rules, wear
from tests.benchmarks.forecast.homefile import HomeFile
from tests.benchmarks.forecast.household import Household, household
from tests.benchmarks.forecast.notes import FILL_SD_CM
from tests.benchmarks.forecast.stock import Stock

SALT_DAYS, SALT_MORE_DAYS = 540, 1100
SLOW_DAYS, SLOW_MORE_DAYS = 1620, 2000
"""Days lived, and days known beyond for the true dates. The slow parts live three times through a file of 540 days."""
TANK_DAYS = (60.0, 120.0)
BED_FILL_SD_CM = 1.0
MEMBRANE_DAYS = 1095
"""An interval set once for a membrane: three years. Common practice, no source."""


class Thing(NamedTuple):
    """One stock of a home with what the rules know: `full` by the label, the calendar's days and the sizing table's."""

    name: str
    stock: Stock
    full: float
    step: float
    fixed_days: int
    sized_days: int

    def share(self, added: float) -> float:
        """What share of a full stock was put in, as the household counts it; a part replaced is a whole one."""
        if self.step == 0.0:
            return 1.0
        return max(round(added / self.step), 1) * self.step / self.full


class SaltWorld(NamedTuple):
    """A softener's home. `tank` is true, `mark` is what the household takes it for; `counted[k]`: regenerations."""

    house: Household
    valve: brine.Valve
    tank: brine.Tank
    mark: brine.Tank
    counted: Sequence[int]
    things: dict[str, Thing]
    days: int = SALT_DAYS


class SlowWorld(NamedTuple):
    """The home of a cartridge, a media tank and a membrane."""

    house: Household
    water: wear.RawWater
    bed: wear.Bed
    rated_l: float
    cartridges: list[wear.Cartridge]
    membranes: list[wear.Membrane]
    things: dict[str, Thing]
    days: int = SLOW_DAYS


def median_kg_per_day(homes: list[HomeFile], seed: int) -> float:
    """Salt that the median home of a set uses in a day by the labels [kg]."""
    valves = [brine.draw_valve(home.name, seed) for home in homes]
    return median(home.mean_l * valve.dose_kg / valve.set_l for home, valve in zip(homes, valves, strict=True))


def salt_world(home: HomeFile, seed: int, median_kg: float) -> SaltWorld:
    """The softener's home of a seed, fresh. Its tank would last a home that uses `median_kg` a day 60 to 120 days."""
    usable = median_kg * Random(f"tank days {home.name} {seed}").uniform(*TANK_DAYS)
    days = SALT_DAYS + SALT_MORE_DAYS
    house = household(home, seed, days, SALT_DAYS)
    valve = brine.draw_valve(home.name, seed)
    tank, mark = brine.draw_tank(home.name, seed, usable, valve.dose_kg)
    planned = brine.schedule(house.litres, valve, brine.dose_noise(home.name, seed))
    fills = _levels(f"salt fill {home.name} {seed}", tank.full_cm, FILL_SD_CM, tank.kg)
    stock = Stock(brine.taken_before(planned, days + 1), fills, tank.kg(tank.line_cm), tops_up=True, by_dose=True)
    full = mark.kg(mark.full_cm) - mark.kg(mark.line_cm)
    sized = rules.sized_days(home.people, full, valve.dose_kg / valve.set_l)
    counted = [0] * (days + 1)
    for number, one in enumerate(planned, start=1):
        counted[one.day :] = [number] * (days + 1 - one.day)
    return SaltWorld(house, valve, tank, mark, counted, {"salt": Thing("salt", stock, full, 2.5, 30, sized)})


def slow_world(home: HomeFile, seed: int) -> SlowWorld:
    """The slow parts' home of a seed, fresh."""
    days = SLOW_DAYS + SLOW_MORE_DAYS
    house = household(home, seed, days, SLOW_DAYS)
    water = wear.draw_water(home.name, seed)
    bed = wear.draw_bed(home.name, seed, water, home.mean_l)
    rated_l = max(round(home.mean_l * Random(f"rated {home.name} {seed}").uniform(90.0, 240.0), -3), 1000.0)
    cartridges = wear.draw_cartridges(home.name, seed, rated_l, 2000)
    membranes = wear.draw_membranes(home.name, seed, 200)
    things = (
        _media(home, house, water, bed, seed),
        Thing(
            "cartridge",
            Stock(house.before, (one.life_l for one in cartridges)),
            rated_l,
            0.0,
            182,
            rules.sized_days(home.people, rated_l, 1.0),
        ),
        Thing(
            "membrane",
            Stock(range(days + 1), (float(one.life_days()) for one in membranes)),
            1.0,
            0.0,
            730,
            MEMBRANE_DAYS,
        ),
    )
    return SlowWorld(house, water, bed, rated_l, cartridges, membranes, {one.name: one for one in things})


def _media(home: HomeFile, house: Household, water: wear.RawWater, bed: wear.Bed, seed: int) -> Thing:
    drawn = [bed.kg_per_l * litres for litres in house.before]
    fills = _levels(f"bed fill {home.name} {seed}", bed.full_cm, BED_FILL_SD_CM, bed.kg)
    full = bed.kg(bed.full_cm - bed.least_cm)
    sized = rules.sized_days(home.people, full, water.calcite_g_per_m3 * 1e-6)
    return Thing("media", Stock(drawn, fills, bed.kg(bed.least_cm), tops_up=True), full, 1.0, 365, sized)


def _levels(seed: str, full_cm: float, sd_cm: float, kg: Callable[[float], float]) -> Iterator[float]:
    """Fills levelled to a mark by eye [kg]."""
    rng = Random(seed)
    while True:
        yield kg(rng.gauss(full_cm, sd_cm))
