"""The acid neutralizer. Order of causes and remedies: common practice, no source, unless said."""

from __future__ import annotations

from model.findings.shape import Diagnosis, cause

STILL_ACID = Diagnosis(
    id="still_acid",
    title="Water still acid after the neutralizer",
    tasks=("bed_check",),
    causes=(
        cause("spent", "The bed is exhausted: too little media is left.", "Measure its depth and top up.", "top_up"),
        cause(
            "channel",
            "Water has cut a channel through the bed or the media are caked.",
            "Backwash by hand, then read pH again; probe for hard lumps.",
            "backwash",
        ),
        cause("bypass", "The blend valve or bypass stands open.", "See where the handle is.", "set_blend"),
        cause("coated", "Iron or dirt coats the grains.", "Backwash; test raw iron; rebed if it stays.", "rebed"),
        cause("flow", "More water runs at once than the bed can treat.", "Read pH at a lower flow.", "ph_check"),
        cause("kit", "The meter or kit is off in water this soft.", "Calibrate it and read again.", "ph_check"),
    ),
)

BED_STAYS = Diagnosis(
    id="bed_stays",
    title="Too little of the bed dissolves",
    tasks=("ph_check",),
    causes=(
        cause("channel", "Water runs through a channel in the bed.", "Backwash by hand and read pH again.", "backwash"),
        cause("bypass", "Water goes round the bed.", "See where bypass and blend handle stand.", "set_blend"),
        cause("milder", "The raw water is less acid than reckoned.", "Read raw pH and alkalinity.", "ph_check"),
        cause("filled", "Media were put in and not written down.", "Write the top-up down.", "top_up"),
        cause("tape", "The tape met a slope of the bed.", "Measure at the same spot again.", "bed_check"),
    ),
)

BED_LOST = Diagnosis(
    id="bed_lost",
    title="The bed falls faster than its pH explains",
    tasks=("bed_check",),
    causes=(
        cause("backwash", "Media are lost in the backwash.", "Catch some backwash in a bucket and look.", "backwash"),
        cause("use", "More water passes than reckoned.", "Read the water meter.", "bed_check"),
        cause("acid", "The raw water has become more acid.", "Read raw pH and alkalinity.", "ph_check"),
        cause("packed", "The bed has settled and packed.", "Backwash, then measure again.", "bed_check"),
    ),
)

OVER_STANDING = Diagnosis(
    id="over_corrected_standing",
    title="Water that stood is over-corrected",
    tasks=("ph_check",),
    causes=(
        cause(
            "magnesia",
            "Magnesia goes on dissolving into water that stands in the tank.",
            "Run the tap a few minutes before use; no aquarium from it; less magnesia at the next top-up.",
            "top_up",
        ),
        cause("fresh", "Fresh media after a top-up.", "Flush to waste and read again in a week.", "ph_check"),
        cause("meter", "The meter or strip drifts.", "Calibrate it at pH 7 and 10, and read again.", "ph_check"),
    ),
)

OVER_FLOWING = Diagnosis(
    id="over_corrected",
    title="Water over-corrected while it flows",
    tasks=("ph_check",),
    causes=(
        cause("meter", "The meter or strip is off.", "Calibrate it at pH 7 and 10, and read again.", "ph_check"),
        cause("magnesia", "Too much magnesia in the media.", "Top up with calcite alone next time.", "top_up"),
        cause("slow", "Far less flows than the tank was made for.", "Open the blend valve a little.", "set_blend"),
        cause("stood", "It was read before the tap had run.", "Run it some minutes, then read.", "ph_check"),
    ),
)
