"""The ultraviolet unit: a lamp in a quartz sleeve, good for so many lit hours."""

from __future__ import annotations

from typing import Literal

from model.equipment.base import Job, Stage, Stock, with_interval
from model.equipment.evidence import Evidence
from model.water.sample import Sample


class Ultraviolet(Stage, frozen=True, kw_only=True, tag="ultraviolet"):
    """A UV unit. `unit_class` as rated: "A" disinfects, "B" supplements; dose in [mJ/cm2] at `rated_l_per_min`.

    `lit_hours_per_day` is 24 where the lamp is never off. `lamp_life_h` in lit hours.
    """

    unit_class: Literal["A", "B", "unknown"] = "unknown"
    rated_dose_mj_cm2: float = 40.0
    rated_l_per_min: float = 45.0
    lamp_life_h: float = 9000.0
    lit_hours_per_day: float = 24.0
    sleeve_clean_months: int = 6


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
    ),
    Job(id="sanitize_pipes", title="Sanitize the pipes after the UV", on_event=True, health=True),
    Job(
        id="replace_ballast",
        title="Replace the ballast",
        months=78,
        parts={"ballast": 1},
        basis="on failure or 5 to 8 years, from memory; owner's default",
    ),
)


def jobs(stage: Ultraviolet, fed: Sample | None) -> tuple[Job, ...]:
    """The jobs of this unit, with the owner's interval between sleeve cleanings."""
    return with_interval(JOBS, "clean_sleeve", months=stage.sleeve_clean_months)


def stocks(stage: Ultraviolet, known: Evidence) -> tuple[Stock, ...]:
    """Lit hours left of the lamp. The hour meter can only shorten them: it may have been reset without a new lamp."""
    since = known.renewed(stage, "replace_lamp")
    lit = stage.lit_hours_per_day
    left = stage.lamp_life_h - lit * (known.today - since).days
    read = known.read("lamp_hours", stage.id, since)
    why = [f"Lamp changed {known.day(since)}, lit {lit:g} h a day: {stage.lamp_life_h - left:,.0f} h by the calendar."]
    for one in read[-1:]:
        by_meter = stage.lamp_life_h - one.taken.value - lit * (known.today - one.on).days
        why.append(f"Hour meter {one.taken.value:,.0f} h on {known.day(one.on)}; the larger of the two counts.")
        left = min(left, by_meter)
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
            sure="measured" if read else "forecast",
            why=tuple(why),
        ),
    )
