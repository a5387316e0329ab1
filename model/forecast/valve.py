"""What the blend valve of a neutralizer does to a house: water, salt and media at any share of bypass."""

from __future__ import annotations

from datetime import date

import msgspec

from model.equipment.neutralizer import PH_FRESH_DAYS, Neutralizer, contact_bed
from model.equipment.relations.brine import SODIUM_CHLORIDE, cation_added_mg_l
from model.equipment.softener import (
    HARDNESS_LEAK_MG_L_CACO3,
    Run,
    Softener,
    regenerations_per_litre,
    resin_years,
    run_length,
)
from model.errors import BadInput
from model.forecast.numbers.common import outlet_of
from model.forecast.situation import Situation
from model.water.constants import CACO3_G_PER_MOL, CALCIUM_G_PER_MOL, MAGNESIUM_G_PER_MOL, MGO_G_PER_MOL
from model.water.contactor import Bed, outside_range
from model.water.neutralizing import ValvePoint, calibrated, valve_point
from model.water.sample import Sample


class Valve(msgspec.Struct, frozen=True, kw_only=True):
    """A neutralizer with its valve, and what else of the house the valve moves.

    `raw`: the water that meets the bed. `bed`: as it is today, its rate set by the newest pH where one explains it.
    `softener`: the one after it, None without; `softener_fed`: what meets it, with the nitrate planned on;
    `resin_years`: age of its resin [year]. House use in `litres_per_day` [L/day] and `litres_per_year` [L/year].
    `basis`: what the rate of the bed rests on, in words.
    """

    stage: Neutralizer
    raw: Sample
    bed: Bed
    softener: Softener | None
    softener_fed: Sample | None
    resin_years: float
    litres_per_day: float
    litres_per_year: float
    basis: str


class Effect(msgspec.Struct, frozen=True, kw_only=True):
    """The house at one share of bypass, 0-1.

    `hardness_mg_l_caco3`: after the neutralizer. `sodium_mg_l`, `potassium_mg_l`: after the softener. Salt and media in
    a year [kg]: `salt_kg` as the softener is set now, `salt_by_load_kg` if hardness (or nitrate) alone decided when.
    `hardness_run_l`, `nitrate_run_l`: what each allows between regenerations, `set_run_l`: what is set [L].
    None where there is no softener, or nothing says how often it regenerates.
    `doubts`: where this leaves the range of the sources, in words.
    """

    bypass_share: float
    pH: float
    hardness_mg_l_caco3: float
    sodium_mg_l: float | None
    potassium_mg_l: float | None
    salt_kg: float | None
    salt_by_load_kg: float | None
    hardness_run_l: float | None
    nitrate_run_l: float | None
    set_run_l: float | None
    calcite_kg: float
    magnesia_kg: float
    doubts: tuple[str, ...]


def valve_of(now: Situation, stage: Neutralizer) -> Valve:
    """The valve of `stage` on that day.

    Raises BadInput where the water before it is not known, or its settings cannot be reckoned with.
    """
    raw, out = now.carried.fed[stage.id], now.carried.treated[stage.id]
    if raw is None or out is None:
        raise BadInput(
            "Nothing is known of the water before the neutralizer.",
            "Have the raw water tested for pH, alkalinity and hardness.",
        )
    bed, basis = _bed_today(now, stage, raw, out)
    softener = _softener_after(now, stage)
    return Valve(
        stage=stage,
        raw=raw,
        bed=bed,
        softener=softener,
        softener_fed=now.known.fed(softener) if softener else None,
        resin_years=resin_years(softener, now.known) if softener else 0.0,
        litres_per_day=now.demand.per_day(),
        litres_per_year=now.demand.year_litres(),
        basis=basis,
    )


def effect(valve: Valve, bypass_share: float) -> Effect:
    """The house at `bypass_share`, 0 to below 1. Source: `valve_point`; salt and sodium as for the softener today."""
    bed = msgspec.structs.replace(valve.bed, bypass_share=bypass_share)
    point = valve_point(valve.raw, bed)
    lost = 1.0 + valve.stage.backwash_loss_share
    m3 = valve.litres_per_year / 1000.0
    sodium, potassium = _after_softener(valve, point)
    salt, by_load, run = _salt(valve, point)
    return Effect(
        bypass_share=bypass_share,
        pH=point.pH,
        hardness_mg_l_caco3=point.hardness_mg_l_caco3,
        sodium_mg_l=sodium,
        potassium_mg_l=potassium,
        salt_kg=salt,
        salt_by_load_kg=by_load,
        hardness_run_l=run.by_hardness_l if run else None,
        nitrate_run_l=run.by_nitrate_l if run else None,
        set_run_l=run.set_l if run else None,
        calcite_kg=point.calcite_g_per_m3 * m3 * lost / 1000.0,
        magnesia_kg=point.magnesia_g_per_m3 * m3 * lost / 1000.0,
        doubts=outside_range(valve.raw, bed),
    )


def _bed_today(now: Situation, stage: Neutralizer, raw: Sample, out: Sample) -> tuple[Bed, str]:
    """The bed as deep as last measured; its rate explains the water of today, or the reading made before the valve
    was last moved."""
    depth, read = now.history.newest("bed_depth", stage.id), now.history.newest("pH", outlet_of(now, stage))
    bed = contact_bed(stage, stage.full_bed_cm if depth is None else depth.taken.value)
    fresh = read is not None and (now.today - read.on).days <= PH_FRESH_DAYS
    then = _bypass_on(now, stage, read.on) if read is not None and fresh else stage.bypass_share
    measured = read.taken.value if read is not None and then != stage.bypass_share else out.pH
    try:
        fitted = calibrated(raw, msgspec.structs.replace(bed, bypass_share=then), measured)
    except BadInput:
        return bed, "published rates of calcite and magnesia; no rate of them explains the pH read after the tank"
    basis = "published rates of calcite and magnesia"
    if read is not None:
        basis += f", set by the pH {read.taken.value:.1f} read on {read.on}"
    return msgspec.structs.replace(fitted, bypass_share=stage.bypass_share), basis


def _bypass_on(now: Situation, stage: Neutralizer, on: date) -> float:
    """The bypass that the settings had on the day `on`."""
    held = [one for start, one in now.known.versions(stage) if start <= on]
    last = held[-1] if held else stage
    return last.bypass_share if isinstance(last, Neutralizer) else stage.bypass_share


def _softener_after(now: Situation, stage: Neutralizer) -> Softener | None:
    places = [one.id for one in now.house.stages]
    after = now.house.stages[places.index(stage.id) + 1 :]
    return next((one for one in after if isinstance(one, Softener)), None)


def _after_softener(valve: Valve, point: ValvePoint) -> tuple[float | None, float | None]:
    """Sodium and potassium [mg/L] after the softener, which leaves a little hardness."""
    if valve.softener is None:
        return None, None
    removed = max(point.hardness_mg_l_caco3 - HARDNESS_LEAK_MG_L_CACO3, 0.0)
    added = cation_added_mg_l(removed, valve.softener.regenerant)
    if valve.softener.regenerant == SODIUM_CHLORIDE:
        return valve.raw.sodium_mg_l + added, valve.raw.potassium_mg_l
    return valve.raw.sodium_mg_l, valve.raw.potassium_mg_l + added


def _salt(valve: Valve, point: ValvePoint) -> tuple[float | None, float | None, Run | None]:
    """Salt a year as set and by load [kg], and the litres from one regeneration to the next."""
    stage, fed = valve.softener, valve.softener_fed
    if stage is None or fed is None:
        return None, None, None
    fed = msgspec.structs.replace(
        fed,
        alkalinity_mg_l_caco3=point.alkalinity_mg_l_caco3,
        calcium_mg_l=valve.raw.calcium_mg_l + point.calcite_g_per_m3 * CALCIUM_G_PER_MOL / CACO3_G_PER_MOL,
        magnesium_mg_l=valve.raw.magnesium_mg_l + point.magnesia_g_per_m3 * MAGNESIUM_G_PER_MOL / MGO_G_PER_MOL,
    )
    run = run_length(stage, fed, valve.resin_years)
    loaded = msgspec.structs.replace(stage, control="metered", regenerate_every_l=None, regenerate_every_days=None)
    return _salt_kg(valve, stage, fed), _salt_kg(valve, loaded, fed), run


def _salt_kg(valve: Valve, stage: Softener, fed: Sample) -> float | None:
    """Salt a year [kg] in a house that uses water as expected."""
    by_litre, by_day = regenerations_per_litre(stage, fed, valve.litres_per_day, valve.resin_years)
    yearly = by_litre * valve.litres_per_year + by_day * 365.0
    return yearly * stage.salt_dose_kg if yearly > 0.0 else None
