"""Pressure tank and sediment filter. Order of causes and remedies: common practice, no source, unless said."""

from __future__ import annotations

from model.findings.shape import Diagnosis, cause

SHORT_CYCLING = Diagnosis(
    id="short_cycling",
    title="The pump runs too briefly",
    tasks=("precharge",),
    causes=(
        cause("air", "The tank has lost its air charge.", "Check and set it, power off, tank empty.", "precharge"),
        cause(
            "bladder",
            "The diaphragm is torn: water comes out of the air valve, or the charge is gone again within a month.",
            "Press the air valve for an instant; if water comes, the tank is done.",
            "replace_tank",
        ),
        cause("nipple", "The small pipe to the switch is clogged.", "Have it cleaned, power off.", "switch_look"),
        cause("switch", "Cut-in and cut-out stand too close.", "Read both on the gauge in one cycle.", "cycle_check"),
    ),
)

DRAWDOWN_LOSS = Diagnosis(
    id="drawdown_loss",
    title="The pressure tank holds less water than it should",
    tasks=("precharge",),
    causes=(
        cause(
            "air", "Air is lost slowly, as in every tank.", "Top the charge up; check again in 30 days.", "precharge"
        ),
        cause(
            "bladder",
            "The diaphragm leaks: the charge falls again within weeks.",
            "Watch a cycle 30 days after topping up; a quick loss means a new tank.",
            "replace_tank",
        ),
        cause("switch", "Cut-in or cut-out has moved.", "Read both in the same cycle as the draw-down.", "cycle_check"),
        cause("high", "The charge stands above cut-in.", "Set it a little below cut-in.", "precharge"),
    ),
)

PRECHARGE_HIGH = Diagnosis(
    id="precharge_over_cut_in",
    title="Air charge above the cut-in pressure",
    tasks=("precharge",),
    causes=(
        cause("set", "The charge was set too high.", "Let air out to 2 psi (0.14 bar) below cut-in.", "precharge"),
        cause("switch", "The switch now cuts in lower than it did.", "Read cut-in on the gauge.", "cycle_check"),
        cause(
            "full", "It was read with water still in the tank.", "Drain the tank, power off, then read.", "precharge"
        ),
        cause("gauge", "The gauge is off.", "Compare it with a second gauge.", "switch_look"),
    ),
)

LOADED_FILTER = Diagnosis(
    id="loaded_filter",
    title="The sediment filter is loaded",
    tasks=("replace_cartridge",),
    causes=(
        cause("full", "The cartridge has done its work.", "Change it.", "replace_cartridge"),
        cause(
            "storm",
            "The well brought more sediment than usual: a storm, a pump set low, a failing screen.",
            "Look at what the old cartridge holds; grit or sand is for the well contractor.",
            "well.wellhead_walk",
        ),
        cause("flow", "The drop was read at more flow than usual.", "Read it again, one tap fully open.", "read_drop"),
        cause("valve", "A valve beside the filter stands half closed.", "See that both are fully open.", "read_drop"),
    ),
)
