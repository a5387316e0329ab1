"""From what a person typed to a measured quantity, or a refusal that says what to do instead.

What is impossible is refused here; what is only unlikely is listed by `doubts` and recorded all the same.
"""

from __future__ import annotations

from model.equipment.neutralizer import Neutralizer
from model.equipment.pressure_tank import PressureTank
from model.equipment.softener import Softener
from model.errors import BadInput
from model.home import House
from model.records.doubts import doubts, refuse_meter
from model.records.events import Qualifier, Taken
from model.records.place import place_of
from model.records.quantities import Quantity, find_quantity, show_quantity
from model.records.typed import check_date, parse_amount, parse_date, parse_number, parse_price, split_unit
from model.units import NEEDS_BASIS, System, echo, find_unit, inside_unit, show, to_si

__all__ = [
    "check_date",
    "doubts",
    "measure",
    "parse_amount",
    "parse_date",
    "parse_number",
    "parse_price",
    "refuse_meter",
    "take",
]

_BOUNDED = frozenset(
    {"concentration", "hardness", "alkalinity", "nitrate", "nitrite", "turbidity", "organisms", "conductivity", "pH"}
)
_ON_PADS = frozenset({"hardness", "alkalinity", "nitrate", "nitrite", "pH"}) | {
    *("iron", "manganese", "copper", "lead", "arsenic", "chloride", "sulfate", "fluoride", "silica"),
    *("calcium", "magnesium", "potassium"),
}
"""What a colour of a strip or a liquid kit can show to lie between two marks; solids and sodium come from meters and
laboratories. From memory."""
_DASHES = str.maketrans("–—‒", "---")
_ABSENT = frozenset({"absent", "a", "negative", "neg", "not detected", "not present", "none", "nd", "no"})
_PRESENT = frozenset({"present", "p", "positive", "pos", "detected", "yes"})
_BELOW_DETECTION = frozenset({"nd", "bdl", "not detected", "non-detect", "none detected", "absent", "trace"})
_TOO_MANY = 200.0  # colonies per 100 mL from which a plate is too crowded to count: from memory
_ALL_LOOKED_AT = 1.1
"""Up to this "<" per 100 mL all of the sample was looked at: <1 of a plate, <1.1 of ten tubes of 10 mL. From memory."""
_BED_ABOVE_FULL = 1.5  # a bed half as deep again as a full one is a slip of the unit: from memory


def take(house: House, quantity: str, value: str, unit: str | None = None, point: str | None = None) -> Taken:
    """One measured quantity from what was typed.

    Args:
        house: the house as it stands; gives stages, points and the unit assumed.
        quantity: name of the quantity, any case.
        value: a number, with "<" or ">" for a concentration or for a pH beyond a strip's last mark, "5-10" for a
            colour pad between two numbers, "present" or "absent" for bacteria; may hold the unit.
        unit: unit as typed; None for the house's own display unit.
        point: point or stage as typed; None for the quantity's usual place.

    Returns:
        The quantity in the unit used inside, at the id of its point or stage.

    Raises:
        UnknownName: no such quantity, point or stage.
        BadInput: no finite number, a unit that does not fit or lacks its basis, a value that cannot be.
    """
    known = find_quantity(quantity)
    taken = measure(known, value, unit, place_of(house, known, point), house.units)
    _check_stage(house, taken)
    return taken


def measure(quantity: Quantity, value: str, unit: str | None, point: str, system: System | None = None) -> Taken:
    """A measured quantity at a point already known, without looking at the house.

    Args:
        quantity: what was measured.
        value: as typed or as a laboratory writes it ("<0.05", "present", "TNTC"), or an interval ("5-10").
        unit: as typed; None or empty for the display unit of `system`.
        point: id of the point or stage.
        system: None where every unit must be stated, as in a file.

    Bacteria: 0 for absent and for "<1", 1 for present, otherwise the count per 100 mL.

    Raises:
        BadInput: as for `take`.
    """
    number, written = (value, unit) if (unit or "").strip() else split_unit(value)
    word = _word(quantity, value, unit or "", point)
    if word is not None:
        return word
    ends = _pad_ends(quantity, number)
    if ends is not None:
        return _pad(quantity, ends, (written or "").strip() or _assumed_unit(quantity, system), point, system)
    qualifier, digits = _qualified(quantity, number)
    parsed = parse_number(digits)
    meant = (written or "").strip() or _assumed_unit(quantity, system)
    inside = to_si(parsed, meant, quantity.dimension) + 0.0
    entered = " ".join(f"{number} {meant}".split())
    taken = Taken(quantity=quantity.id, value=inside, point=point, qualifier=qualifier, entered=entered)
    _check_possible(quantity, taken, system or "metric")
    _check_comma(quantity, taken, digits)
    return _bacteria(taken) if quantity.dimension == "organisms" else taken


def _pad_ends(quantity: Quantity, number: str) -> tuple[str, str] | None:
    """The two numbers of "5-10", None where it is not an interval. The dash of "1e-5" and a minus join no numbers."""
    if quantity.id not in _ON_PADS:
        return None
    text = number.strip().translate(_DASHES)
    for at, letter in enumerate(text):
        low, high = text[:at].rstrip(), text[at + 1 :].lstrip()
        if letter == "-" and low[-1:].isdigit() and high[:1].isdigit():
            return low, high
    return None


def _pad(quantity: Quantity, ends: tuple[str, str], unit: str, point: str, system: System | None) -> Taken:
    """A colour between two pads: the value lies somewhere from the lower to the upper number."""
    if ends[0][0] in "<>":
        raise BadInput(f"{echo('-'.join(ends))} is a bound and an interval at once.", "Write <5, or 5-10.")
    low, high = (measure(quantity, end, unit, point, system) for end in ends)
    if high.high is not None:
        raise BadInput(
            f"{echo('-'.join(ends))} has more than two ends.", "Write the two numbers of the colours, as 5-10."
        )
    if high.value < low.value:
        raise BadInput(
            f"{echo('-'.join(ends))} runs backwards.", f"Write the smaller number first: {ends[1]}-{ends[0]}."
        )
    entered = " ".join(f"{ends[0]}-{ends[1]} {unit}".split())
    top = high.value if high.value > low.value else None
    return Taken(quantity=quantity.id, value=low.value, point=point, entered=entered, high=top)


def _word(quantity: Quantity, value: str, unit: str, point: str) -> Taken | None:
    """Bacteria reported in words: present, absent, too numerous to count."""
    said = " ".join(value.casefold().split())
    if quantity.dimension != "organisms" or said not in _PRESENT | _ABSENT | {"tntc"}:
        return None
    if unit.strip():
        find_unit(unit, quantity.dimension)
    if said == "tntc":
        return Taken(quantity=quantity.id, value=_TOO_MANY, point=point, qualifier=">", entered=value.strip())
    return Taken(quantity=quantity.id, value=float(said in _PRESENT), point=point, entered=value.strip())


def _bacteria(taken: Taken) -> Taken:
    """None found in all of 100 mL is absent; "<200" comes from a diluted sample and shows nothing about the rest."""
    if taken.qualifier != "<":
        return taken
    if taken.value > _ALL_LOOKED_AT:
        raise BadInput(
            f"{echo(taken.entered)} does not show that there are none: only <1 in 100 mL does.",
            "Write absent or present as the report says, or have a whole 100 mL tested.",
        )
    return Taken(quantity=taken.quantity, value=0.0, point=taken.point, entered=taken.entered)


def _qualified(quantity: Quantity, number: str) -> tuple[Qualifier, str]:
    text = number.strip()
    if " ".join(text.casefold().split()) in _BELOW_DETECTION:
        raise BadInput(f"{echo(text)} does not say below what.", "Write < and the reporting limit, as <0.05.")
    if text[:1] not in ("<", ">"):
        return "=", text
    if quantity.dimension not in _BOUNDED:
        raise BadInput(f"{quantity.title} is read as a number, not as {echo(text)}.", "Leave out < and >.")
    return ("<" if text[0] == "<" else ">"), text[1:].strip()


def _assumed_unit(quantity: Quantity, system: System | None) -> str:
    if quantity.dimension in ("pH", "count"):
        return inside_unit(quantity.dimension)
    if quantity.needs_unit:
        choice = NEEDS_BASIS.get(quantity.dimension, "mg/L or ug/L")
        raise BadInput(f"{quantity.title} needs its unit said.", f"Say {choice}.")
    if system is None:
        raise BadInput(f"The unit of {quantity.name} is missing.", f"For example {quantity.metric_unit}.")
    return quantity.us_unit if system == "us" else quantity.metric_unit


def _check_possible(quantity: Quantity, taken: Taken, system: System) -> None:
    low, high = quantity.impossible_below, quantity.impossible_above
    slack = 1e-9 * max(abs(taken.value), 1.0)
    too_low = low is not None and taken.value < low - slack
    too_high = high is not None and taken.value > high + slack
    if too_low or too_high:
        limit = show((low if too_low else high) or 0.0, quantity.dimension, system).removesuffix(".0")
        word = "least" if too_low else "most"
        what = f"{quantity.title} {echo(taken.entered)} cannot be: {limit} is the {word}."
        raise BadInput(what, "Check the number and its unit.")
    if taken.qualifier == "<" and taken.value <= 0.0:
        raise BadInput(f"{echo(taken.entered)} leaves nothing below it.", "Give the reporting limit, as <0.05.")
    if taken.qualifier == ">" and high is not None and taken.value >= high:
        raise BadInput(f"{echo(taken.entered)} leaves nothing above it.", "Give the last mark of the test, as >8.4.")
    if quantity.dimension == "count" and taken.value != int(taken.value):
        raise BadInput(f"{quantity.title} {echo(taken.entered)} is not a whole number.", "Count whole ones.")


def _check_comma(quantity: Quantity, taken: Taken, digits: str) -> None:
    """Refuse "6,500" where 6500 would be strange and 6.5 would not: the comma may be a decimal one."""
    high = quantity.unlikely_above
    if "," in digits and high is not None and taken.value > high:
        bare = digits.replace(",", "")
        raise BadInput(
            f"{quantity.title} {echo(taken.entered)} can be read in two ways.",
            f"Write {bare}, or {digits.replace(',', '.', 1)} with a decimal point.",
        )


def _check_stage(house: House, taken: Taken) -> None:
    stage = house.stage(taken.point)
    if isinstance(stage, Softener) and taken.quantity == "salt_depth":
        _at_most(house, taken, stage.brine_tank_height_cm, "the brine tank is only {} high")
    elif isinstance(stage, Neutralizer) and taken.quantity == "bed_depth":
        _at_most(house, taken, stage.full_bed_cm * _BED_ABOVE_FULL, "with this home's full bed it cannot exceed {}")
    elif isinstance(stage, PressureTank) and taken.quantity == "drawdown":
        _at_most(house, taken, stage.volume_l, "the pressure tank holds only {}")


def _at_most(house: House, taken: Taken, most: float, why: str) -> None:
    if taken.value > most * (1.0 + 1e-9):
        limit = show_quantity(taken.quantity, most, house.units)
        title = find_quantity(taken.quantity).title
        now = "Check the number and its unit, or correct the home's description."
        raise BadInput(f"{title} {echo(taken.entered)} cannot be: {why.format(limit)}.", now)
