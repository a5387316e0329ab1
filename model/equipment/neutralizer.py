"""The acid neutralizer: a bed of calcite and magnesia that dissolves into acid water."""

from __future__ import annotations

from functools import lru_cache

from model.equipment.base import Job, Stage, Stock
from model.equipment.evidence import Evidence
from model.equipment.levels import Mark, Standing, follow
from model.equipment.relations.neutralizer import bed_kg
from model.errors import BadInput
from model.records.history import History
from model.water.media import Dissolved, neutralize
from model.water.sample import Sample


class Neutralizer(Stage, frozen=True, kw_only=True, tag="neutralizer"):
    """A media tank with a blend valve.

    `full_bed_cm` and `minimum_bed_cm`: bed depth after a top-up, and the depth at which to top up [cm].
    `magnesia_share`: mass of magnesium oxide in the media, 0-1. `bypass_share`: water that goes round the bed, 0-1.
    `approach_share`: how far the bed gets towards calcite saturation where no pH after the tank was measured, 0-1.
    """

    tank_diameter_cm: float = 25.4
    full_bed_cm: float = 85.0
    minimum_bed_cm: float = 60.0
    magnesia_share: float = 0.0
    bypass_share: float = 0.0
    approach_share: float = 0.8
    calcite_kg_per_l: float = 1.44
    magnesia_kg_per_l: float = 1.2
    backwash_loss_share: float = 0.07


JOBS = (
    Job(id="top_up", title="Top up the neutralizer media", months=18, parts={"calcite": 0, "magnesia": 0}),
    Job(id="bed_check", title="Measure the bed depth", months=4),
    Job(id="ph_check", title="Read pH before and after the neutralizer", months=1),
    Job(id="backwash", title="Backwash by hand", on_event=True),
    Job(id="set_blend", title="Set the blend valve", on_event=True),
    Job(
        id="rebed",
        title="Empty and rebed the neutralizer",
        months=72,
        parts={"calcite": 0, "magnesia": 0},
        basis="5 to 7 years, from memory; owner's default",
    ),
)

BED_SD_CM = 1.5
"""How well a tape finds the top of the bed [cm]. Common practice, no source."""

PH_FRESH_DAYS = 200
"""A pH after the tank counts for this long. Owner's default."""


def jobs(stage: Neutralizer, fed: Sample | None) -> tuple[Job, ...]:
    """The jobs of a neutralizer."""
    return JOBS


def treat(stage: Neutralizer, fed: Sample, history: History, outlet: str) -> Sample:
    """The mixed water after the bed and its bypass: by the newest pH at the outlet, or by the owner's approach."""
    newest = history.newest("pH", outlet)
    fresh = newest is not None and (history.today - newest.on).days <= PH_FRESH_DAYS
    measured = newest.taken.value if fresh and newest is not None else None
    return _neutralized(fed, stage.magnesia_share, stage.bypass_share, stage.approach_share, measured).sample


@lru_cache(maxsize=32)
def _neutralized(fed: Sample, magnesia: float, bypass: float, approach: float, measured: float | None) -> Dissolved:
    try:
        return neutralize(fed, magnesia, bypass, approach, measured)
    except BadInput:
        # No dose of these media gives the pH that was read: the reading is of standing water, or wrong.
        return neutralize(fed, magnesia, bypass, approach, None)


def media_g_per_m3(stage: Neutralizer, fed: Sample, out: Sample) -> tuple[float, float]:
    """Calcite and magnesia gone into each m3 [g], from what calcium and magnesium the water gained.

    Source: mass balance; molar masses CaCO3 100.087, MgO 40.304, Ca 40.078, Mg 24.305 (IUPAC 2013).
    """
    calcite = (out.calcium_mg_l - fed.calcium_mg_l) * 100.087 / 40.078
    magnesia = (out.magnesium_mg_l - fed.magnesium_mg_l) * 40.304 / 24.305
    return max(calcite, 0.0), max(magnesia, 0.0)


def mixed_kg_per_l(stage: Neutralizer) -> float:
    """Bulk density of the two media together [kg/L], by their volumes."""
    share = stage.magnesia_share
    return 1.0 / ((1.0 - share) / stage.calcite_kg_per_l + share / stage.magnesia_kg_per_l)


def bed(stage: Neutralizer, depth_cm: float) -> float:
    """Media in a bed of this depth [kg]."""
    return bed_kg(depth_cm, stage.tank_diameter_cm, mixed_kg_per_l(stage))


def stocks(stage: Neutralizer, known: Evidence) -> tuple[Stock, ...]:
    """Media left above the depth at which to top up [kg]; nothing where the raw water is unknown or not acid."""
    fed, out = known.fed(stage), known.treated(stage)
    if fed is None or out is None:
        return ()
    calcite, magnesia = media_g_per_m3(stage, fed, out)
    per_litre = (calcite + magnesia) * 1e-6 * (1.0 + stage.backwash_loss_share)
    if per_litre <= 0:
        return ()
    standing = _standing(stage, known, per_litre)
    reserve = bed(stage, stage.full_bed_cm) - bed(stage, stage.minimum_bed_cm)
    return (
        Stock(
            job="top_up",
            driver="volume",
            unit="kg",
            since=standing.on,
            left=standing.level - bed(stage, stage.minimum_bed_cm),
            left_sd=standing.sd,
            full=reserve,
            per_litre=per_litre,
            spread=0.2,
            refills={"calcite": reserve * (1.0 - stage.magnesia_share), "magnesia": reserve * stage.magnesia_share},
            sure=known.sure(standing.seen),
            why=_why(stage, known, standing, calcite, magnesia),
        ),
    )


def _standing(stage: Neutralizer, known: Evidence, per_litre: float) -> Standing:
    marks = [
        Mark(mark.on, None if mark.level is None else bed(stage, mark.level), mark.added)
        for mark in known.marks(stage, "bed_depth", "top_up", ("calcite", "magnesia"))
    ]
    full = bed(stage, stage.full_bed_cm)
    start = Standing(known.since(stage), full, 0.1 * full, None)
    return follow(marks, start, full, bed(stage, BED_SD_CM), lambda a, b: per_litre * known.litres(a, b), 0.2)


def _why(stage: Neutralizer, known: Evidence, bed_now: Standing, calcite: float, magnesia: float) -> tuple[str, ...]:
    last = f"last measured {known.day(bed_now.seen)}" if bed_now.seen else "never measured; taken as full when new"
    gone = f"{calcite:.0f} g of calcite" + (f" and {magnesia:.0f} g of magnesia" if magnesia > 0 else "")
    return (
        f"Bed {known.show(bed_now.level, 'mass')} on {known.day(bed_now.on)} ({last}).",
        f"Each m3 dissolves {gone}, by the carbon dioxide that the pH says was neutralized.",
        f"{stage.bypass_share:.0%} goes round the bed; backwash takes {stage.backwash_loss_share:.0%} more.",
        f"Top up at {known.show(stage.minimum_bed_cm, 'length')} of bed.",
    )
