"""What each setting is called, in which unit it is kept, and which values make sense.

One row a field, for the forms. The fields are those of the house, the supplies and all kinds of stage.
"""

from __future__ import annotations

import msgspec


class Label(msgspec.Struct, frozen=True):
    """One field for people.

    `label` is its name. `dimension` is a key of `model.units.UNITS`, "" for a plain number or a word. `low` and `high`
    bound the value as it is kept. The kept value times `inside` is in the unit that the dimension uses inside (metres
    of depth times 100 are cm, a share times 100 is a percent). `us` and `metric` are the units to show it in where
    the usual ones of the dimension do not suit. `above`: `low` itself is not allowed. `tells` says more in a few words.
    """

    label: str
    dimension: str = ""
    low: float = 0.0
    high: float = 1e6
    inside: float = 1.0
    us: str = ""
    metric: str = ""
    above: bool = False
    tells: str = ""


def _share(label: str, low: float = 0.0, high: float = 1.0, tells: str = "", *, above: bool = False) -> Label:
    return Label(label, "percent", low, high, inside=100.0, above=above, tells=tells)


def _size(label: str, dimension: str, high: float, tells: str = "") -> Label:
    return Label(label, dimension, 0.0, high, above=True, tells=tells)


def _metres(label: str, low: float, high: float, tells: str = "", *, above: bool = False) -> Label:
    return Label(label, "length", low, high, inside=100.0, us="ft", metric="m", above=above, tells=tells)


# The bounds only catch slips of the keyboard: owner's default, common practice, no source.
HOUSE_LABELS: dict[str, Label] = {
    "name": Label("Name of this home"),
    "people": Label("People in the house", high=30.0),
    "units": Label("Units"),
    "currency": Label("Currency", tells="three letters, like USD"),
    "elevation_m": _metres("Height above the sea", -430.0, 5500.0, "thin air changes the tank's pressure sums"),
    "hose": Label("Hose before the train"),
    "meter_reads": Label("The water meter sees"),
    "meter_rolls_over_at_l": _size("Meter starts again at", "volume", 1e10),
    "peak_l_per_min": _size("Peak flow", "flow", 1000.0, "empty: worked out from people and pump"),
    "risk_health": _share("Risk taken, health", 0.0001, 0.5, "chance of running out before the day to act"),
    "risk_other": _share("Risk taken, the rest", 0.0001, 0.5, "chance of running out before the day to act"),
    "fish": Label("Fish live here", tells="says what a fault means for them"),
    "infant": Label("An infant lives here", tells="said first of all on Week"),
    "plan_nitrate": Label("Plan on raw nitrate", tells="it comes and goes with the season"),
}
"""Fields of the house."""

SUPPLY_LABELS: dict[str, Label] = {
    "title": Label("Name"),
    "unit": Label("Counted in"),
    "pack": Label("One pack holds", high=1e5, above=True),
    "price": Label("Price of a pack", high=1e6),
    "price_is_default": Label("Price is a default"),
    "on_shelf": Label("On the shelf at first", high=1e6),
    "lead_days": Label("Days from order to shelf", high=730.0),
}
"""Fields of a supply. Amounts are in the supply's own unit."""

STAGE_LABELS: dict[str, Label] = {
    "title": Label("Name", tells="empty: the name of its kind"),
    "installed_on": Label("Put in on"),
    # Well
    "depth_m": _metres("Depth of the well", 0.0, 1000.0, above=True),
    "casing_diameter_cm": _size("Casing, inside width", "length", 200.0),
    "pump_l_per_min": _size("Pump delivers", "flow", 1000.0),
    "farmed_land": Label("Fields or animals near", tells="nitrate and coliform twice a year"),
    # Pressure tank
    "volume_l": _size("Tank size", "volume", 5000.0),
    "cut_in_bar": _size("Pump starts at", "pressure", 10.0),
    "cut_out_bar": _size("Pump stops at", "pressure", 10.0),
    "precharge_bar": _size("Air charge, empty tank", "pressure", 10.0),
    # Sediment filter
    "micron": Label("Cartridge, micron", high=500.0, above=True),
    "size": Label("Cartridge size", tells="as printed on it"),
    "rated_l": _size("A cartridge lasts", "volume", 1e7),
    "clean_drop_bar": _size("Drop when clean", "pressure", 5.0),
    "change_drop_bar": _size("Change at a drop of", "pressure", 5.0),
    "drop_flow_l_per_min": _size("Drops read at a flow of", "flow", 1000.0, "empty: one tap fully open"),
    "drop_exponent": Label("Drop steepens by", low=1.0, high=6.0, tells="1 for a straight line"),
    "cap_months": Label("Change after months", low=1.0, high=60.0),
    # Neutralizer
    "tank_diameter_cm": _size("Tank width", "length", 200.0),
    "full_bed_cm": _size("Bed depth when full", "length", 300.0),
    "minimum_bed_cm": _size("Top up at a depth of", "length", 300.0),
    "magnesia_share": _share("Magnesia in the media", tells="by mass"),
    "bypass_share": _share("Bypass, blend valve", 0.0, 0.99, "water that goes round the bed"),
    "approach_share": _share("Reach to saturation", above=True, tells="empty: worked out from bed and flow"),
    "grain_mm": Label("Grain size, mm", low=0.1, high=20.0, tells="calcite about 1"),
    "bed_porosity": _share("Space between grains", 0.2, 0.7),
    "flow_l_min": _size("A usual draw", "flow", 200.0),
    "floor_pH": Label("Least pH after the tank", high=8.5, tells="0 for no floor"),
    "calcite_kg_per_l": Label("Calcite, kg per litre", high=3.0, above=True),
    "magnesia_kg_per_l": Label("Magnesia, kg per litre", high=4.0, above=True),
    "backwash_loss_share": _share("Media lost in backwash", 0.0, 0.9),
    "backwash_l": _size("Water per backwash", "volume", 5000.0),
    "backwash_every_days": Label("Backwashes every, days", high=365.0, above=True),
    # Softener
    "cation_resin_l": Label("Softening resin", "volume", 0.0, 500.0, us="ft3", above=True),
    "anion_resin_l": Label("Anion resin", "volume", 0.0, 500.0, us="ft3"),
    "anion_type": Label("Kind of anion resin"),
    "control": Label("Regenerates by"),
    "salt_dose_kg": _size("Salt per regeneration", "mass", 50.0),
    "regenerate_every_l": _size("Regenerates every", "volume", 1e6, "empty: worked out from the hardness"),
    "regenerate_every_days": Label("Regenerates every, days", high=90.0, above=True, tells="timer, or day override"),
    "reserve_share": _share("Capacity kept in reserve", 0.0, 0.9),
    "nitrate_action_mg_l_n": Label("Nitrate that counts as through", "", 0.1, 50.0, tells="mg/L as N"),
    "profile_l": _size("Own breakthrough profile", "volume", 1e6, "litres until nitrate first passed; empty: reckoned"),
    "draw_l_per_min": _size("Usual flow drawn", "flow", 200.0, "the faster, the earlier nitrate shows"),
    "anion_usable_share": _share("Anion capacity in use", above=True, tells="of the resin's total"),
    "iron_factor": Label("Iron counts as, times", high=10.0),
    "brine_tank_diameter_cm": _size("Brine tank width", "length", 200.0),
    "brine_tank_height_cm": _size("Brine tank height", "length", 250.0),
    "salt_full_cm": _size("Salt depth when full", "length", 250.0, "from the floor of the tank"),
    "salt_low_cm": _size("Refill at a depth of", "length", 250.0, "from the floor of the tank"),
    "water_depth_cm": Label("Water in the brine tank", "length", 0.0, 250.0, tells="depth from the floor"),
    "salt_kg_per_l": Label("Salt, kg per litre", high=2.2, above=True),
    "regeneration_water_l": _size("Water per regeneration", "volume", 5000.0),
    "nitrate_leak_share": _share("Nitrate past fresh resin", tells="until it is measured"),
    "regenerant": Label("Brine tank holds"),
    "brine_fill_l": _size("Fill water for the brine", "volume", 200.0, "for one regeneration"),
    "regenerates_at_hour": Label("Regenerates at, hour", high=23.0, tells="0 to 23; empty: twin tank, always treats"),
    "capacity_loss_per_year": _share("Capacity lost in a year", 0.0, 0.5),
    # Ultraviolet
    "unit_class": Label("Class on the plate"),
    "rated_dose_mj_cm2": Label("Rated dose, mJ/cm²", high=1000.0, above=True),
    "rated_l_per_min": _size("Rated flow", "flow", 1000.0),
    "lamp_life_h": _size("Lamp lasts", "lit_time", 50_000.0, "lit hours"),
    "lit_hours_per_day": Label("Lit hours a day", high=24.0, above=True),
    "sleeve_clean_months": Label("Clean sleeve, months", low=1.0, high=60.0),
    "rating_lamp": Label("Rated dose is that of"),
    "lamp_end_output_share": _share("Light left at its end", 0.1, above=True),
    "rated_uvt_percent": Label("Rated transmittance", "percent", 1.0, 100.0, tells="of the water, over 1 cm"),
    "sleeve_loss_share_per_month": _share("Sleeve loses a month", 0.0, 0.5, "in water at the feed limits"),
    # Reverse osmosis
    "rated_l_per_day": _size("Rated output", "daily_flow", 10_000.0),
    "rated_bar": _size("Rated at a pressure of", "pressure", 30.0),
    "recovery": _share("Recovery", 0.0, 0.95, "product over feed", above=True),
    "rejection": _share("Solids kept back", 0.0, 0.999, above=True),
    "nitrate_rejection": _share("Nitrate kept back", 0.0, 0.999),
    "replace_below_rejection": _share("Change membrane below", 0.0, 0.999, above=True),
    "prefilter_l": _size("Prefilters last", "volume", 1e6, "litres of feed"),
    "prefilter_months": Label("Prefilters, months", low=1.0, high=60.0),
    "membrane_months": Label("Membrane, months", low=1.0, high=240.0),
    "reservoir_l": _size("Reservoir", "volume", 500.0),
    "feed_bar": _size("Pressure before it", "pressure", 20.0, "empty: that of the pressure tank"),
    "reservoir_precharge_bar": Label("Reservoir air charge", "pressure", 0.0, 5.0, tells="emptied of water"),
    # Part
    "life_days": Label("Lasts, days", high=36_500.0, above=True),
    "life_l": _size("Lasts for", "volume", 1e9),
    "life_hours": _size("Lasts, running hours", "lit_time", 1e6),
    "hours_per_day": Label("Runs, hours a day", high=24.0, above=True),
    "life_regenerations": Label("Lasts, regenerations", high=1e6, above=True),
    "protects_health": Label("Protects health", tells="planned with the careful risk"),
}
"""Fields of all kinds of stage."""

CHOICES: dict[str, str] = {
    "us": "US: gal, in, gpg",
    "metric": "metric: L, cm, mg/L",
    "all": "all well water",
    "house": "house, not hose",
    "worst": "worst of two years",
    "newest": "newest result",
    "none": "none",
    "standard": "standard",
    "nitrate_selective": "nitrate-selective",
    "metered": "the water meter",
    "timed": "the timer",
    "sodium_chloride": "sodium chloride",
    "potassium_chloride": "potassium chloride",
    "new": "a new lamp",
    "end_of_life": "a lamp at its end",
    "A": "A: disinfection",
    "B": "B: supplemental",
    "unknown": "not known",
    "each": "pieces",
    "kg": "weight",
    "L": "volume",
}
"""Words for the values that a field can be chosen from."""

BELOW: tuple[tuple[str, str], ...] = (
    ("cut_in_bar", "cut_out_bar"),
    ("precharge_bar", "cut_out_bar"),
    ("clean_drop_bar", "change_drop_bar"),
    ("minimum_bed_cm", "full_bed_cm"),
    ("salt_low_cm", "salt_full_cm"),
    ("salt_low_cm", "brine_tank_height_cm"),
)
"""Pairs of fields of one stage of which the first must be below the second."""

PARTS: dict[str, tuple[str, str, float]] = {
    "salt": ("Softener salt", "kg", 18.14),
    "calcite": ("Calcite", "kg", 22.68),
    "magnesia": ("Magnesia", "kg", 22.68),
    "anion_resin": ("Anion resin", "L", 28.3),
    "cation_resin": ("Softening resin", "L", 28.3),
    "o_rings": ("O-rings of the lamp", "each", 1.0),
    "o_ring": ("O-ring of the housing", "each", 1.0),
    "lamp": ("Ultraviolet lamp", "each", 1.0),
    "sleeve": ("Quartz sleeve", "each", 1.0),
    "ballast": ("Ultraviolet ballast", "each", 1.0),
    "prefilters": ("RO prefilter set", "each", 1.0),
    "postfilter": ("RO postfilter", "each", 1.0),
    "membrane": ("RO membrane", "each", 1.0),
    "reservoir": ("RO reservoir", "each", 1.0),
    "contractor_visit": ("Contractor's visit", "each", 1.0),
}
"""Part role -> what a new supply for it is called, counted in, and the size of a pack. Common practice, no source."""
