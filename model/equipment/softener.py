"""The softener: cation resin, optional anion resin in the same tank, and the brine tank that renews both."""

from __future__ import annotations

from typing import Literal

from model.equipment.base import Job, Stage


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
    Job(id="refill_salt", title="Refill the salt", health=True, parts={"salt": 0}),
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
