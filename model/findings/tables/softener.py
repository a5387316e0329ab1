"""Softener, brine and anion resin. Order of causes and remedies: common practice, no source, unless said."""

from __future__ import annotations

from model.findings.shape import Diagnosis, cause

SALT_STAYS = Diagnosis(
    id="salt_bridge",
    title="Salt does not go: a bridge, or no brine is drawn",
    tasks=("salt_check",),
    causes=(
        cause(
            "bridge", "A crust holds the salt up over a hollow.", "Probe and break it from the edge.", "break_bridge"
        ),
        cause(
            "mush", "Salt mush on the floor clogs the pick-up.", "Scoop it out and wash the tank.", "wash_brine_tank"
        ),
        cause("injector", "Injector or screen is blocked.", "Clean both.", "clean_injector"),
        cause(
            "line",
            "The drain is kinked or the brine line draws air.",
            "Watch one regeneration: the brine level must fall.",
            "watch_regeneration",
        ),
        cause(
            "valve",
            "The valve has not regenerated: its clock, its meter, or a bypass left open.",
            "Read its counter, set its clock, see that its meter turns and where the bypass stands.",
            "watch_regeneration",
        ),
        cause("filled", "Salt was put in and not written down.", "Write the refill down.", "refill_salt"),
    ),
)

SALT_FAST = Diagnosis(
    id="salt_too_fast",
    title="Salt goes faster than the settings say",
    tasks=("watch_regeneration",),
    causes=(
        cause("hardness", "Hardness has risen, so it regenerates more often.", "Test raw water.", "hardness_check"),
        cause(
            "setting",
            "The valve's salt setting is heavier than written down.",
            "Read it on the valve and correct it here.",
        ),
        cause(
            "leak", "Brine leaks to the drain, or too much fill water.", "Watch one regeneration.", "watch_regeneration"
        ),
        cause("guests", "More water was used than the meter readings show.", "Read the meter; write guests down."),
        cause("hollow", "The salt settled, or a bridge broke.", "Level it and measure again.", "salt_check"),
    ),
)

NOT_REGENERATING = Diagnosis(
    id="not_regenerating",
    title="The valve regenerates too seldom",
    tasks=("watch_regeneration",),
    causes=(
        cause("clock", "Its clock lost the time, or its battery is flat.", "Set the clock; regenerate by hand."),
        cause(
            "meter",
            "Its meter is stuck, so it counts no water.",
            "Run a tap and see that the flow shows.",
            "watch_regeneration",
        ),
        cause("bypass", "The bypass is open: no water passes it.", "See where the handle stands."),
        cause("setting", "It is set otherwise than written down.", "Read its settings and correct them here."),
        cause("count", "The counter was reset or read wrongly.", "Read it again."),
    ),
)

HARD_BEFORE = Diagnosis(
    id="hard_before_regeneration",
    title="Hard just before a regeneration",
    tasks=("hardness_check",),
    causes=(
        cause(
            "setting",
            "The resin is asked to treat more than it can hold.",
            "Shorten the gallons between regenerations.",
        ),
        cause(
            "hardness",
            "The water that reaches it has become harder.",
            "Test raw water and ahead of it.",
            "hardness_check",
        ),
        cause("flow", "High flow outruns the resin.", "Test again at a small flow.", "hardness_check"),
        cause("aged", "The resin has lost capacity or is fouled by iron.", "Clean it; test again.", "resin_cleaner"),
    ),
)

HARD_AFTER = Diagnosis(
    id="hard_after_regeneration",
    title="Hard soon after a regeneration",
    tasks=("watch_regeneration",),
    causes=(
        cause("salt", "No salt, or a bridge: the brine was weak.", "Look into the brine tank and probe.", "salt_check"),
        cause("injector", "The injector draws too little brine.", "Clean it and its screen.", "clean_injector"),
        cause(
            "bypass",
            "A bypass stands open, or a seal leaks inside the valve.",
            "See to the handle, then the seals.",
            "valve_seals",
        ),
        cause("fouled", "Iron fouls the resin, or water channels through it.", "Clean the resin.", "resin_cleaner"),
        cause("resin", "The resin is worn out.", "Replace it if cleaning does not help.", "replace_resin"),
    ),
)

HARD_WATER = Diagnosis(
    id="hard_water",
    title="Hard water after the softener",
    tasks=("hardness_check",),
    causes=(
        cause("salt", "No salt, or a bridge over it.", "Look into the brine tank and probe.", "salt_check"),
        cause("bypass", "The bypass stands open.", "See where the handle stands."),
        cause(
            "clock",
            "It did not regenerate: clock, battery or meter.",
            "Read its counter; set its clock.",
            "watch_regeneration",
        ),
        cause(
            "when",
            "Hard only before, or only after, a regeneration: two different faults.",
            "Test in the last tenth of a run, and again after the next regeneration.",
            "hardness_check",
        ),
        cause("hot", "It was taken from the hot tap.", "Test a cold tap that has run.", "hardness_check"),
    ),
)

NITRATE_SOFT = Diagnosis(
    id="nitrate_with_soft_water",
    title="Nitrate comes through though the water is soft",
    tasks=("nitrate_check",),
    causes=(
        cause(
            "spent",
            "The anion resin is spent before the softening resin: soft water proves nothing.",
            "Drink tested bottled water; regenerate now; test again; shorten the gallons between regenerations. "
            "Resin long in use that begins to smell of fish points the same way.",
            "nitrate_check",
        ),
        cause(
            "sulfate",
            "Sulfate has risen and takes the resin's room.",
            "Have sulfate and nitrate tested.",
            "well.mineral_test",
        ),
        cause("peak", "Raw nitrate is at its peak.", "Test raw and treated water on one day.", "nitrate_check"),
        cause("bypass", "A bypass stands part open.", "See where the handles stand."),
        cause("fouled", "Iron or organic matter fouls the anion resin.", "Clean it, then test.", "resin_cleaner"),
        cause(
            "basis",
            "The kit reads as NO3, not as N.",
            "Read the kit's sheet: as NO3 is 4.43 times as N.",
            "nitrate_check",
        ),
    ),
)

NITRATE_NOT_HELD = Diagnosis(
    id="nitrate_not_held",
    title="Nitrate comes through: the resin does not hold it",
    tasks=("nitrate_check",),
    causes=(
        cause(
            "salt",
            "No salt, or a bridge over it: neither resin was renewed.",
            "Drink tested bottled water; look into the brine tank, probe, fill and regenerate; test again.",
            "salt_check",
        ),
        cause(
            "bypass",
            "The bypass stands open: nothing is treated.",
            "See where the handle stands; close it, let the tap run, test again.",
        ),
        cause(
            "spent",
            "The anion resin is spent, or the valve did not regenerate.",
            "Drink tested bottled water; regenerate now; test again; read the valve's counter and clock.",
            "watch_regeneration",
        ),
        cause(
            "lost",
            "Anion resin was washed out over the top: it is the lighter of the two.",
            "Look for beads at the drain; have the depth of the resin measured.",
            "replace_anion_resin",
        ),
        cause(
            "basis",
            "The kit reads as NO3, not as N.",
            "Read the kit's sheet: as NO3 is 4.43 times as N.",
            "nitrate_check",
        ),
    ),
)

NITRATE_OVER_RAW = Diagnosis(
    id="nitrate_over_raw",
    title="More nitrate after treatment than in the raw water",
    tasks=("softener.nitrate_check", "well.nitrate_test"),
    causes=(
        cause(
            "dumping",
            "Resin past its end gives back what it had held.",
            "Do not drink it. Regenerate twice, then test raw and treated water on one day.",
            "softener.nitrate_check",
        ),
        cause(
            "basis",
            "One value is as N, the other as NO3: 4.43 times as much.",
            "Look at both kits' sheets; correct the wrong one.",
        ),
        cause(
            "swapped",
            "The two samples were mixed up.",
            "Take both again and label them at the tap.",
            "softener.nitrate_check",
        ),
        cause(
            "season", "The raw water fell between the two samples.", "Take both on one day.", "softener.nitrate_check"
        ),
        cause(
            "strip",
            "A strip was read late: its colour goes on growing.",
            "Have a laboratory test both.",
            "well.nitrate_test",
        ),
    ),
)

SOFT_NO_SALT = Diagnosis(
    id="soft_without_salt",
    title="Soft water though the salt has long been out",
    tasks=("salt_check",),
    causes=(
        cause("filled", "Salt was put in and not written down.", "Look; write the refill down.", "refill_salt"),
        cause(
            "kit",
            "The kit is too old or was read wrongly.",
            "Test raw water with it: it must show hardness.",
            "hardness_check",
        ),
        cause("place", "It was another tap: after the RO, or bottled.", "Test the cold kitchen tap.", "hardness_check"),
        cause("depth", "The salt depth was entered wrongly.", "Measure it again.", "salt_check"),
    ),
)
