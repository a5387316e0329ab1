"""The house as a whole, and readings that contradict each other. Common practice, no source, unless said."""

from __future__ import annotations

from model.findings.shape import Diagnosis, cause

NIGHT_LEAK = Diagnosis(
    id="night_leak",
    title="Water runs all night",
    causes=(
        cause("toilet", "A toilet runs.", "Put dye in each cistern and wait 15 minutes without flushing."),
        cause(
            "drain",
            "A valve leaks to the drain.",
            "Listen at the drain lines; watch one regeneration.",
            "softener.watch_regeneration",
        ),
        cause(
            "ro",
            "The RO runs to the drain without end.",
            "Close its tank valve; its drain must stop.",
            "reverse_osmosis.leak_look",
        ),
        cause("tap", "A tap, hose or pipe leaks.", "Close the stages' valves one by one and watch the meter."),
        cause(
            "habit",
            "Somebody draws water at night, or a valve regenerates.",
            "Look at the hours in the meter's record.",
        ),
    ),
)

UNIT_MIXUP = Diagnosis(
    id="unit_mixup",
    title="A reading that fits another unit",
    causes=(
        cause(
            "unit",
            "It was typed in another unit or basis than it was read in.",
            "Look at the kit or gauge; take the reading back and enter it again with its unit.",
        ),
        cause("real", "It is right, and something has changed.", "Read it again, from a second sample."),
    ),
)

ODD_PH = Diagnosis(
    id="odd_pH",
    title="A pH that well water seldom has",
    tasks=("neutralizer.ph_check",),
    causes=(
        cause(
            "meter",
            "The meter is not calibrated, or the strip is old.",
            "Calibrate at pH 4, 7 and 10; read again.",
            "neutralizer.ph_check",
        ),
        cause("typed", "A digit or the point is wrong.", "Take it back and enter it again."),
        cause(
            "media", "Magnesia or fresh media in standing water.", "Run the water, then read.", "neutralizer.ph_check"
        ),
    ),
)

METER_STILL = Diagnosis(
    id="meter_still",
    title="The water meter stands still",
    tasks=("well.replace_meter",),
    causes=(
        cause(
            "turbine",
            "Its turbine is fouled, or its register is stuck.",
            "Open a tap and watch it; have it cleaned or changed.",
            "well.replace_meter",
        ),
        cause("round", "Water goes round it through a bypass.", "See where the handles beside it stand."),
        cause("away", "Nobody was at home.", "Write the absence down."),
        cause("typed", "An old figure was typed again.", "Read it once more; take the wrong one back."),
    ),
)
