"""Brine, resin tank and what they leave in the water. Common practice, no source, unless said."""

from __future__ import annotations

from model.findings.shape import Diagnosis, cause

BRINE_OVER_FULL = Diagnosis(
    id="brine_over_full",
    title="The brine tank holds too much water",
    tasks=("watch_regeneration",),
    causes=(
        cause(
            "fill",
            "The fill valve leaks and never quite shuts.",
            "Watch the level between two fillings.",
            "valve_seals",
        ),
        cause(
            "draw",
            "Brine is filled in but not drawn: injector, drain or an air leak.",
            "Watch one regeneration: the level must fall. Clean the injector.",
            "clean_injector",
        ),
        cause("float", "The float sticks.", "Lift it by hand and see that it moves; wash the tank.", "wash_brine_tank"),
        cause(
            "usual",
            "It is usual here: a valve that fills last leaves much water, one that fills first next to none.",
            "Read the manual; write the usual depth of water down in House.",
        ),
    ),
)

SLOW_BRINE_DRAW = Diagnosis(
    id="slow_brine_draw",
    title="Brine is drawn more slowly than it was",
    tasks=("clean_injector",),
    causes=(
        cause("injector", "Injector or screen is clogged.", "Clean both; time the next draw.", "clean_injector"),
        cause("line", "The brine line draws air or is kinked.", "Look it over while it draws.", "watch_regeneration"),
        cause("drain", "The drain line is kinked or clogged.", "Look at its end while it runs.", "drain_look"),
        cause(
            "pressure",
            "Pressure is low: a full prefilter, or the pump.",
            "Read the gauges.",
            "sediment_filter.read_drop",
        ),
        cause("more", "There was more water in the tank than usual.", "Measure the level first.", "salt_check"),
    ),
)

SALTY_WATER = Diagnosis(
    id="salty_water",
    title="More salt in the water than softening explains",
    tasks=("watch_regeneration",),
    causes=(
        cause(
            "hardness",
            "Hardness before it has risen: each grain a gallon taken out leaves about 7.9 mg/L of sodium.",
            "Read hardness before it; correct the valve's setting.",
            "hardness_check",
        ),
        cause(
            "rinse",
            "The last regeneration was cut short or rinsed too little: a power cut, low flow or low pressure.",
            "Run one whole regeneration and watch its rinse; taste again a day later.",
            "watch_regeneration",
        ),
        cause(
            "brine",
            "Too much brine: a heavy setting, or a brine tank too full.",
            "Measure the water in the brine tank; read the salt setting.",
            "salt_check",
        ),
        cause("raw", "The raw water has more of it: road salt, the sea.", "Test raw water too.", "well.mineral_test"),
        cause("when", "It was taken during or soon after a regeneration.", "Sample again in the middle of a run."),
    ),
)

IRON_ON_RESIN = Diagnosis(
    id="iron_on_resin",
    title="Iron that fouls the resin",
    tasks=("well.mineral_test", "resin_cleaner"),
    causes=(
        cause(
            "raw",
            "The well brings iron; rusty flakes, a smell of rust or brown brine go with it.",
            "Have raw iron and manganese tested; ask which iron the resin's maker allows.",
            "well.mineral_test",
        ),
        cause(
            "resin",
            "The resin is coated and lets iron through.",
            "Use the cleaner made for it, by its sheet and nothing mixed into it.",
            "resin_cleaner",
        ),
        cause("pipe", "Rust of an old pipe or tank before it.", "Test at the well and before the softener on one day."),
        cause(
            "setting", "The valve's setting leaves no room for iron.", "Raise its hardness setting as the manual says."
        ),
    ),
)

RESIN_DROP = Diagnosis(
    id="resin_drop",
    title="The resin tank takes too much pressure",
    tasks=("watch_regeneration",),
    causes=(
        cause("fines", "Sediment or iron clogs the resin.", "Regenerate by hand; read both gauges.", "resin_cleaner"),
        cause(
            "screen",
            "A screen or the distributor is broken or clogged; tiny beads at the taps go with it.",
            "Where beads show, put it on bypass, shut the RO off, and have it serviced.",
            "replace_resin",
        ),
        cause("bypass", "The bypass stands half closed.", "See where the handle stands."),
        cause("flow", "It was read at more flow than usual.", "Read both gauges again, one tap fully open."),
    ),
)
