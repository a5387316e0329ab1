"""The softener: cation resin, optional anion resin in the same tank, and the brine tank that renews both."""

from __future__ import annotations

from typing import Literal, NamedTuple

import msgspec

from model.equipment.anion_bed import planned_l, run_of_bed, usable_share
from model.equipment.base import Job, Stage, with_parts, without
from model.equipment.bounds import Hour, NotNegative, PartShare, Positive, Share, rising
from model.equipment.evidence import Evidence, Pace
from model.equipment.relations.brine import SODIUM_CHLORIDE, cation_added_mg_l, sodium_chloride_equal_kg
from model.equipment.relations.resin import capacity_left_share
from model.equipment.relations.softener import (
    capacity_g_caco3,
    chloride_added_mg_l,
    compensated_hardness_mg_l_caco3,
    litres_between_regenerations,
    salt_kg_from_depth,
)
from model.records.bounds import for_health
from model.records.history import History
from model.water.balance import hardness_mg_l_caco3
from model.water.exchange.run import Run as BedRun
from model.water.sample import Sample


class Softener(Stage, frozen=True, kw_only=True, tag="softener"):
    """A resin tank and its brine tank.

    `salt_dose_kg` per regeneration; `regenerate_every_l` is the meter setting, None to let the program work it out
    from the hardness; `regenerate_every_days` is the timer, or the day override of a metered valve.
    `salt_full_cm`, `salt_low_cm`: salt depth after a refill, and the depth at which to refill, from the floor [cm].
    `anion_usable_share`: share of the anion resin's capacity to plan on at a full dose, 0-1. `profile_l`: litres after
    which nitrate first passed `nitrate_action_mg_l_n` [mg/L as N] in the owner's own breakthrough profile [L]; it
    replaces what is reckoned. `draw_l_per_min`: the flow at which the house usually draws [L/min]: the faster, the
    earlier nitrate shows.
    `nitrate_leak_share`: share of the raw nitrate that passes fresh resin, until a measurement says.
    `regenerant`: what the brine tank holds; `salt_dose_kg` is of it. `brine_fill_l`: fill water of the brine tank for
    one regeneration [L], None if not known. `capacity_loss_per_year`: what the resin loses in a year, 0-1.
    `regenerates_at_hour`: the hour of the day, 0-23, at which the valve may regenerate and pass untreated water; None
    for a twin tank, which never does.
    """

    cation_resin_l: Positive = 28.0
    anion_resin_l: NotNegative = 0.0
    anion_type: Literal["none", "standard", "nitrate_selective"] = "none"
    control: Literal["metered", "timed"] = "metered"
    salt_dose_kg: Positive = 3.6
    regenerate_every_l: Positive | None = None
    regenerate_every_days: Positive | None = None
    reserve_share: Share = 0.2
    anion_usable_share: Share = 0.4
    nitrate_action_mg_l_n: Positive = 5.0
    profile_l: Positive | None = None
    draw_l_per_min: Positive = 15.0
    iron_factor: NotNegative = 2.0
    brine_tank_diameter_cm: Positive = 45.7
    brine_tank_height_cm: Positive = 84.0
    salt_full_cm: Positive = 55.0
    salt_low_cm: NotNegative = 18.0
    water_depth_cm: NotNegative = 15.0
    salt_kg_per_l: Positive = 1.1
    regeneration_water_l: NotNegative = 250.0
    nitrate_leak_share: Share = 0.15
    regenerant: Literal["sodium_chloride", "potassium_chloride"] = "sodium_chloride"
    brine_fill_l: Positive | None = None
    capacity_loss_per_year: PartShare = 0.05
    regenerates_at_hour: Hour | None = 2

    def __post_init__(self) -> None:
        super().__post_init__()
        rising("salt_low_cm and salt_full_cm", self.salt_low_cm, self.salt_full_cm)


JOBS = (
    Job(id="refill_salt", title="Refill the salt", careful=True, parts={"salt": 0}),
    Job(id="salt_check", title="Measure the salt and probe for a bridge", months=1),
    Job(id="hardness_check", title="Read hardness before and after regeneration", months=1),
    Job(id="nitrate_check", title="Read nitrate before and after the resin", months=1, health=True),
    Job(id="breakthrough_profile", title="Follow nitrate through one run", months=12, health=True),
    Job(id="clean_injector", title="Clean the injector and screen", months=12),
    Job(id="watch_regeneration", title="Watch one regeneration", months=12, basis="from memory; owner's default"),
    Job(id="wash_brine_tank", title="Empty and wash the brine tank", months=36, basis="from memory; owner's default"),
    Job(
        id="resin_cleaner",
        title="Clean iron off the resin",
        months=6,
        parts={"resin_cleaner": 1},
        basis="from memory; owner's default",
    ),
    Job(id="drain_look", title="Look at the drains and their air gaps", months=12),
    Job(id="break_bridge", title="Break a salt bridge", on_event=True),
    Job(id="recover_from_run_out", title="Recover after the salt ran out", on_event=True, health=True),
    Job(
        id="valve_seals",
        title="Renew valve seals and piston",
        months=78,
        parts={"seal_kit": 1},
        basis="5 to 8 years, from memory; owner's default",
        life_years=(5.0, 8.0),
    ),
    Job(
        id="replace_anion_resin",
        title="Replace the anion resin",
        months=84,
        careful=True,
        parts={"anion_resin": 0},
        basis="4 to 10 years, from memory; owner's default",
        life_years=(4.0, 10.0),
    ),
    Job(
        id="replace_resin",
        title="Replace the softening resin",
        months=144,
        parts={"cation_resin": 0},
        life_years=(5.0, 16.0),
        life_basis="from 5 to 25 years, 8 to 10 on average: US Department of Defense UFC 3-240-13FN",
    ),
)

HARDNESS_LEAK_MG_L_CACO3 = 5.0
"""Hardness that passes resin in good order [mg/L as CaCO3]. Common practice, no source: under 1 grain a gallon."""

IRON_LIMIT_MG_L = 0.3
"""Iron above which resin is cleaned [mg/L]. Common practice, no source."""


def jobs(stage: Softener, fed: Sample | None) -> tuple[Job, ...]:
    """The jobs of this softener: nitrate jobs only with anion resin, resin cleaner only with iron."""
    left_out: list[str] = []
    if not has_anion_resin(stage):
        left_out += ["nitrate_check", "breakthrough_profile", "replace_anion_resin"]
    if fed is None or fed.iron_mg_l <= IRON_LIMIT_MG_L:
        left_out.append("resin_cleaner")
    filled = with_parts(JOBS, "replace_resin", cation_resin=stage.cation_resin_l)
    return without(with_parts(filled, "replace_anion_resin", anion_resin=stage.anion_resin_l), *left_out)


def treat(stage: Softener, fed: Sample, history: History, outlet: str) -> Sample:
    """The water between regenerations: hardness for sodium (or potassium) and, with anion resin, nitrate for chloride.

    Bicarbonate is taken up and given back within a run, so alkalinity is left as it was: a mean over the run.
    Source: charge balance, atomic weights IUPAC 2013.
    """
    kept = min(1.0, HARDNESS_LEAK_MG_L_CACO3 / max(hardness_mg_l_caco3(fed), 1e-9))
    removed = hardness_mg_l_caco3(fed) * (1.0 - kept)
    soft = msgspec.structs.replace(
        fed,
        calcium_mg_l=fed.calcium_mg_l * kept,
        magnesium_mg_l=fed.magnesium_mg_l * kept,
    )
    field = "sodium_mg_l" if stage.regenerant == SODIUM_CHLORIDE else "potassium_mg_l"
    added = {field: getattr(fed, field) + cation_added_mg_l(removed, stage.regenerant)}
    soft = msgspec.structs.replace(soft, **added)
    return _without_nitrate(stage, soft, leak_share(stage, history, outlet)) if has_anion_resin(stage) else soft


def has_anion_resin(stage: Softener) -> bool:
    """Whether the tank also takes nitrate."""
    return stage.anion_resin_l > 0 and stage.anion_type != "none"


def _without_nitrate(stage: Softener, fed: Sample, leak: float) -> Sample:
    """Nitrate down to the share that passes; standard resin holds sulfate too, selective lets it by in the end."""
    nitrate_removed = fed.nitrate_mg_l_n * (1.0 - leak)
    sulfate_removed = fed.sulfate_mg_l if stage.anion_type == "standard" else 0.0
    added = chloride_added_mg_l(max(nitrate_removed, 0.0), sulfate_removed)
    # Spent resin that gives nitrate off takes chloride up for it.
    added -= chloride_added_mg_l(max(-nitrate_removed, 0.0), 0.0)
    return msgspec.structs.replace(
        fed,
        nitrate_mg_l_n=fed.nitrate_mg_l_n - nitrate_removed,
        sulfate_mg_l=fed.sulfate_mg_l - sulfate_removed,
        chloride_mg_l=max(fed.chloride_mg_l + added, 0.0),
    )


MOST_LEAK_SHARE = 1.5
"""More than this of the raw nitrate no resin gives off for long: a reading above it was of another water. From memory;
owner's default."""


def leak_share(stage: Softener, history: History, outlet: str) -> float:
    """Share of the raw nitrate that passes: by the newest nitrate after the resin over that before, or the setting.

    The worst of one day counts, over the raw water nearest in time. Above 1 where more comes out than goes in, as from
    spent standard resin.
    """
    after = [*history.taken("nitrate", outlet), *(history.taken("nitrate", "tap") if outlet != "tap" else ())]
    raw = [one for one in history.taken("nitrate", "source") if for_health(one.taken) > 0]
    if not after or not raw:
        return stage.nitrate_leak_share
    newest = max(one.on for one in after)
    worst = max(for_health(one.taken) for one in after if one.on == newest)
    before = min(raw, key=lambda one: abs((one.on - newest).days))
    return float(min(worst / for_health(before.taken), MOST_LEAK_SHARE))


class Run(NamedTuple):
    """Litres between regenerations: what hardness allows, what nitrate allows (None without anion resin or unknown),
    what the valve is set to (None if worked out), and what is reckoned with."""

    by_hardness_l: float | None
    by_nitrate_l: float | None
    set_l: float | None
    planned_l: float | None


def load_mg_l_caco3(stage: Softener, fed: Sample) -> float:
    """Hardness to plan on, with the allowance for iron and manganese [mg/L as CaCO3]."""
    return compensated_hardness_mg_l_caco3(
        hardness_mg_l_caco3(fed), fed.iron_mg_l, fed.manganese_mg_l, stage.iron_factor
    )


def capacity_g(stage: Softener, years: float) -> float:
    """Hardness that a regeneration makes room for [g as CaCO3], with resin `years` old."""
    fresh = capacity_g_caco3(stage.cation_resin_l, sodium_chloride_equal_kg(stage.salt_dose_kg, stage.regenerant))
    return fresh * capacity_left_share(years, stage.capacity_loss_per_year)


def resin_years(stage: Softener, known: Evidence) -> float:
    """Age of the softening resin [year], since it was renewed or the softener put in (or the home written down)."""
    new = known.last_done(stage, "replace_resin") or stage.installed_on or known.since(stage)
    return max((known.today - new).days / 365.25, 0.0)


def anion_run(stage: Softener, fed: Sample) -> BedRun | None:
    """How nitrate comes through the anion resin after a regeneration; None without resin or without nitrate."""
    if stage.anion_type == "none" or stage.anion_resin_l <= 0 or fed.nitrate_mg_l_n <= 0:
        return None
    dose_kg = sodium_chloride_equal_kg(stage.salt_dose_kg, stage.regenerant)
    usable = usable_share(dose_kg, stage.anion_resin_l, stage.anion_usable_share)
    return run_of_bed(
        fed, stage.anion_type, stage.anion_resin_l, stage.draw_l_per_min, stage.nitrate_action_mg_l_n, max(usable, 0.01)
    )


def run_length(stage: Softener, fed: Sample | None, years: float = 0.0) -> Run:
    """Litres from one regeneration to the next [L]: capacity at this dose, with resin `years` old, over the load."""
    by_hardness = by_nitrate = None
    if fed is not None:
        load, capacity = load_mg_l_caco3(stage, fed), capacity_g(stage, years)
        by_hardness = litres_between_regenerations(capacity, load, stage.reserve_share) if load > 0 else None
        bed = anion_run(stage, fed)
        by_nitrate = planned_l(bed.early_l, stage.profile_l) if bed is not None else None
        if by_nitrate is not None and by_nitrate < stage.anion_resin_l:
            by_nitrate = (
                None  # at this flow the bed holds nothing back: no run can be planned on it, and an alert says so
            )
    allowed = [litres for litres in (by_hardness, by_nitrate) if litres is not None]
    planned = stage.regenerate_every_l or (min(allowed) if allowed else None)
    return Run(by_hardness, by_nitrate, stage.regenerate_every_l, planned)


def pace(stage: Softener, fed: Sample | None, years: float = 0.0) -> Pace:
    """How often the valve regenerates [1/L, L/day, 1/day], with resin `years` old.

    By the timer, or by the meter; then an idle house still regenerates on the day of the override.
    """
    run, days = run_length(stage, fed, years).planned_l, stage.regenerate_every_days
    if stage.control == "timed" or run is None:
        return Pace(per_day=1.0 / days if days else 0.0)
    return Pace(1.0 / run, run / days if days else 0.0)


def regenerations_per_litre(
    stage: Softener, fed: Sample | None, litres_per_day: float, years: float = 0.0
) -> tuple[float, float]:
    """How often the valve regenerates: per litre [1/L] and per day [1/day]; one of the two is zero.

    `years`: age of the resin. A timer, or the day override of a metered valve in a house that uses little, goes by
    days.
    """
    found = pace(stage, fed, years)
    if litres_per_day < found.least_l_per_day:
        return 0.0, found.per_litre * found.least_l_per_day
    return found.per_litre, found.per_day


def salt_kg(stage: Softener, depth_cm: float) -> float:
    """Salt in the brine tank at this depth from its floor [kg]."""
    return salt_kg_from_depth(depth_cm, stage.brine_tank_diameter_cm, stage.water_depth_cm, stage.salt_kg_per_l)
