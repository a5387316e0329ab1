"""Well, pump and pressure ahead of the train. Common practice, no source, unless said."""

from __future__ import annotations

from model.findings.shape import Diagnosis, cause

LONG_RUN = Diagnosis(
    id="long_run",
    title="The pump hardly stops",
    tasks=("switch_look",),
    causes=(
        cause(
            "leak",
            "Water runs away: a leak, an open tap, or a valve stuck in its backwash.",
            "Listen at the drain lines; shut the stages' valves one by one.",
            "softener.drain_look",
        ),
        cause("pump", "The pump is worn or its intake clogged.", "Have it tested.", "well.inspection"),
        cause("cut_out", "Cut-out is set higher than this pump can reach.", "Read it in one cycle.", "cycle_check"),
        cause(
            "contacts",
            "The switch's contacts stick, or the small pipe to it is clogged.",
            "Turn the pump's breaker off; a licensed contractor works on the switch.",
            "switch_look",
        ),
    ),
)

LOW_SUPPLY = Diagnosis(
    id="low_supply",
    title="Low pressure ahead of the first filter",
    tasks=("cycle_check",),
    causes=(
        cause("switch", "The switch starts the pump too late.", "Read cut-in and cut-out in one cycle.", "cycle_check"),
        cause(
            "draw",
            "More is drawn at once than the pump gives: irrigation, a backwash at a busy hour, the RO filling.",
            "Read the gauge before and after the busy hours, at the same point of the pump's cycle.",
            "cycle_check",
        ),
        cause(
            "level",
            "The water in the well has sunk.",
            "Have the level at rest measured and written down.",
            "well.inspection",
        ),
        cause(
            "pump",
            "The pump is worn: it no longer reaches cut-out.",
            "A pump contractor measures its flow, pressure and current.",
            "well.inspection",
        ),
        cause("nipple", "The small pipe to the switch is clogged.", "Have it cleaned, power off.", "switch_look"),
    ),
)

FALLING_LEVEL = Diagnosis(
    id="falling_level",
    title="The well stands lower, or gives less, than it did",
    tasks=("inspection",),
    causes=(
        cause(
            "dry",
            "A dry season, or neighbours who pump more.",
            "Spread the drawing over the day; measure again in a month, pump at rest for hours.",
        ),
        cause(
            "recovery",
            "It was measured too soon after pumping.",
            "Let the pump rest for some hours, then measure again.",
        ),
        cause(
            "screen",
            "Screen or fractures are clogging, or the screen fails: grit in the cartridge goes with it.",
            "Look at what the cartridge holds; a well contractor tests the yield.",
            "inspection",
        ),
        cause(
            "air",
            "The pump draws air: taps spurt, milky water clears from below.",
            "Stop drawing, pump off at its breaker, and call the contractor: running dry ruins it.",
            "inspection",
        ),
    ),
)
