"""What the cases of the findings are made of: invented but physical series of readings.

The house: 500 L a day, raw water of pH 6.2, hardness 60 mg/L as CaCO3 and nitrate 12 mg/L as N, one stage of each kind.
The cases themselves are in `cases.py`.
"""

from __future__ import annotations

from datetime import date, timedelta
from typing import NamedTuple

import msgspec

from model.equipment.registry import AnyStage
from model.equipment.ultraviolet import Ultraviolet
from model.findings.find import findings
from model.forecast.situation import Situation
from model.home import Home
from model.plan_types import Finding
from model.records.events import AnyEvent, Correction, Reading, Service
from tests.forecast.homes import STAGES, TODAY, home, meter, raw_water, reading, salt_filled, taken

NOV_1, NOV_20 = date(2026, 11, 1), date(2026, 11, 20)
OCT_1 = date(2026, 10, 1)
LIVED: tuple[AnyEvent, ...] = (raw_water(), *meter(500.0))

Series = list[AnyEvent]


class Case(NamedTuple):
    """`raises` gives `finding` with `first` as its likeliest cause; `near` does not give it. The last event of
    `raises` is one it rests on."""

    finding: str
    raises: Series
    near: Series
    first: str
    stages: tuple[AnyStage, ...] = STAGES


def at(on: date, **values: float) -> Series:
    """Readings of one day on the stage or at the point before the double underscore: after_softener__hardness=60."""
    split = [(name.rpartition("__"), value) for name, value in values.items()]
    return [reading(on, quantity, value, point) for (point, _, quantity), value in split]


def hardness_check(before: float, after: float) -> Service:
    """The job that reads hardness just before a regeneration and soon after it [mg/L as CaCO3]."""
    pair = (
        taken("hardness", before, "after_softener", moment="before"),
        taken("hardness", after, "after_softener", moment="after"),
    )
    return Service(on=NOV_20, task="softener.hardness_check", taken=pair)


def end(sign: str, pH: float, on: date = NOV_20, state: str = "") -> Reading:
    """A pH that a strip only says to lie beyond its last mark."""
    return Reading(on=on, taken=taken("pH", pH, "after_neutralizer", qualifier=sign, state=state))


def stood(pH: float) -> Reading:
    """A pH of water that stood overnight."""
    return Reading(on=NOV_20, taken=taken("pH", pH, "after_neutralizer", method="meter, overnight"))


def glass(pH: float) -> Reading:
    """A pH of a glass from the tap that stood overnight."""
    return Reading(on=NOV_20, taken=taken("pH", pH, "tap", method="meter, glass overnight"))


def monthly(point: str, quantity: str, *values: float) -> Series:
    """Readings 30 days apart, the last on 20 November."""
    days = [NOV_20 - timedelta(days=30 * (len(values) - 1 - k)) for k in range(len(values))]
    return [reading(on, quantity, value, point) for on, value in zip(days, values, strict=True)]


def gauges(stage: str, *drops: float) -> Series:
    """Pressure drops [bar] across a stage, 30 days apart, the last on 20 November."""
    before = monthly(stage, "pressure_in", *(3.5 for _ in drops))
    return [*before, *monthly(stage, "pressure_out", *(3.5 - drop for drop in drops))]


def last_meter(litres: float) -> Series:
    """The last of the weekly meter readings taken back, and one after so much more water [L] in its place."""
    usual = next(one for one in LIVED if isinstance(one, Reading) and one.on == TODAY - timedelta(weeks=1))
    shown = usual.taken.value + litres
    return [Correction(on=TODAY, voids=len(LIVED)), reading(TODAY, "meter", shown, "house")]


def nights(*litres_per_hour: float) -> Series:
    """The least hourly flow of the last nights [L/h], oldest first."""
    days = len(litres_per_hour)
    return [
        reading(TODAY - timedelta(days=days - 1 - k), "night_flow", flow, "house")
        for k, flow in enumerate(litres_per_hour)
    ]


def ro(on: date, flow: float, celsius: float) -> Series:
    """RO flow [L/day], feed pressure of 4 bar and temperature [degC] of one day."""
    return [
        *at(on, reverse_osmosis__feed_pressure=4.0, tap__temperature=celsius),
        *at(on, reverse_osmosis__ro_flow=flow),
    ]


def thrice(point: str, quantity: str, first: float, second: float, third: float) -> Series:
    """Three readings a month apart, of which the third is the odd one."""
    days = (date(2026, 9, 20), date(2026, 10, 20), NOV_20)
    return [reading(on, quantity, value, point) for on, value in zip(days, (first, second, third), strict=True)]


def with_lamp(life_h: float) -> tuple[AnyStage, ...]:
    """The stages with a lamp of another life [h]. It has been lit since 1 January: 328 days, 7,872 h."""
    return tuple(
        msgspec.structs.replace(one, lamp_life_h=life_h) if isinstance(one, Ultraviolet) else one for one in STAGES
    )


def cleaned(percent: float) -> Series:
    """A sleeve cleaned, and the sensor read a day after it [%]."""
    return [
        Service(on=NOV_1, task="ultraviolet.clean_sleeve"),
        *at(date(2026, 11, 2), ultraviolet__uv_intensity=percent),
    ]


def solids(before: float, after: float) -> Series:
    """Dissolved solids before and after the membrane on one day [mg/L]."""
    return at(NOV_20, reverse_osmosis__ro_feed_tds=before, reverse_osmosis__ro_product_tds=after)


FILLED = salt_filled(OCT_1, 50.0)


def found_in(case_home: Home, today: date = TODAY) -> dict[str, Finding]:
    """What a home shows, by the findings' ids."""
    return {one.id: one for one in findings(Situation(case_home, today))}


def lived(series: Series, stages: tuple[AnyStage, ...] = STAGES) -> Home:
    """A home in which the usual things happened, then the series."""
    return home(*LIVED, *series, stages=stages)


def without_last(before: Home) -> Home:
    """The home with its last event taken back."""
    correction = Correction(id=len(before.events) + 1, on=TODAY, voids=len(before.events))
    return Home(before.house, (*before.events, correction))
