"""The softener: cation resin, optional anion resin in the same tank, and the brine tank that renews both."""

from __future__ import annotations

from typing import Literal, NamedTuple

import msgspec

from model.equipment.base import Job, Stage, Stock, without
from model.equipment.evidence import Evidence
from model.equipment.levels import Mark, Standing, follow
from model.equipment.relations.softener import (
    anion_litres,
    capacity_g_caco3,
    chloride_added_mg_l,
    compensated_hardness_mg_l_caco3,
    litres_between_regenerations,
    salt_kg_from_depth,
    sodium_added_mg_l,
)
from model.records.history import History
from model.water.balance import hardness_mg_l_caco3
from model.water.sample import Sample


class Softener(Stage, frozen=True, kw_only=True, tag="softener"):
    """A resin tank and its brine tank.

    `salt_dose_kg` per regeneration; `regenerate_every_l` is the meter setting, None to let the program work it out
    from the hardness; `regenerate_every_days` is the timer, or the day override of a metered valve.
    `salt_full_cm`, `salt_low_cm`: salt depth after a refill, and the depth at which to refill, from the floor [cm].
    `nitrate_leak_share`: share of the raw nitrate that passes fresh resin, until a measurement says.
    """

    cation_resin_l: float = 28.0
    anion_resin_l: float = 0.0
    anion_type: Literal["none", "standard", "nitrate_selective"] = "none"
    control: Literal["metered", "timed"] = "metered"
    salt_dose_kg: float = 3.6
    regenerate_every_l: float | None = None
    regenerate_every_days: float | None = None
    reserve_share: float = 0.2
    anion_usable_share: float = 0.4
    iron_factor: float = 2.0
    brine_tank_diameter_cm: float = 45.7
    brine_tank_height_cm: float = 84.0
    salt_full_cm: float = 55.0
    salt_low_cm: float = 18.0
    water_depth_cm: float = 15.0
    salt_kg_per_l: float = 1.1
    regeneration_water_l: float = 250.0
    nitrate_leak_share: float = 0.15


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
    Job(id="break_bridge", title="Break a salt bridge", on_event=True),
    Job(id="recover_from_run_out", title="Recover after the salt ran out", on_event=True, health=True),
    Job(
        id="valve_seals",
        title="Renew valve seals and piston",
        months=78,
        parts={"seal_kit": 1},
        basis="5 to 8 years, from memory; owner's default",
    ),
    Job(
        id="replace_anion_resin",
        title="Replace the anion resin",
        months=84,
        parts={"anion_resin": 0},
        basis="4 to 10 years, from memory; owner's default",
    ),
    Job(id="replace_resin", title="Replace the softening resin", months=144, parts={"cation_resin": 0}),
)

DEPTH_SD_CM = 2.0
"""How well a stick finds the top of the salt, which is never level [cm]. Common practice, no source."""

HARDNESS_LEAK_MG_L_CACO3 = 5.0
"""Hardness that passes resin in good order [mg/L as CaCO3]. Common practice, no source: under 1 grain a gallon."""

IRON_LIMIT_MG_L = 0.3
"""Iron above which resin is cleaned [mg/L]. Common practice, no source."""


def jobs(stage: Softener, fed: Sample | None) -> tuple[Job, ...]:
    """The jobs of this softener: nitrate jobs only with anion resin, resin cleaner only with iron."""
    left_out: list[str] = []
    if stage.anion_resin_l <= 0 or stage.anion_type == "none":
        left_out += ["nitrate_check", "breakthrough_profile", "replace_anion_resin"]
    if fed is None or fed.iron_mg_l <= IRON_LIMIT_MG_L:
        left_out.append("resin_cleaner")
    return without(JOBS, *left_out)


def treat(stage: Softener, fed: Sample, history: History, outlet: str) -> Sample:
    """The water between regenerations: hardness for sodium and, with anion resin, nitrate for chloride.

    Bicarbonate is taken up and given back within a run, so alkalinity is left as it was: a mean over the run.
    Source: charge balance, atomic weights IUPAC 2013.
    """
    kept = min(1.0, HARDNESS_LEAK_MG_L_CACO3 / max(hardness_mg_l_caco3(fed), 1e-9))
    removed = hardness_mg_l_caco3(fed) * (1.0 - kept)
    soft = msgspec.structs.replace(
        fed,
        calcium_mg_l=fed.calcium_mg_l * kept,
        magnesium_mg_l=fed.magnesium_mg_l * kept,
        sodium_mg_l=fed.sodium_mg_l + sodium_added_mg_l(removed),
    )
    return _without_nitrate(stage, soft, leak_share(stage, history, outlet)) if has_anion_resin(stage) else soft


def has_anion_resin(stage: Softener) -> bool:
    """Whether the tank also takes nitrate."""
    return stage.anion_resin_l > 0 and stage.anion_type != "none"


def _without_nitrate(stage: Softener, fed: Sample, leak: float) -> Sample:
    """Nitrate down to the share that passes; standard resin holds sulfate too, selective lets it by in the end."""
    nitrate_removed = fed.nitrate_mg_l_n * (1.0 - leak)
    sulfate_removed = fed.sulfate_mg_l if stage.anion_type == "standard" else 0.0
    return msgspec.structs.replace(
        fed,
        nitrate_mg_l_n=fed.nitrate_mg_l_n - nitrate_removed,
        sulfate_mg_l=fed.sulfate_mg_l - sulfate_removed,
        chloride_mg_l=fed.chloride_mg_l + chloride_added_mg_l(nitrate_removed, sulfate_removed),
    )


def leak_share(stage: Softener, history: History, outlet: str) -> float:
    """Share of the raw nitrate that passes, 0-1: by the newest nitrate before and after the resin, or the setting."""
    raw = history.newest("nitrate", "source")
    after = [one for point in {outlet, "tap"} if (one := history.newest("nitrate", point)) is not None]
    if not after or raw is None or raw.taken.value <= 0:
        return stage.nitrate_leak_share
    return min(max(after, key=lambda one: one.on).taken.value / raw.taken.value, 1.0)


class Run(NamedTuple):
    """Litres between regenerations: what hardness allows, what nitrate allows (None without anion resin or unknown),
    what the valve is set to (None if worked out), and what is reckoned with."""

    by_hardness_l: float | None
    by_nitrate_l: float | None
    set_l: float | None
    planned_l: float | None


def run_length(stage: Softener, fed: Sample | None) -> Run:
    """Litres from one regeneration to the next, by capacity at this salt dose over the load of this water [L]."""
    by_hardness = by_nitrate = None
    if fed is not None:
        load = compensated_hardness_mg_l_caco3(
            hardness_mg_l_caco3(fed), fed.iron_mg_l, fed.manganese_mg_l, stage.iron_factor
        )
        capacity = capacity_g_caco3(stage.cation_resin_l, stage.salt_dose_kg)
        by_hardness = litres_between_regenerations(capacity, load, stage.reserve_share) if load > 0 else None
        if has_anion_resin(stage) and fed.nitrate_mg_l_n > 0:
            by_nitrate = anion_litres(
                stage.anion_resin_l, stage.anion_type, fed.nitrate_mg_l_n, fed.sulfate_mg_l, stage.anion_usable_share
            )
    allowed = [litres for litres in (by_hardness, by_nitrate) if litres is not None]
    planned = stage.regenerate_every_l or (min(allowed) if allowed else None)
    return Run(by_hardness, by_nitrate, stage.regenerate_every_l, planned)


def regenerations_per_litre(stage: Softener, fed: Sample | None, litres_per_day: float) -> tuple[float, float]:
    """How often the valve regenerates: per litre [1/L] and per day [1/day]; one of the two is zero.

    A timer, or the day override of a metered valve in a house that uses little, goes by days.
    """
    run, days = run_length(stage, fed).planned_l, stage.regenerate_every_days
    if stage.control == "timed":
        return (0.0, 1.0 / days) if days else (0.0, 0.0)
    if days and (run is None or litres_per_day * days < run):
        return 0.0, 1.0 / days
    return (1.0 / run, 0.0) if run else (0.0, 0.0)


def stocks(stage: Softener, known: Evidence) -> tuple[Stock, ...]:
    """Salt left above the refill line [kg]; nothing where neither valve setting nor water say how often it is used."""
    per_litre, per_day = regenerations_per_litre(stage, known.fed(stage), known.per_day())
    if per_litre + per_day <= 0:
        return ()
    per_litre, per_day = per_litre * stage.salt_dose_kg, per_day * stage.salt_dose_kg
    standing = _standing(stage, known, per_litre, per_day)
    line, full = salt_kg(stage, stage.salt_low_cm), salt_kg(stage, stage.salt_full_cm)
    return (
        Stock(
            job="refill_salt",
            driver="regenerations",
            unit="kg",
            since=standing.on,
            left=standing.level - line,
            left_sd=standing.sd,
            full=full - line,
            per_litre=per_litre,
            per_day=per_day,
            spread=0.1,
            refills={"salt": full - line},
            sure=known.sure(standing.seen),
            why=_why(stage, known, standing, per_day > 0),
        ),
    )


def salt_kg(stage: Softener, depth_cm: float) -> float:
    """Salt in the brine tank at this depth from its floor [kg]."""
    return salt_kg_from_depth(depth_cm, stage.brine_tank_diameter_cm, stage.water_depth_cm, stage.salt_kg_per_l)


def _standing(stage: Softener, known: Evidence, per_litre: float, per_day: float) -> Standing:
    marks = [
        Mark(mark.on, None if mark.level is None else salt_kg(stage, mark.level), mark.added)
        for mark in known.marks(stage, "salt_depth", "refill_salt", ("salt",))
    ]
    full = salt_kg(stage, stage.brine_tank_height_cm)
    start = Standing(known.since(stage), salt_kg(stage, stage.salt_full_cm), 0.15 * full, None)
    seen_sd = salt_kg(stage, stage.salt_full_cm) - salt_kg(stage, max(stage.salt_full_cm - DEPTH_SD_CM, 0.0))
    return follow(
        marks, start, full, seen_sd, lambda a, b: per_litre * known.litres(a, b) + per_day * (b - a).days, 0.15
    )


def _why(stage: Softener, known: Evidence, salt: Standing, timed: bool) -> tuple[str, ...]:
    run = run_length(stage, known.fed(stage))
    seen = f"last measured {known.day(salt.seen)}" if salt.seen else "never measured; taken as full when new"
    every = (
        f"each {stage.regenerate_every_days:g} days"
        if timed
        else f"each {known.show(run.planned_l or 0.0, 'volume')} ({'valve setting' if run.set_l else 'worked out'})"
    )
    lines = [
        f"Salt {known.show(salt.level, 'mass')} on {known.day(salt.on)} ({seen}).",
        f"{known.show(stage.salt_dose_kg, 'mass')} a regeneration, {every}.",
        f"Refill at {known.show(stage.salt_low_cm, 'length')} of depth; below it the brine may be weak.",
    ]
    if run.by_nitrate_l is not None and run.by_hardness_l is not None:
        lines.append(
            f"Hardness would allow {known.show(run.by_hardness_l, 'volume')}, "
            f"nitrate {known.show(run.by_nitrate_l, 'volume')} between regenerations."
        )
    return tuple(lines)
