"""The ultraviolet unit: a lamp in a quartz sleeve, good for so many lit hours."""

from __future__ import annotations

from typing import Literal

from model.equipment.base import Job, Stage


class Ultraviolet(Stage, frozen=True, kw_only=True, tag="ultraviolet"):
    """A UV unit. `unit_class`: as rated, "A" (disinfection) or "B" (supplemental); dose in [mJ/cm2] at `rated_l_per_min`.

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
