"""The softener as it is: the valve counts litres, regenerates at night, and each regeneration takes salt.

Knows nothing of the program. A day's number stands for its morning, after the regeneration of the night.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate
from math import ceil, exp, pi
from random import Random
from typing import NamedTuple

ROUND_L_PER_CM = pi / 4.0 / 1000.0
"""Litres in a centimetre of a tank of 1 cm diameter."""

LABEL_KG_PER_L = 1.1
"""What the household takes pellets to weigh [kg/L of heap]: 65 to 75 lb/ft3. From memory."""

TANK_CM = 30.5
DOSE_SD, EACH_DOSE_SD, VALVE_METER_SD = 0.08, 0.03, 0.03
DOSES = ((2.7, 1296.0), (3.6, 1555.0))
"""Salt of a regeneration [kg] and hardness it makes room for [g CaCO3] in 28 L of resin: 6 lb for 20,000 grains and
8 lb for 24,000. Common practice, no source."""
RESERVE = 0.2
HARDNESS_MG_L = (120.0, 600.0)
"""From where water is called hard to 35 grains a gallon, which many wells have. Common practice, no source."""


class Valve(NamedTuple):
    """A metered valve: `set_l` between regenerations, `dose_kg` by the label, a day override or None.

    `meter` and `dose` are what its meter and its doses truly are over what they should be.
    """

    set_l: float
    dose_kg: float
    override_days: int | None
    meter: float = 1.0
    dose: float = 1.0


class Regeneration(NamedTuple):
    """In the night before the morning of `day`, wanting `kg` of salt."""

    day: int
    kg: float


class Tank(NamedTuple):
    """A brine tank. The salt stands `full_cm` deep after a refill; `line_cm` of it is the last whole dose."""

    kg_per_cm: float
    full_cm: float
    line_cm: float
    water_cm: float

    def kg(self, depth_cm: float) -> float:
        """Salt not dissolved yet [kg] in a heap of this depth."""
        return self.kg_per_cm * depth_cm

    def depth_cm(self, kg: float) -> float:
        """Depth of the heap."""
        return kg / self.kg_per_cm


def kg_per_cm(kg_per_l: float, diameter_cm: float = TANK_CM) -> float:
    """Salt in a centimetre of a round tank."""
    return ROUND_L_PER_CM * diameter_cm**2 * kg_per_l


def draw_valve(name: str, seed: int) -> Valve:
    """A valve as an installer sets it for this home's hardness, and how far off it is."""
    rng = Random(f"valve {name} {seed}")
    dose_kg, capacity_g = rng.choice(DOSES)
    set_l = capacity_g * (1.0 - RESERVE) / rng.uniform(*HARDNESS_MG_L) * 1000.0
    override = rng.choice((None, 10, 14))
    return Valve(round(set_l, -2), dose_kg, override, exp(rng.gauss(0.0, VALVE_METER_SD)), exp(rng.gauss(0.0, DOSE_SD)))


def draw_tank(name: str, seed: int, usable_kg: float, dose_kg: float) -> tuple[Tank, Tank]:
    """The tank as it is, and as the household takes it to be: the same marks, other weight of a centimetre."""
    rng = Random(f"tank {name} {seed}")
    label = kg_per_cm(LABEL_KG_PER_L)
    line_cm = float(ceil(dose_kg / label))
    full_cm = max(round(line_cm + usable_kg / label), line_cm + 5.0)
    true = Tank(kg_per_cm(rng.uniform(1.04, 1.20)), full_cm, line_cm, rng.choice((0.0, 5.0)))
    return true, true._replace(kg_per_cm=label)


def schedule(litres: Sequence[float], valve: Valve, noise: Iterator[float]) -> list[Regeneration]:
    """Every regeneration: in the night after the set litres passed, or after the days of the override."""
    found: list[Regeneration] = []
    passed, nights = 0.0, 0
    for day, used in enumerate(litres):
        passed, nights = passed + used * valve.meter, nights + 1
        if passed >= valve.set_l or (valve.override_days and nights >= valve.override_days):
            found.append(Regeneration(day + 1, valve.dose_kg * valve.dose * next(noise)))
            passed, nights = 0.0, 0
    return found


def dose_noise(name: str, seed: int) -> Iterator[float]:
    """How far each dose is off, one by one."""
    rng = Random(f"dose {name} {seed}")
    while True:
        yield exp(rng.gauss(0.0, EACH_DOSE_SD))


def taken_before(planned: Sequence[Regeneration], days: int) -> list[float]:
    """For each morning, the salt that all regenerations up to it wanted [kg]."""
    wanted = [0.0] * days
    for one in planned:
        if one.day < days:
            wanted[one.day] += one.kg
    return list(accumulate(wanted))
