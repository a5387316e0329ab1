"""Every rule: the row of the tables it raises, the kind of stage it looks at, and the function that looks."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any, NamedTuple

from model.findings.rules import (
    bed_water,
    brine,
    drops,
    germs,
    house,
    light,
    membrane,
    metals,
    neutralizer,
    nitrate,
    pressure,
    softener,
    supply,
    units,
)
from model.findings.shape import Diagnosis, Raised
from model.findings.tables import bed_water as bed_table
from model.findings.tables import brine as brine_table
from model.findings.tables import health as health_table
from model.findings.tables import house as house_table
from model.findings.tables import light as light_table
from model.findings.tables import membrane as membrane_table
from model.findings.tables import neutralizer as neutralizer_table
from model.findings.tables import pressure as pressure_table
from model.findings.tables import softener as softener_table
from model.findings.tables import supply as supply_table
from model.forecast.situation import Situation

HOUSE = "house"


class Rule(NamedTuple):
    """`sees` takes the situation and, unless it looks at the house as a whole, a stage of the kind."""

    diagnosis: Diagnosis
    kind: str
    sees: Callable[..., Raised | None]


def _house(diagnosis: Diagnosis, sees: Callable[[Situation], Raised | None]) -> Rule:
    return Rule(diagnosis, HOUSE, sees)


def _stage(diagnosis: Diagnosis, kind: str, sees: Callable[[Situation, Any], Raised | None]) -> Rule:
    return Rule(diagnosis, kind, sees)


RULES: tuple[Rule, ...] = (
    _stage(supply_table.FALLING_LEVEL, "well", supply.falling_level),
    _stage(supply_table.LONG_RUN, "pressure_tank", supply.long_run),
    _stage(supply_table.LOW_SUPPLY, "pressure_tank", supply.low_supply),
    _stage(pressure_table.SHORT_CYCLING, "pressure_tank", pressure.short_cycling),
    _stage(pressure_table.DRAWDOWN_LOSS, "pressure_tank", pressure.drawdown_loss),
    _stage(pressure_table.PRECHARGE_HIGH, "pressure_tank", pressure.precharge_over_cut_in),
    _stage(pressure_table.LOADED_FILTER, "sediment_filter", pressure.loaded_filter),
    _stage(neutralizer_table.STILL_ACID, "neutralizer", neutralizer.still_acid),
    _stage(neutralizer_table.BED_STAYS, "neutralizer", neutralizer.bed_stays),
    _stage(neutralizer_table.BED_LOST, "neutralizer", neutralizer.bed_lost),
    _stage(neutralizer_table.OVER_STANDING, "neutralizer", neutralizer.over_corrected_standing),
    _stage(neutralizer_table.OVER_FLOWING, "neutralizer", neutralizer.over_corrected),
    _stage(bed_table.FALLING_PH, "neutralizer", bed_water.falling_pH),
    _stage(bed_table.BED_DROP, "neutralizer", drops.bed_drop),
    _stage(bed_table.LITTLE_FREEBOARD, "neutralizer", neutralizer.little_freeboard),
    _stage(bed_table.HARDNESS_RISE, "neutralizer", bed_water.hardness_rise),
    _stage(bed_table.CLOUDY, "neutralizer", bed_water.cloudy_after_top_up),
    _stage(bed_table.PH_STANDING, "neutralizer", bed_water.pH_rises_standing),
    _stage(softener_table.SALT_STAYS, "softener", softener.salt_stays),
    _stage(softener_table.SALT_FAST, "softener", softener.salt_too_fast),
    _stage(softener_table.NOT_REGENERATING, "softener", softener.not_regenerating),
    _stage(brine_table.BRINE_OVER_FULL, "softener", brine.brine_over_full),
    _stage(brine_table.SLOW_BRINE_DRAW, "softener", brine.slow_brine_draw),
    _stage(brine_table.RESIN_DROP, "softener", drops.resin_drop),
    _stage(brine_table.IRON_ON_RESIN, "softener", brine.iron_on_resin),
    _stage(brine_table.SALTY_WATER, "softener", brine.salty_water),
    _stage(softener_table.HARD_BEFORE, "softener", softener.hard_before),
    _stage(softener_table.HARD_AFTER, "softener", softener.hard_after),
    _stage(softener_table.HARD_WATER, "softener", softener.hard_water),
    _stage(softener_table.SOFT_NO_SALT, "softener", softener.soft_without_salt),
    _stage(softener_table.NITRATE_SOFT, "softener", nitrate.nitrate_with_soft_water),
    _stage(softener_table.NITRATE_NOT_HELD, "softener", nitrate.nitrate_not_held),
    _house(softener_table.NITRATE_OVER_RAW, nitrate.nitrate_over_raw),
    _stage(light_table.LAMP_SILENT, "ultraviolet", light.lamp_silent),
    _stage(light_table.COUNTER_BEHIND, "ultraviolet", light.counter_behind),
    _stage(light_table.WARM_WATER, "ultraviolet", light.warm_water),
    _stage(light_table.LOW_LIGHT, "ultraviolet", light.low_light),
    _stage(health_table.GERMS_AFTER_UV, "ultraviolet", germs.germs_after_uv),
    _stage(membrane_table.COLD_WATER, "reverse_osmosis", membrane.cold_water),
    _stage(membrane_table.WORN_MEMBRANE, "reverse_osmosis", membrane.worn_membrane),
    _stage(membrane_table.MEMBRANE_NITRATE, "reverse_osmosis", nitrate.membrane_nitrate),
    _stage(membrane_table.SOLIDS_REVERSED, "reverse_osmosis", membrane.solids_reversed),
    _stage(health_table.GERMS_AT_RO, "reverse_osmosis", germs.germs_at_ro),
    *(_house(health_table.METAL_AT_TAP, partial(metals.metal_at_tap, metal=metal)) for metal in metals.STEPS),
    _house(house_table.NIGHT_LEAK, house.night_leak),
    _house(house_table.METER_STILL, house.meter_still),
    _house(house_table.ODD_PH, house.odd_pH),
    _house(house_table.UNIT_MIXUP, units.meter_mixed_up),
    _house(house_table.UNIT_MIXUP, units.salt_mixed_up),
    *(_house(house_table.UNIT_MIXUP, partial(units.mixed_up, quantity=quantity)) for quantity in units.FACTORS),
)
"""In train order. Several rules may raise one row, each at a place of its own."""

BY_ID: dict[str, Rule] = {rule.diagnosis.id: rule for rule in reversed(RULES)}
"""The first rule of each row, by the row's id."""
