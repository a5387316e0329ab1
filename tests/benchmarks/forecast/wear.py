"""Media, cartridge and membrane as they are. Knows nothing of the program."""

from __future__ import annotations

from math import ceil, exp, log, log10, pi
from random import Random
from typing import NamedTuple

CALCITE_G_MOL = 100.087
HOUSE_FACTOR = 1.25
"""Media dissolve from 1/1.25 to 1.25 times what the chemistry says in nine homes of ten."""
CALCITE_KG_PER_L = 1.44
TANKS_CM = (15.2, 20.3, 25.4, 30.5, 35.6)
FULL_BED_CM = 85.0

CARTRIDGE_HOUSE_SD, CARTRIDGE_EACH_SD = 0.3, 0.2
CLEAN_BAR, CHANGE_BAR = 0.15, 0.85

NEW_PASSAGE, LAST_PASSAGE = 0.07, 0.15
PASSAGE_PER_DEG = 0.008
"""Salt passage of a membrane rises a little with temperature [1/degC]. From memory."""


class RawWater(NamedTuple):
    """Acid well water, and the pH after the tank that its mass balance gives."""

    alkalinity_mg_l: float
    pH: float
    temperature_c: float
    out_pH: float
    calcite_g_per_m3: float


def pk1(temperature_c: float) -> float:
    """First dissociation of carbonic acid. Source: Plummer and Busenberg 1982."""
    t = temperature_c + 273.15
    return 356.3094 + 0.06091964 * t - 21834.37 / t - 126.8339 * log10(t) + 1684915.0 / t**2


def calcite_g_per_m3(alkalinity_mg_l: float, pH: float, temperature_c: float, out_pH: float) -> float:
    """Calcite that takes water from one pH to another [g/m3]: CaCO3 + CO2 + H2O -> Ca + 2 HCO3, mass balance.

    With x mol/L dissolved, bicarbonate gains 2x and carbonic acid loses x. Activity is left out (some percent).
    """
    raw = alkalinity_mg_l / 50.043e3
    acid = raw * float(10.0 ** (pk1(temperature_c) - pH))
    ratio = float(10.0 ** (pk1(temperature_c) - out_pH))
    return (acid - raw * ratio) / (1.0 + 2.0 * ratio) * CALCITE_G_MOL * 1000.0


def draw_water(name: str, seed: int) -> RawWater:
    """Raw water of a home."""
    rng = Random(f"water {name} {seed}")
    alkalinity, pH = rng.uniform(20.0, 60.0), rng.uniform(5.9, 6.4)
    temperature, out_pH = rng.uniform(8.0, 14.0), rng.uniform(7.0, 7.5)
    return RawWater(alkalinity, pH, temperature, out_pH, calcite_g_per_m3(alkalinity, pH, temperature, out_pH))


class Bed(NamedTuple):
    """A media bed: `kg_per_l` of house water truly lost, `kg_per_cm` true, marks in [cm] of depth."""

    kg_per_l: float
    kg_per_cm: float
    diameter_cm: float
    least_cm: float
    full_cm: float = FULL_BED_CM

    def depth_cm(self, kg: float) -> float:
        """Depth of the bed."""
        return kg / self.kg_per_cm

    def kg(self, depth_cm: float) -> float:
        """Media in a bed of this depth [kg]."""
        return depth_cm * self.kg_per_cm


def draw_bed(name: str, seed: int, water: RawWater, litres_per_day: float) -> Bed:
    """A bed in a tank of the trade's sizes, its reserve meant for 200 to 600 days."""
    rng = Random(f"bed {name} {seed}")
    meant = water.calcite_g_per_m3 * 1e-6
    reserve_kg = meant * litres_per_day * rng.uniform(200.0, 600.0)
    factor = exp(rng.gauss(0.0, log(HOUSE_FACTOR) / 1.645)) * (1.0 + rng.uniform(0.02, 0.12))
    by_size = {size: reserve_kg / (pi / 4000.0 * size**2 * CALCITE_KG_PER_L) for size in TANKS_CM}
    size = min(TANKS_CM, key=lambda one: abs(by_size[one] - 20.0))
    reserve_cm = min(max(by_size[size], 8.0), 35.0)
    dense = CALCITE_KG_PER_L * exp(rng.gauss(0.0, 0.03))
    return Bed(meant * factor, pi / 4000.0 * size**2 * dense, size, round(FULL_BED_CM - reserve_cm))


class Cartridge(NamedTuple):
    """One cartridge: good for `life_l` [L]; its drop rises from clean to change by a power."""

    life_l: float
    power: float
    clean_bar: float = CLEAN_BAR
    change_bar: float = CHANGE_BAR

    def drop_bar(self, litres: float) -> float:
        """Pressure drop after so much water."""
        share = pow(litres / self.life_l, self.power)
        return float(self.clean_bar + (self.change_bar - self.clean_bar) * share)


def draw_cartridges(name: str, seed: int, rated_l: float, count: int) -> list[Cartridge]:
    """The cartridges of a home one after another: its water suits them more or less, and each differs."""
    rng = Random(f"cartridge {name} {seed}")
    house, power = exp(rng.gauss(0.0, CARTRIDGE_HOUSE_SD)), rng.uniform(1.3, 2.5)
    return [Cartridge(rated_l * house * exp(rng.gauss(0.0, CARTRIDGE_EACH_SD)), power) for _ in range(count)]


class Membrane(NamedTuple):
    """Passage of salt, new (0-1), and how it grows [1/day in natural logs]."""

    new: float
    growth: float

    def passage(self, days: float, warmer_c: float = 0.0) -> float:
        """Share of the salt that passes after so many days, in water so much warmer than its mean."""
        return self.new * exp(self.growth * days) * (1.0 + PASSAGE_PER_DEG * warmer_c)

    def life_days(self) -> int:
        """The day from new on which passage, at the mean temperature, is at the last."""
        return ceil(log(LAST_PASSAGE / self.new) / self.growth)


def draw_membranes(name: str, seed: int, count: int) -> list[Membrane]:
    """Membranes one after another: the water sets the pace, 1 to 5 years, and each differs."""
    rng = Random(f"membrane {name} {seed}")
    house = rng.gauss(log(2.5), 0.35)
    found = []
    for _ in range(count):
        years = min(max(exp(house + rng.gauss(0.0, 0.2)), 1.0), 5.0)
        new = NEW_PASSAGE * exp(rng.gauss(0.0, 0.15))
        found.append(Membrane(new, log(LAST_PASSAGE / new) / (years * 365.25)))
    return found
