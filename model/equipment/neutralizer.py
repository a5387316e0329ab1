"""The acid neutralizer: a bed of calcite and magnesia that dissolves into acid water."""

from __future__ import annotations

from functools import lru_cache

import msgspec

from model.equipment.base import Job, Stage, with_parts
from model.equipment.bounds import NotNegative, PartShare, Positive, Share, rising
from model.equipment.relations.neutralizer import bed_kg
from model.errors import BadInput
from model.records.bounds import for_mean
from model.records.history import History
from model.water.contactor import Bed
from model.water.media import Dissolved, neutralize
from model.water.neutralizing import calibrated, depth_for_ph
from model.water.neutralizing import outlet as outlet_of
from model.water.sample import Sample


class Neutralizer(Stage, frozen=True, kw_only=True, tag="neutralizer"):
    """A media tank with a blend valve.

    `full_bed_cm` and `minimum_bed_cm`: bed depth after a top-up, and the depth at which to top up [cm].
    `magnesia_share`: mass of magnesium oxide in the media, 0-1. `bypass_share`: water that goes round the bed, 0-1.
    Where no pH after the tank was measured, how far the bed gets follows from `grain_mm` [mm], `bed_porosity` (0-1) and
    `flow_l_min`, a usual draw [L/min]; `approach_share`, 0-1 of the way to calcite saturation, overrides that.
    `floor_pH`: the house water should not fall under this; 0 for no floor.
    """

    tank_diameter_cm: Positive = 25.4
    full_bed_cm: Positive = 85.0
    minimum_bed_cm: NotNegative = 60.0
    magnesia_share: Share = 0.0
    bypass_share: PartShare = 0.0
    approach_share: Share | None = None
    grain_mm: Positive = 1.0
    bed_porosity: PartShare = 0.45
    flow_l_min: Positive = 8.0
    floor_pH: NotNegative = 0.0
    calcite_kg_per_l: Positive = 1.44
    magnesia_kg_per_l: Positive = 1.2
    backwash_loss_share: NotNegative = 0.07
    backwash_l: Positive | None = None
    backwash_every_days: Positive | None = None

    def __post_init__(self) -> None:
        super().__post_init__()
        rising("minimum_bed_cm and full_bed_cm", self.minimum_bed_cm, self.full_bed_cm)


JOBS = (
    Job(id="top_up", title="Top up the neutralizer media", months=18, parts={"calcite": 0, "magnesia": 0}),
    Job(id="bed_check", title="Measure the bed depth", months=4),
    Job(id="ph_check", title="Read pH before and after the neutralizer", months=1),
    Job(
        id="watch_backwash",
        title="Watch one backwash and check its setting",
        months=12,
        basis="from memory; owner's default",
    ),
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

PH_FRESH_DAYS = 200
"""A pH after the tank counts for this long, then only for how fast the media are. Owner's default."""

SPENT_PH = 6.5
"""House water under this is not neutralized: the bed wants seeing to, whatever was reckoned. Source: 40 CFR 143.3."""

APPROACH_SHARE = 0.8
"""Where nothing better can be worked out. Owner's default."""


def jobs(stage: Neutralizer, fed: Sample | None) -> tuple[Job, ...]:
    """The jobs of a neutralizer, a rebed taking a whole bed of media."""
    whole = bed(stage, stage.full_bed_cm)
    share = stage.magnesia_share
    return with_parts(JOBS, "rebed", calcite=whole * (1.0 - share), magnesia=whole * share)


def treat(stage: Neutralizer, fed: Sample, history: History, outlet: str) -> Sample:
    """The mixed water after bed and bypass: by the newest pH at the outlet, the owner's approach, or contact."""
    newest, depth = history.newest("pH", outlet), history.newest("bed_depth", stage.id)
    bed_cm = stage.full_bed_cm if depth is None else depth.taken.value
    if newest is None:
        return by_contact(stage, fed, bed_cm, None)
    if (history.today - newest.on).days > PH_FRESH_DAYS:
        return by_contact(stage, fed, bed_cm, for_mean(newest.taken))
    try:
        return _by_ph(fed, stage.magnesia_share, for_mean(newest.taken)).sample
    except BadInput:
        # No dose of these media gives the pH that was read: the reading is of standing water, or wrong.
        return by_contact(stage, fed, bed_cm, None)


def by_contact(stage: Neutralizer, fed: Sample, bed_cm: float, old_pH: float | None) -> Sample:
    """The mixed water where no pH counts as measured, with the bed `bed_cm` deep [cm].

    `old_pH`, read when the bed was taken as full, still says how fast these media are.
    """
    if stage.approach_share is not None:
        return _by_share(fed, stage.magnesia_share, stage.bypass_share, stage.approach_share).sample
    try:
        made = contact_bed(stage, bed_cm) if old_pH is None else calibrated_bed(stage, fed, bed_cm, old_pH)
        return _by_bed(fed, made).sample
    except BadInput:
        return _by_share(fed, stage.magnesia_share, stage.bypass_share, APPROACH_SHARE).sample


def contact_bed(stage: Neutralizer, bed_cm: float) -> Bed:
    """The stage's bed, `bed_cm` deep [cm], as the contactor relation takes it. Raises BadInput for sizes of 0."""
    return Bed(
        bed_cm=bed_cm,
        tank_diameter_cm=stage.tank_diameter_cm,
        flow_l_min=stage.flow_l_min,
        bypass_share=stage.bypass_share,
        grain_mm=stage.grain_mm,
        porosity=stage.bed_porosity,
        magnesia_share=stage.magnesia_share,
        calcite_kg_per_l=stage.calcite_kg_per_l,
        magnesia_kg_per_l=stage.magnesia_kg_per_l,
    )


def calibrated_bed(stage: Neutralizer, fed: Sample, bed_cm: float, measured_pH: float) -> Bed:
    """The bed `bed_cm` deep [cm], its rate set by a pH read after the full bed; as published if none explains it."""
    factor = _rate_factor(fed, contact_bed(stage, stage.full_bed_cm), measured_pH)
    return msgspec.structs.replace(contact_bed(stage, bed_cm), rate_factor=factor)


@lru_cache(maxsize=32)
def _rate_factor(fed: Sample, full: Bed, measured_pH: float) -> float:
    try:
        return calibrated(fed, full, measured_pH).rate_factor
    except BadInput:
        return 1.0


@lru_cache(maxsize=32)
def _by_ph(fed: Sample, magnesia: float, measured: float) -> Dissolved:
    return neutralize(fed, magnesia, 0.0, 1.0, measured)


@lru_cache(maxsize=32)
def _by_share(fed: Sample, magnesia: float, bypass: float, approach: float) -> Dissolved:
    return neutralize(fed, magnesia, bypass, approach, None)


@lru_cache(maxsize=32)
def _by_bed(fed: Sample, made: Bed) -> Dissolved:
    return outlet_of(fed, made)


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


def least_bed_cm(stage: Neutralizer, fed: Sample, now_pH: float) -> float:
    """Depth at which to top up [cm]: the owner's, or the greater one at which the house water falls to the floor.

    The full bed is taken to give `now_pH`. Not nearer to full than a tenth of the bed: a bed that cannot hold the floor
    is due at once all the same. Source: `depth_for_ph`.
    """
    most = 0.9 * stage.full_bed_cm
    if stage.floor_pH <= 0.0:
        return stage.minimum_bed_cm
    try:
        depth = _depth_at(fed, calibrated_bed(stage, fed, stage.full_bed_cm, now_pH), stage.floor_pH)
    except BadInput:
        return stage.minimum_bed_cm
    return max(stage.minimum_bed_cm, most if depth is None else min(depth, most))


@lru_cache(maxsize=32)
def _depth_at(fed: Sample, full: Bed, floor_pH: float) -> float | None:
    return depth_for_ph(fed, full, floor_pH)
