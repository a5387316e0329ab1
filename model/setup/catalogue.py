"""What is asked about each kind of stage: the few settings that move dates. Values and ranges are those of House."""

from __future__ import annotations

import msgspec


class Asked(msgspec.Struct, frozen=True):
    """A setting asked about: its field, the question, where to look, and a drawing."""

    field: str
    title: str
    about: str = ""
    drawing: str = ""


class Read(msgspec.Struct, frozen=True):
    """A reading asked about: its quantity, the question, the units it may be written in, and where to look."""

    quantity: str
    title: str
    units: tuple[str, ...]
    about: str = ""
    drawing: str = ""


class Done(msgspec.Struct, frozen=True):
    """A job whose last day is asked about, and the question."""

    job: str
    title: str


_WIDE = "Any unit may be typed behind the number: 18 in, 46 cm."

OF_STAGE: dict[str, tuple[Asked | Read | Done, ...]] = {
    "well": (
        Asked("farmed_land", "Are there fields or animals near the well?", "Then the water is tested twice a year."),
    ),
    "pressure_tank": (
        Asked("volume_l", "How large is the pressure tank?", "On its label: the whole volume, not the drawdown."),
        Asked("cut_in_bar", "At which pressure does the pump start?", "Watch the gauge while a tap runs."),
        Asked("cut_out_bar", "At which pressure does it stop?", "The gauge when the pump falls silent."),
    ),
    "sediment_filter": (
        Asked("micron", "How fine is the cartridge, in micron?", "Printed on the cartridge or its box."),
        Asked("rated_l", "How much water is a cartridge good for?", "On the box or in the manual."),
        Done("replace_cartridge", "When was the cartridge last changed?"),
    ),
    "neutralizer": (
        Asked("tank_diameter_cm", "How wide is the neutralizer tank?", _WIDE, "tank_width"),
        Asked("full_bed_cm", "How deep is its media just after a top-up?", _WIDE, "bed_depth"),
        Asked("minimum_bed_cm", "At which depth do you top up?", _WIDE, "bed_depth"),
        Asked("magnesia_share", "How much of the media is magnesia (magnesium oxide)?", "0 for calcite alone."),
        Asked("bypass_share", "How much water does its blend valve let past?", "0 where it is shut or not there."),
        Read("bed_depth", "How deep is the media today?", ("in", "cm"), "Leave it empty if not measured.", "bed_depth"),
    ),
    "softener": (
        Asked("cation_resin_l", "How much softening resin is in the tank?", "On the order or the tank's label."),
        Asked("anion_type", "Does it also take nitrate out (anion resin)?", "The order says so: “anion” or “nitrate”."),
        Asked("anion_resin_l", "How much anion resin is in the tank?"),
        Asked("control", "What starts a regeneration?", "A metered valve shows litres or gallons left."),
        Asked("salt_dose_kg", "How much salt does one regeneration take?", "In the valve's settings, as salt or dose."),
        Asked("regenerate_every_l", "After how much water does it regenerate?", "In the settings, as capacity."),
        Asked("regenerate_every_days", "After how many days does it regenerate?", "In the settings, or the override."),
        Asked("brine_tank_diameter_cm", "How wide is the brine tank?", _WIDE, "tank_width"),
        Asked("salt_full_cm", "How deep is the salt when you have filled it up?", _WIDE, "salt_depth"),
        Asked("salt_low_cm", "At which depth do you fill up again?", _WIDE, "salt_depth"),
        Read("salt_depth", "How deep is the salt today?", ("in", "cm"), "Leave it empty if not seen.", "salt_depth"),
    ),
    "ultraviolet": (
        Asked("rated_l_per_min", "For which flow is the ultraviolet unit rated?", "On its plate."),
        Asked("lamp_life_h", "How long does a lamp last?", "In the manual: a year is 8,766 hours."),
        Done("replace_lamp", "When was the lamp last changed?"),
        Read("lamp_hours", "How long has the present lamp been lit?", ("h", "days"), "Its display may count it."),
        Done("replace_sleeve", "When was the quartz sleeve last changed?"),
    ),
    "reverse_osmosis": (
        Asked("rated_l_per_day", "How much does the reverse osmosis give in a day?", "On the membrane's label."),
        Asked("prefilter_months", "After how many months are its prefilters due?", "In the manual."),
        Done("replace_prefilters", "When were the prefilters last changed?"),
        Done("replace_postfilter", "When was the postfilter last changed?"),
        Asked("membrane_months", "After how many months is its membrane due?", "In the manual."),
        Done("replace_membrane", "When was the membrane last changed?"),
    ),
}
"""Kind of stage -> what is asked, in the order asked."""

LAB: tuple[Read, ...] = (
    Read("pH", "What is the pH?", (), "Of the raw water, before any treatment."),
    Read("alkalinity", "What is the alkalinity?", ("mg/L as CaCO3", "mg/L as HCO3"), "The report names the basis."),
    Read("hardness", "What is the hardness?", ("gpg", "mg/L as CaCO3", "dH"), "One grain (gpg) is 17.1 mg/L."),
    Read("iron", "How much iron is in it?", ("mg/L", "ug/L"), "< and the limit where none was found, as <0.05."),
    Read("nitrate", "How much nitrate is in it?", ("mg/L as N", "mg/L as NO3"), "10 as N is 44 as NO3."),
)
"""What is asked of a laboratory report on the raw water."""
