"""The neutralizer's bed and the water that leaves it. Common practice, no source, unless said."""

from __future__ import annotations

from model.findings.shape import Diagnosis, cause

FALLING_PH = Diagnosis(
    id="falling_pH",
    title="pH after the neutralizer sinks",
    tasks=("bed_check",),
    causes=(
        cause(
            "spent",
            "The bed gets low; the hardness it adds falls with the pH.",
            "Measure its depth and read hardness before and after it; top up.",
            "bed_check",
        ),
        cause("coated", "Iron or dirt coats the grains.", "Backwash; have raw iron tested.", "backwash"),
        cause("channel", "Water has cut a channel.", "Backwash by hand and read pH again.", "backwash"),
        cause("flow", "More runs at once than the bed can treat.", "Read pH at a lower flow.", "ph_check"),
        cause("bypass", "The blend valve or bypass has crept open.", "See where the handle is.", "set_blend"),
    ),
)

BED_DROP = Diagnosis(
    id="bed_drop",
    title="The neutralizer takes too much pressure",
    tasks=("backwash",),
    causes=(
        cause("fines", "Fine media or sediment fill the bed.", "Backwash now, then read both gauges.", "backwash"),
        cause("iron", "Iron coats the bed.", "Backwash; have raw iron tested.", "well.mineral_test"),
        cause(
            "packed",
            "The bed has packed or set hard.",
            "Probe it with the tank out of service and without pressure; what is caked has to be dug out.",
            "rebed",
        ),
        cause("flow", "It was read at more flow than usual.", "Read both gauges again, one tap fully open."),
    ),
)

LITTLE_FREEBOARD = Diagnosis(
    id="little_freeboard",
    title="Too little room above the neutralizer's bed",
    tasks=("watch_backwash",),
    causes=(
        cause(
            "overfilled",
            "Too much was put in: a backwash carries media to the drain, and never runs clear.",
            "Watch a backwash with a cloth at the drain; take media out down to the full depth.",
            "watch_backwash",
        ),
        cause("flow", "The backwash is too fast for this bed.", "Have the drain's flow control looked at.", "backwash"),
        cause("full", "The full depth written down here is too low.", "Read the manual; correct it in House."),
        cause("tape", "The tape met a slope of the bed.", "Measure at the same spot again.", "bed_check"),
    ),
)

HARDNESS_RISE = Diagnosis(
    id="hardness_rise",
    title="The neutralizer adds much hardness",
    tasks=("softener.hardness_check", "ph_check"),
    causes=(
        cause(
            "acid",
            "The raw water holds more carbon dioxide than before, so more media dissolve.",
            "Read raw pH and alkalinity; set the softener to the hardness it now meets, and look at the salt's date.",
            "ph_check",
        ),
        cause(
            "magnesia",
            "Magnesia or fresh media dissolve faster than calcite.",
            "Top up with calcite alone next time; read hardness again in a month.",
            "top_up",
        ),
        cause("raw", "The raw water has become harder.", "Test raw water on the same day.", "softener.hardness_check"),
        cause("stood", "It had stood in the tank.", "Run the tap some minutes, then read.", "ph_check"),
    ),
)

CLOUDY = Diagnosis(
    id="cloudy_after_top_up",
    title="Cloudy water after media were put in",
    tasks=("backwash",),
    causes=(
        cause("fines", "Fines of the new media come out.", "Backwash and flush to waste until clear.", "backwash"),
        cause("upset", "Dirt in the bed was stirred up.", "Backwash again; change the cartridge.", "backwash"),
        cause(
            "well",
            "The well itself runs cloudy.",
            "Look at a glass from before the train.",
            "sediment_filter.read_drop",
        ),
    ),
)

PH_STANDING = Diagnosis(
    id="pH_rises_standing",
    title="pH rises in water that stands",
    tasks=("ph_check",),
    causes=(
        cause(
            "gas",
            "Carbon dioxide leaves an open glass: this is normal, and can hide a bed that is used up.",
            "Read pH at once in a full glass from a running tap, not shaken.",
            "ph_check",
        ),
        cause("bed", "Media go on dissolving into water in the tank.", "Run the tap, then read.", "ph_check"),
        cause("meter", "The meter or strip drifts.", "Calibrate it and read both again.", "ph_check"),
    ),
)
