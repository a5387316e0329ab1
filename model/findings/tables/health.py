"""Germs and metals where people drink. Order of causes and remedies: common practice, no source, unless said."""

from __future__ import annotations

from model.findings.shape import Diagnosis, cause

GERMS_AFTER_UV = Diagnosis(
    id="germs_after_uv",
    title="Coliform bacteria after the UV unit",
    tasks=("well.coliform_test",),
    causes=(
        cause(
            "pipes",
            "The pipes after the lamp were never disinfected: it cleans only what passes it.",
            "Have raw and treated water sampled on one day; disinfect the pipes; sample again.",
            "sanitize_pipes",
        ),
        cause(
            "bypass",
            "Water went round the unit, or through it while it was dark.",
            "See where its handle stands and look for power cuts; then disinfect the pipes.",
            "sanitize_pipes",
        ),
        cause("sleeve", "A dirty sleeve or an old lamp gives too little light.", "Clean the sleeve.", "clean_sleeve"),
        cause(
            "sampling",
            "The sample was touched by a finger, an aerator or a dirty tap.",
            "Take the aerator off, follow the laboratory's sheet, sample again.",
            "well.coliform_test",
        ),
        cause(
            "dead_end",
            "A dead end of pipe, a heater or a tank after the lamp keeps them alive.",
            "Flush every branch; ask a plumber to cut dead ends off.",
            "sanitize_pipes",
        ),
        cause(
            "particles",
            "Particles in the water shade them from the light.",
            "Change the cartridge; have turbidity tested.",
            "sediment_filter.replace_cartridge",
        ),
    ),
)

GERMS_AT_RO = Diagnosis(
    id="germs_at_ro",
    title="Coliform bacteria at the RO tap",
    tasks=("sanitize",),
    causes=(
        cause(
            "growth",
            "They grow in the carbon, the reservoir or the spout; slime or a stale taste goes with it.",
            "Disinfect the unit and change its filters; then have the tap tested again.",
            "sanitize",
        ),
        cause(
            "fed",
            "The water that feeds it carries them: the unit needs water free of coliform.",
            "Have the tap before it tested on the same day, and see to that first.",
            "well.coliform_test",
        ),
        cause("postfilter", "The postfilter is old.", "Change it while the unit is disinfected.", "replace_postfilter"),
        cause("sampling", "The spout was dirty when the sample was taken.", "Sample again.", "well.coliform_test"),
    ),
)

METAL_AT_TAP = Diagnosis(
    id="metal_at_tap",
    title="Lead or copper from the pipes",
    tasks=("well.lead_copper_test",),
    causes=(
        cause(
            "acid",
            "The water is acid and takes metal out of pipes and solder; blue-green stains go with copper.",
            "Read pH at the tap and after the neutralizer.",
            "neutralizer.ph_check",
        ),
        cause(
            "stripped",
            "Soon after a regeneration the resin also holds back alkalinity, and the pH sinks for a while.",
            "Read pH and alkalinity soon after a regeneration and again late in the run.",
            "softener.hardness_check",
        ),
        cause(
            "stood",
            "The sample had stood in the pipes for hours.",
            "Have a first draw and a flushed sample tested; run the cold tap before drinking.",
            "well.lead_copper_test",
        ),
        cause(
            "fitting",
            "A brass tap, old solder or a lead pipe gives it off.",
            "Have each drinking tap tested; a plumber replaces what gives it off.",
            "well.lead_copper_test",
        ),
    ),
)
