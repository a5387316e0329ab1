"""The softener today: how often it regenerates, what it adds, and which setting would suit."""

from __future__ import annotations

import msgspec

from model.equipment.relations.brine import (
    POTASSIUM_CHLORIDE,
    SODIUM_CHLORIDE,
    dissolved_kg,
    saturated_mass_percent,
)
from model.equipment.relations.resin import (
    FRONT_SHARE,
    DoseOption,
    capacity_left_share,
    dose_options,
    setting_gpg,
    setting_gpg_for_run,
    thriftiest,
)
from model.equipment.softener import (
    Run,
    Softener,
    anion_run,
    capacity_g,
    load_mg_l_caco3,
    regenerations_per_litre,
    resin_years,
    run_length,
)
from model.forecast.numbers.common import Numbers, number, outlet_of
from model.forecast.numbers.salt_out import if_salt_runs_out
from model.forecast.situation import Situation
from model.plan_types import Alert, Fact

DOCTOR = "People with kidney disease or on some heart and blood pressure medicines must ask a doctor first."
"""The caution about potassium. From memory."""

WEAK_DOSE_SHARE = 0.95
"""Brine that holds less than this share of the dose is told. Owner's default."""


def run_of(now: Situation, stage: Softener) -> Run:
    """Litres between regenerations, with the resin as old as it is."""
    return run_length(stage, now.known.fed(stage), resin_years(stage, now.known))


def per_day(now: Situation, stage: Softener) -> tuple[float, float]:
    """Regenerations by water [1/day] and by timer [1/day]; one of the two is zero."""
    litres = now.demand.per_day()
    by_litre, timed = regenerations_per_litre(stage, now.known.fed(stage), litres, resin_years(stage, now.known))
    return by_litre * litres, timed


def setting(now: Situation, stage: Softener) -> int | None:
    """Hardness to set on the valve [gpg]: by hardness, or higher where nitrate ends the run first."""
    fed = now.known.fed(stage)
    if fed is None:
        return None
    plain = setting_gpg(load_mg_l_caco3(stage, fed))
    run = run_of(now, stage)
    if run.by_nitrate_l is None:
        return plain
    fresh = capacity_g(stage, 0.0)
    return max(plain, setting_gpg_for_run(fresh, run.by_nitrate_l, stage.reserve_share))


def options(now: Situation, stage: Softener) -> tuple[DoseOption, ...]:
    """Several doses for this resin, water and use: the trade-off between salt and litres. Empty where unknown."""
    fed, litres = now.known.fed(stage), now.demand.year_litres()
    if fed is None or litres <= 0.0 or load_mg_l_caco3(stage, fed) <= 0.0:
        return ()
    supply = next((one for one in now.house.supplies if one.id == stage.supplies.get("salt")), None)
    return dose_options(
        stage.cation_resin_l,
        load_mg_l_caco3(stage, fed),
        litres,
        reserve_share=stage.reserve_share,
        capacity_share=capacity_left_share(resin_years(stage, now.known), stage.capacity_loss_per_year),
        regenerant=stage.regenerant,
        price_per_kg=supply.price / supply.pack if supply and supply.pack > 0.0 else 0.0,
        nitrate_run_l=lambda kg: run_of(now, msgspec.structs.replace(stage, salt_dose_kg=kg)).by_nitrate_l,
    )


def numbers(now: Situation, stage: Softener) -> Numbers:
    """Regenerations, salt, what is added to the water, and what could be set instead."""
    by_water, timed = per_day(now, stage)
    found: Numbers = {}
    if by_water + timed > 0.0:
        litres = now.demand.per_day()
        yearly = (by_water / litres * now.demand.year_litres() if litres > 0.0 else 0.0) + timed * 365.0
        found = {
            "days_between_regenerations": 1.0 / (by_water + timed),
            "salt_kg_per_year": yearly * stage.salt_dose_kg,
        }
    fed, out = now.carried.fed[stage.id], now.carried.treated[stage.id]
    if fed is not None and out is not None:
        found["sodium_added_mg_l"] = out.sodium_mg_l - fed.sodium_mg_l
        if stage.regenerant == POTASSIUM_CHLORIDE:
            found["potassium_added_mg_l"] = out.potassium_mg_l - fed.potassium_mg_l
    found["capacity_left"] = capacity_left_share(resin_years(stage, now.known), stage.capacity_loss_per_year)
    grains = setting(now, stage)
    if grains is not None:
        found["hardness_setting_gpg"] = grains
    rows = options(now, stage)
    if rows:
        found["doses"] = [msgspec.to_builtins(row) for row in rows]
    if runs_out := if_salt_runs_out(now, stage, full_run_l(now, stage)):
        found["if_salt_runs_out"] = runs_out
    return found


def full_run_l(now: Situation, stage: Softener) -> float | None:
    """Litres that the softening resin treats without keeping a reserve [L], None where the water is unknown."""
    by_hardness = run_of(now, stage).by_hardness_l
    return None if by_hardness is None else by_hardness / max(1.0 - stage.reserve_share, 0.01)


def facts(now: Situation, stage: Softener, found: Numbers) -> list[Fact]:
    """The same in words."""
    rows = [*_regeneration(now, stage, found), *_added(stage, found), *_advice(now, stage, found)]
    return [Fact(stage=stage.id, label=label, text=text, basis=basis) for label, text, basis in rows]


def _regeneration(now: Situation, stage: Softener, found: Numbers) -> list[tuple[str, str, str]]:
    show, run = now.known.show, run_of(now, stage)
    rows = []
    if "days_between_regenerations" in found:
        days, salt = number(found, "days_between_regenerations"), number(found, "salt_kg_per_year")
        text = f"every {days:.1f} days, {show(salt, 'mass')} of salt a year"
        basis = "valve setting" if run.set_l or stage.control == "timed" else "worked out from the water"
        rows.append(("Regeneration", text, basis))
    if run.by_hardness_l is not None:
        text = f"hardness allows {show(run.by_hardness_l, 'volume')}"
        if run.by_nitrate_l is not None:
            text += f", nitrate {show(run.by_nitrate_l, 'volume')}"
        rows.append(("One run", text, "capacity at this salt dose over the load"))
        spent = full_run_l(now, stage) or 0.0
        text = f"1 gpg passes after {show(spent, 'volume')}, all of the hardness after "
        text += show((1.0 + FRONT_SHARE) * spent, "volume")
        rows.append(("If it runs on", text, "NSF/ANSI 44 ends a run at 1 gpg; the worn front is an owner's default"))
    years, lost = resin_years(stage, now.known), stage.capacity_loss_per_year
    text = f"{number(found, 'capacity_left'):.0%} of a new resin's capacity after {years:.1f} years"
    rows.append(("Resin age", text, f"{lost:.0%} a year, owner's default; change it at a quarter lost: UFC 3-240-13FN"))
    return rows


def _added(stage: Softener, found: Numbers) -> list[tuple[str, str, str]]:
    if stage.regenerant == POTASSIUM_CHLORIDE:
        if "potassium_added_mg_l" not in found:
            return []
        potassium = number(found, "potassium_added_mg_l")
        text = f"{potassium:.0f} mg/L, {potassium * 0.25:.0f} mg in a glass of 250 mL. {DOCTOR}"
        return [("Potassium added", text, "charge balance")]
    if "sodium_added_mg_l" not in found:
        return []
    sodium = number(found, "sodium_added_mg_l")
    text = f"{sodium:.0f} mg/L, {sodium * 0.25:.0f} mg in a glass of 250 mL"
    return [("Sodium added", text, "charge balance")]


def _advice(now: Situation, stage: Softener, found: Numbers) -> list[tuple[str, str, str]]:
    rows, show, doses = [], now.known.show, options(now, stage)
    if "hardness_setting_gpg" in found:
        by_nitrate = any(dose.by_nitrate for dose in doses)
        why = "raised so that nitrate, which comes first, ends the run" if by_nitrate else "hardness, iron, manganese"
        rows.append(("Hardness to set", f"{number(found, 'hardness_setting_gpg'):.0f} gpg", why))
    rows += [
        (
            f"At {show(dose.salt_kg, 'mass')} of salt",
            f"{show(dose.litres_between, 'volume')} a run ({dose.days_between:.1f} days), "
            f"{show(dose.salt_kg_per_year, 'mass')} a year",
            f"{dose.salt_lb_per_ft3:g} lb/ft3; trade table, common practice, no source",
        )
        for dose in doses
    ]
    best = thriftiest(doses)
    if best is not None:
        text = f"{show(best.salt_kg, 'mass')} a regeneration: the least salt with 3 days or more between them"
        rows.append(("Dose to set", text, "the valve's manual and the resin's maker decide"))
    return rows


def alerts(now: Situation, stage: Softener) -> list[Alert]:
    """Meter set beyond what the resin holds, brine too weak for the dose, potassium in the water."""
    told = [
        _no_hold(now, stage),
        _past_nitrate(now, stage),
        _past_hardness(now, stage),
        _weak_brine(now, stage),
        _potassium(now, stage),
    ]
    return [one for one in told if one is not None]


def _no_hold(now: Situation, stage: Softener) -> Alert | None:
    """A bed so small for the flow that nitrate slips through at once."""
    fed = now.known.fed(stage)
    bed = anion_run(stage, fed) if fed is not None else None
    if bed is None or bed.early_l is None or bed.early_l >= stage.anion_resin_l:
        return None
    text = (
        f"At {now.known.show(stage.draw_l_per_min, 'flow')} this much anion resin cannot hold nitrate under "
        f"{stage.nitrate_action_mg_l_n:g} mg/L as N: do not count on it, and have the treated water tested."
    )
    return Alert(level="warning", point=outlet_of(now, stage), text=text)


def _past_nitrate(now: Situation, stage: Softener) -> Alert | None:
    """A meter set beyond what the nitrate resin holds lets nitrate through while the water still feels soft."""
    run, show = run_of(now, stage), now.known.show
    lets_by = _between(now, stage)
    if lets_by is None or run.by_nitrate_l is None or lets_by <= run.by_nitrate_l:
        return None
    basis = "the owner's profile" if stage.profile_l else f"{stage.anion_usable_share:.0%} of the resin planned on"
    text = (
        f"The valve lets {show(lets_by, 'volume')} by between regenerations, but nitrate may pass "
        f"{stage.nitrate_action_mg_l_n:g} mg/L as N after {show(run.by_nitrate_l, 'volume')} ({basis})."
    )
    return Alert(level="warning", point=outlet_of(now, stage), text=text)


def _between(now: Situation, stage: Softener) -> float | None:
    """Litres between two regenerations as the valve is set: by its meter, or by its timer and the use."""
    if stage.control == "timed":
        days = stage.regenerate_every_days
        return days * now.demand.per_day() if days else None
    return stage.regenerate_every_l


def _past_hardness(now: Situation, stage: Softener) -> Alert | None:
    run, show = run_of(now, stage), now.known.show
    if not (run.set_l and run.by_hardness_l and run.set_l > run.by_hardness_l / max(1.0 - stage.reserve_share, 0.1)):
        return None
    text = (
        f"The valve is set to {show(run.set_l, 'volume')} between regenerations, more than the resin holds at this "
        f"dose and age ({show(run.by_hardness_l, 'volume')} with the reserve): hard water at the end of a run."
    )
    return Alert(level="note", point=outlet_of(now, stage), text=text)


def _weak_brine(now: Situation, stage: Softener) -> Alert | None:
    """Fill water that cannot hold the dose in the cold."""
    fed, fill = now.carried.fed[stage.id], stage.brine_fill_l
    if fed is None or fill is None:
        return None
    holds = dissolved_kg(fill, stage.regenerant, fed.temperature_c)
    if holds >= WEAK_DOSE_SHARE * stage.salt_dose_kg:
        return None
    percent = saturated_mass_percent(stage.regenerant, fed.temperature_c)
    text = (
        f"{now.known.show(fill, 'volume')} of fill water dissolves {now.known.show(holds, 'mass')} at "
        f"{now.known.show(fed.temperature_c, 'temperature')} (brine of {percent:.1f} %), less than the dose of "
        f"{now.known.show(stage.salt_dose_kg, 'mass')}: the resin is regenerated short."
    )
    return Alert(level="note", point=outlet_of(now, stage), text=text)


def _potassium(now: Situation, stage: Softener) -> Alert | None:
    fed, out = now.carried.fed[stage.id], now.carried.treated[stage.id]
    if stage.regenerant == SODIUM_CHLORIDE or fed is None or out is None:
        return None
    text = (
        f"The softener runs on potassium chloride: the water gains {out.potassium_mg_l - fed.potassium_mg_l:.0f} mg/L "
        f"of potassium. {DOCTOR}"
    )
    return Alert(level="warning", point=outlet_of(now, stage), text=text)
