"""The acid neutralizer: a bed of calcite and magnesia that dissolves into acid water."""

from __future__ import annotations

from model.equipment.base import Job, Stage


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
