"""Reverse osmosis. Order of causes and remedies: common practice, no source, unless said."""

from __future__ import annotations

from model.findings.shape import Diagnosis, cause

COLD_WATER = Diagnosis(
    id="cold_water",
    title="Slow RO: the water is cold, the membrane is sound",
    tasks=("performance_check",),
    causes=(
        cause("cold", "Cold water passes a membrane more slowly.", "Nothing to do; read it again in warmer water."),
        cause(
            "pressure", "The pressure before it is lower than it was.", "Read the feed pressure.", "performance_check"
        ),
    ),
)

WORN_MEMBRANE = Diagnosis(
    id="worn_membrane",
    title="The membrane makes less or holds back less, cold taken out",
    tasks=("performance_check",),
    causes=(
        cause("prefilter", "The prefilters are clogged.", "Change them and read again.", "replace_prefilters"),
        cause(
            "pressure",
            "Pressure is low, or the reservoir has too much air.",
            "Read the feed pressure; check the air.",
            "reservoir_air",
        ),
        cause(
            "reservoir",
            "The reservoir lost its air or its bladder is torn: it gives a cupful and stops.",
            "Empty it, then set its air to 5 to 10 psi (0.35 to 0.7 bar), or as its manual says.",
            "reservoir_air",
        ),
        cause(
            "fouled",
            "The membrane is scaled, fouled or worn out.",
            "Change it if the flow stays low.",
            "replace_membrane",
        ),
        cause(
            "o_ring",
            "An O-ring is torn or seated badly: much water, many solids.",
            "Reseat it and read again.",
            "performance_check",
        ),
        cause(
            "chlorine",
            "Chlorine has damaged the membrane.",
            "Find where it came from; change the membrane.",
            "replace_membrane",
        ),
    ),
)

MEMBRANE_NITRATE = Diagnosis(
    id="membrane_nitrate",
    title="The membrane lets nitrate through though its solids look good",
    tasks=("nitrate_check",),
    causes=(
        cause(
            "failing",
            "The membrane begins to fail: nitrate shows it before the solids do.",
            "Have both sides tested; change it early.",
            "replace_membrane",
        ),
        cause(
            "spike", "Nitrate before it has risen.", "Test the water that feeds it on the same day.", "nitrate_check"
        ),
        cause(
            "basis",
            "The kit reads as NO3, not as N.",
            "Read the kit's sheet: as NO3 is 4.43 times as N.",
            "nitrate_check",
        ),
        cause("first", "It was the first cup after standing.", "Run it some minutes, then test.", "nitrate_check"),
    ),
)

SOLIDS_REVERSED = Diagnosis(
    id="solids_reversed",
    title="More dissolved solids after the membrane than before",
    tasks=("performance_check",),
    causes=(
        cause(
            "swapped",
            "The two readings were swapped.",
            "Read both again; take back the wrong ones.",
            "performance_check",
        ),
        cause("meter", "The meter is off or was not rinsed.", "Check it in a known water.", "performance_check"),
        cause("torn", "The membrane or its O-ring is torn.", "Reseat it, then change it.", "replace_membrane"),
        cause("post", "A remineralizing postfilter adds solids.", "Read ahead of the postfilter.", "performance_check"),
    ),
)
