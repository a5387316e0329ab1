"""The well: where the water comes from, its pump, and the laboratory tests of its water."""

from __future__ import annotations

from model.equipment.base import Job, Stage, with_interval
from model.equipment.bounds import NotNegative, Positive
from model.water.sample import Sample


class Well(Stage, frozen=True, kw_only=True, tag="well"):
    """A private well. `farmed_land`: fields or animals nearby, so nitrate and coliform are tested twice a year."""

    depth_m: NotNegative | None = None
    casing_diameter_cm: Positive | None = None
    pump_l_per_min: Positive | None = None
    farmed_land: bool = False


JOBS = (
    Job(
        id="coliform_test",
        title="Laboratory test: coliform and E. coli",
        months=12,
        health=True,
        parts={"coliform_test": 1},
        basis="yearly: US CDC private well testing advice",
    ),
    Job(
        id="nitrate_test",
        title="Laboratory test: nitrate, raw and treated",
        months=12,
        health=True,
        parts={"nitrate_test": 1},
        basis="yearly: US CDC private well testing advice",
    ),
    Job(
        id="lead_copper_test",
        title="Laboratory test: lead and copper, first draw and flushed",
        months=36,
        health=True,
        parts={"lead_copper_test": 1},
        basis="every 1 to 3 years: Connecticut DPH publication 24",
    ),
    Job(
        id="nitrate_watch",
        title="Read raw and treated nitrate in its season",
        on_event=True,
        health=True,
        basis="spring and autumn: Heartland Health Region (Saskatchewan), Water treatment for sandpoint wells",
    ),
    Job(id="mineral_test", title="Laboratory test: minerals and metals", months=36, parts={"mineral_test": 1}),
    Job(
        id="wellhead_walk",
        title="Walk round the wellhead",
        season=4,
        basis="every spring: US CDC private well advice",
    ),
    Job(
        id="inspection",
        title="Well and pump check by a contractor",
        months=12,
        parts={"contractor_visit": 1},
        basis="yearly: National Ground Water Association checkup; other programmes say ten years",
    ),
    Job(
        id="shut_off_drill", title="Rehearse every shut-off and bypass", months=12, basis="from memory; owner's default"
    ),
    Job(
        id="local_rules",
        title="Ask about the local rules",
        months=12,
        basis="rules change: common practice, no source",
    ),
    Job(id="replace_meter", title="Replace the water meter", on_event=True),
    Job(id="shock_chlorination", title="Shock chlorination of the well", on_event=True),
    Job(id="after_flood", title="After a flood at the well", on_event=True, health=True),
    Job(id="after_power_cut", title="After a power cut", on_event=True, health=True),
    Job(id="before_absence", title="Before leaving the house empty", on_event=True),
    Job(id="after_absence", title="Flush the house after an absence", on_event=True, health=True),
    Job(id="freeze_guard", title="Guard well and drains against frost", on_event=True),
    Job(id="septic_pump_out", title="Have the septic tank pumped out", on_event=True),
    Job(
        id="replace_pump",
        title="Replace the pump",
        months=144,
        basis="8 to 15 years, from memory; owner's default",
        parts={"pump": 1},
        life_years=(8.0, 15.0),
    ),
)

MUCH_NITRATE_MG_L_N = 5.0
"""Raw nitrate from which it is tested twice a year [mg/L as N]: half of the limit. Common practice, no source."""


def jobs(stage: Well, fed: Sample | None) -> tuple[Job, ...]:
    """The jobs of this well: in farmed land coliform and nitrate are tested twice a year.

    Source: Heartland Health Region (Saskatchewan), Water treatment for sandpoint wells.
    """
    jobs = with_interval(JOBS, "coliform_test", months=6) if stage.farmed_land else JOBS
    return nitrate_twice_a_year(jobs) if stage.farmed_land else jobs


def nitrate_twice_a_year(jobs: tuple[Job, ...]) -> tuple[Job, ...]:
    """The jobs with nitrate tested twice a year, as in farmed land or where much was ever found."""
    return with_interval(jobs, "nitrate_test", months=6)
