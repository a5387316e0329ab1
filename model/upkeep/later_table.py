# ruff: noqa: E501
"""What the jobs bring with them later, by "kind.job". Written by `python -m tests.make_follow_ups`."""

from __future__ import annotations

from typing import NamedTuple


class Later(NamedTuple):
    """A job wanted `days` after the work; it counts from `counts_from` days after it. `task` is "kind.job"."""

    days: int
    counts_from: int
    task: str
    text: str


LATER: dict[str, tuple[Later, ...]] = {
    "neutralizer.rebed": (
        Later(1, 1, "neutralizer.ph_check", "pH on day 1."),
        Later(7, 4, "neutralizer.ph_check", "pH on day 7."),
        Later(30, 15, "neutralizer.ph_check", "pH on day 30."),
        Later(7, 4, "softener.hardness_check", "Check the softener's setting against the new hardness."),
        Later(14, 7, "well.coliform_test", "The tank was open ahead of the UV: coliform test at a treated tap."),
        Later(14, 7, "ultraviolet.glance", "Look whether fines have reached the UV sleeve and the RO prefilter."),
    ),
    "neutralizer.set_blend": (
        Later(1, 1, "neutralizer.ph_check", "Read the standing water next morning."),
        Later(7, 4, "neutralizer.ph_check", "Read pH again after a week."),
        Later(
            7,
            4,
            "softener.hardness_check",
            "Hardness after the neutralizer changes with the blend: check the softener's setting.",
        ),
    ),
    "neutralizer.top_up": (
        Later(1, 1, "neutralizer.ph_check", "pH on day 1: if standing water is above 9, open the blend a little."),
        Later(7, 4, "neutralizer.ph_check", "pH on day 7."),
        Later(30, 15, "neutralizer.ph_check", "pH on day 30."),
        Later(
            7,
            4,
            "softener.hardness_check",
            "Hardness after the neutralizer may have risen: check the softener's setting and its salt.",
        ),
        Later(14, 7, "ultraviolet.glance", "Look whether fines have reached the UV sleeve and the RO prefilter."),
    ),
    "pressure_tank.gauge_relief": (Later(30, 15, "pressure_tank.cycle_check", "Watch one cycle and compare."),),
    "pressure_tank.precharge": (
        Later(30, 15, "pressure_tank.cycle_check", "Watch one cycle: a fast loss of air means the tank is failing."),
    ),
    "pressure_tank.replace_switch": (Later(30, 15, "pressure_tank.cycle_check", "Watch one cycle and compare."),),
    "pressure_tank.replace_tank": (
        Later(
            7,
            4,
            "well.coliform_test",
            "Coliform test, because the pipe was open; until it is clean, if the UV was off or bypassed, bottled water for drinking, or boiled where raw nitrate is known to be low: boiling makes it stronger.",
        ),
        Later(30, 15, "pressure_tank.cycle_check", "Watch one cycle and compare."),
    ),
    "reverse_osmosis.replace_membrane": (
        Later(7, 4, "reverse_osmosis.nitrate_check", "Nitrate at the RO tap."),
        Later(30, 15, "reverse_osmosis.performance_check", "First month's reading as the new baseline."),
    ),
    "reverse_osmosis.replace_prefilters": (
        Later(30, 15, "reverse_osmosis.performance_check", "Read flow and solids again."),
    ),
    "reverse_osmosis.replace_tubing": (
        Later(7, 4, "reverse_osmosis.leak_look", "Look for leaks again."),
        Later(7, 4, "reverse_osmosis.performance_check", "Read flow and solids."),
    ),
    "reverse_osmosis.sanitize": (
        Later(7, 4, "reverse_osmosis.performance_check", "A jump in solids means the membrane was hurt."),
        Later(14, 7, "reverse_osmosis.nitrate_check", "Nitrate at the RO tap."),
    ),
    "sediment_filter.replace_cartridge": (
        Later(14, 7, "sediment_filter.read_drop", "Read the drop, to see how fast this cartridge loads."),
    ),
    "softener.break_bridge": (
        Later(1, 1, "softener.nitrate_check", "Nitrate before anyone at risk drinks from the tap."),
        Later(14, 7, "softener.salt_check", "Probe again: what bridged once may bridge again in damp weather."),
    ),
    "softener.breakthrough_profile": (
        Later(10, 5, "softener.nitrate_check", "Test in the last tenth of the new, shorter run."),
        Later(
            14,
            7,
            "softener.salt_check",
            "More frequent regenerations use more salt: measure it and look at the forecast.",
        ),
    ),
    "softener.clean_injector": (
        Later(30, 15, "softener.salt_check", "See whether the salt now sinks with the regenerations."),
    ),
    "softener.recover_from_run_out": (
        Later(2, 1, "softener.nitrate_check", "Read nitrate in the last tenth of the next run."),
        Later(7, 4, "softener.salt_check", "See that the salt sinks."),
        Later(14, 7, "ultraviolet.clean_sleeve", "Hard water may have left scale on the sleeve: look at it."),
    ),
    "softener.refill_salt": (
        Later(
            7,
            4,
            "softener.salt_check",
            "Look whether the salt sinks with the next regenerations: no change points to a bridge or a blocked injector.",
        ),
    ),
    "softener.replace_anion_resin": (
        Later(2, 1, "softener.nitrate_check", "Nitrate in the first run."),
        Later(7, 4, "softener.breakthrough_profile", "Follow nitrate through one run and set the gallons by it."),
        Later(14, 7, "well.coliform_test", "The tank was open ahead of the UV: coliform test at a treated tap."),
        Later(14, 7, "well.nitrate_test", "Laboratory nitrate, raw and treated."),
    ),
    "softener.replace_resin": (
        Later(2, 1, "softener.hardness_check", "Hardness before and after the next regeneration."),
        Later(7, 4, "softener.breakthrough_profile", "Where there is anion resin: follow nitrate through one run."),
        Later(14, 7, "well.coliform_test", "The tank was open ahead of the UV: coliform test at a treated tap."),
    ),
    "softener.resin_cleaner": (Later(30, 15, "softener.hardness_check", "Compare with the reading before cleaning."),),
    "softener.valve_seals": (
        Later(7, 4, "softener.hardness_check", "Read hardness before and after the next regeneration."),
        Later(14, 7, "well.coliform_test", "The valve was open ahead of the UV: coliform test at a treated tap."),
    ),
    "softener.wash_brine_tank": (
        Later(1, 1, "softener.nitrate_check", "Nitrate next day, since the resin waited for its brine."),
        Later(30, 15, "softener.salt_check", "See that the salt sinks with the regenerations."),
    ),
    "ultraviolet.broken_lamp": (
        Later(1, 1, "ultraviolet.replace_lamp", "New lamp before any water is used."),
        Later(14, 7, "well.coliform_test", "Coliform sample at a tap after the UV."),
    ),
    "ultraviolet.clean_sleeve": (
        Later(14, 7, "well.coliform_test", "Coliform sample at a tap after the UV, 1 to 2 weeks later."),
    ),
    "ultraviolet.replace_ballast": (
        Later(14, 7, "well.coliform_test", "Coliform sample at a tap after the UV, 1 to 2 weeks later."),
    ),
    "ultraviolet.replace_lamp": (
        Later(14, 7, "well.coliform_test", "Coliform sample at a tap after the UV, 1 to 2 weeks later."),
    ),
    "ultraviolet.replace_sensor": (
        Later(14, 7, "well.coliform_test", "Coliform sample at a tap after the UV, 1 to 2 weeks later."),
        Later(7, 4, "ultraviolet.glance", "Look at alarm and reading again."),
    ),
    "ultraviolet.replace_sleeve": (
        Later(14, 7, "well.coliform_test", "Coliform sample at a tap after the UV, two weeks after the sleeve."),
    ),
    "ultraviolet.sanitize_pipes": (
        Later(
            14,
            7,
            "well.coliform_test",
            "Coliform sample raw and treated, 1 to 2 weeks later; bottled water, or boiled where raw nitrate is known to be low, until it is clean.",
        ),
        Later(1, 1, "ultraviolet.glance", "Look at alarm and hours again."),
    ),
    "well.after_absence": (Later(1, 1, "ultraviolet.glance", "Look for leaks, alarm and hours again."),),
    "well.after_flood": (
        Later(10, 5, "well.coliform_test", "Coliform and E. coli, raw and treated, once no chlorine is left."),
        Later(30, 15, "well.coliform_test", "Second coliform test."),
        Later(90, 45, "well.coliform_test", "Third coliform test; a flooded aquifer can stay foul for months."),
        Later(30, 15, "well.nitrate_test", "Laboratory nitrate: floods wash fields into wells."),
    ),
    "well.after_power_cut": (Later(1, 1, "ultraviolet.glance", "Look at lamp, alarm and hours again."),),
    "well.freeze_guard": (
        Later(
            60, 30, "softener.drain_look", "In the hard frost: look whether drain lines run free after a regeneration."
        ),
    ),
    "well.mineral_test": (
        Later(
            21,
            11,
            "softener.hardness_check",
            "Check the softener's hardness setting against the new hardness after the neutralizer.",
        ),
    ),
    "well.replace_pump": (
        Later(
            3,
            2,
            "well.coliform_test",
            "Coliform and E. coli test once chlorine is gone; until then bottled water, or boiled where raw nitrate is known to be low.",
        ),
        Later(7, 4, "sediment_filter.read_drop", "Read the drop over the sediment filter; new pumps stir up dirt."),
        Later(30, 15, "pressure_tank.cycle_check", "Watch a pump cycle and compare it with the day of the work."),
        Later(30, 15, "well.coliform_test", "Second coliform test."),
    ),
    "well.septic_pump_out": (Later(30, 15, "softener.drain_look", "Look at the drain lines that lead there."),),
    "well.shock_chlorination": (
        Later(
            7,
            3,
            "well.coliform_test",
            "Coliform test once chlorine has been gone for at least 48 hours; many advise 1 to 2 weeks. Until then bottled water, or boiled where raw nitrate is known to be low.",
        ),
        Later(30, 15, "well.coliform_test", "Coliform test a month after the shock."),
        Later(
            90,
            45,
            "well.coliform_test",
            "Coliform test three months after the shock; germs twice mean a contractor and the health authority, not one more shock.",
        ),
        Later(
            3,
            2,
            "ultraviolet.clean_sleeve",
            "Look at the sleeve and clean it if it is filmed; never on a day with bleach in the pipes.",
        ),
        Later(
            1,
            1,
            "reverse_osmosis.performance_check",
            "Read the RO unit once it is back, to see that no chlorine reached the membrane.",
        ),
    ),
}
"""Task -> its follow-ups that hang on nothing."""
