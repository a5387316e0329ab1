"""The ultraviolet unit: a lamp in a quartz sleeve, good for so many lit hours."""

from __future__ import annotations

from typing import Literal

from model.equipment.base import Job, Stage, Stock, with_interval
from model.equipment.bounds import HoursADay, Months, Percent, Positive, Share
from model.equipment.evidence import Evidence, fitted
from model.equipment.relations.lamp import HARDNESS_LIMIT_MG_L_CACO3, IRON_LIMIT_MG_L, MANGANESE_LIMIT_MG_L
from model.water.balance import hardness_mg_l_caco3
from model.water.sample import Sample


class Ultraviolet(Stage, frozen=True, kw_only=True, tag="ultraviolet"):
    """A UV unit. `unit_class` as rated: "A" disinfects, "B" supplements; dose in [mJ/cm2] at `rated_l_per_min`.

    `lit_hours_per_day` is 24 where the lamp is never off. `lamp_life_h` in lit hours. `rating_lamp`: whether the rated
    dose is that of a new lamp or of one at the end of its life, so that ageing counts once.
    `lamp_end_output_share`: light left at the end of its life, 0-1, from memory, owner's default. `rated_uvt_percent`:
    transmittance of the water that the rating needs [% over 1 cm]; 75 is common practice, no source.
    `sleeve_loss_share_per_month`: light a sleeve loses in water at the feed limits, 0-1, owner's default.
    """

    unit_class: Literal["A", "B", "unknown"] = "unknown"
    rated_dose_mj_cm2: Positive = 40.0
    rated_l_per_min: Positive = 45.0
    lamp_life_h: Positive = 9000.0
    lit_hours_per_day: HoursADay = 24.0
    sleeve_clean_months: Months = 6
    rating_lamp: Literal["new", "end_of_life"] = "new"
    lamp_end_output_share: Share = 0.6
    rated_uvt_percent: Percent = 75.0
    sleeve_loss_share_per_month: Share = 0.02


JOBS = (
    Job(
        id="replace_lamp",
        title="Change the lamp and O-rings",
        months=12,
        health=True,
        parts={"lamp": 1, "o_rings": 1},
        basis="9,000 lit hours or 12 months: common practice, no source",
    ),
    Job(id="clean_sleeve", title="Clean the quartz sleeve", months=6, health=True),
    Job(id="glance", title="Look at the lamp, the alarm and the hours", days=7, health=True),
    Job(
        id="replace_sleeve",
        title="Change the quartz sleeve",
        months=36,
        health=True,
        parts={"sleeve": 1, "o_rings": 1},
        life_years=(2.0, 5.0),
    ),
    Job(id="sanitize_pipes", title="Sanitize the pipes after the UV", on_event=True, health=True),
    Job(id="replace_sensor", title="Calibrate or replace the UV sensor", on_event=True),
    Job(id="broken_lamp", title="Clean up a broken lamp", on_event=True, health=True),
    Job(
        id="replace_ballast",
        title="Replace the ballast",
        months=78,
        parts={"ballast": 1},
        basis="on failure or 5 to 8 years, from memory; owner's default",
        life_years=(5.0, 8.0),
    ),
)


FOULED_MONTHS = 3
"""Months between sleeve cleanings in water over a lamp's feed limits. Common practice, no source: 3 to 6."""


def jobs(stage: Ultraviolet, fed: Sample | None) -> tuple[Job, ...]:
    """The jobs of this unit, with the owner's interval between sleeve cleanings, sooner in water that fouls."""
    months = stage.sleeve_clean_months
    return with_interval(JOBS, "clean_sleeve", months=min(months, FOULED_MONTHS) if _fouls(fed) else months)


def _fouls(fed: Sample | None) -> bool:
    return fed is not None and (
        hardness_mg_l_caco3(fed) > HARDNESS_LIMIT_MG_L_CACO3
        or fed.iron_mg_l > IRON_LIMIT_MG_L
        or fed.manganese_mg_l > MANGANESE_LIMIT_MG_L
    )


def stocks(stage: Ultraviolet, known: Evidence) -> tuple[Stock, ...]:
    """Lit hours left of the lamp. The hour meter can only shorten them: it may have been reset without a new lamp."""
    # Of a lamp whose change nobody wrote down, the age of the unit is what is known.
    since = known.last_done(stage, "replace_lamp") or stage.installed_on or known.since(stage)
    lit = max(version.lit_hours_per_day for _, version in known.versions(stage) if isinstance(version, Ultraviolet))
    left = stage.lamp_life_h - lit * (known.today - since).days
    read = known.read(stage, "lamp_hours", "replace_lamp")
    lit_h = stage.lamp_life_h - left
    why = [fitted("Lamp", known, stage, "replace_lamp"), f"Lit {lit:g} h a day: {lit_h:,.0f} h by the calendar."]
    by_meter = [stage.lamp_life_h - one.taken.value - lit * (known.today - one.on).days for one in read]
    if read:
        most = read[by_meter.index(min(by_meter))]
        why.append(f"Hour meter {most.taken.value:,.0f} h on {known.day(most.on)}; the largest count of all decides.")
        left = min(left, *by_meter)
    why.append(f"Life {stage.lamp_life_h:,.0f} lit hours; a glowing lamp is no proof of dose.")
    return (
        Stock(
            job="replace_lamp",
            driver="hours",
            unit="h",
            since=known.today,
            left=left,
            left_sd=120.0,
            full=stage.lamp_life_h,
            per_day=lit,
            spread=0.01,
            sure="measured" if read else "forecast" if known.recorded(stage, "replace_lamp") else "guess",
            why=tuple(why),
        ),
    )
