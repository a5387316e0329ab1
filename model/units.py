"""Units at the edge: what people type becomes SI inside the program, and goes back for display.

Inside: L, cm, bar, kg, degC, L/min, L/h, L/day, mg/L, s (lit hours stay h), %, uS/cm,
days, A, V; the water in a well m. A dimension is one row of tables
below; its first unit is the one used inside. Nitrate, nitrite, hardness and alkalinity are dimensions of their own
because a bare mg/L does not say of what.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from math import floor, isfinite, log10
from typing import Literal

from model.errors import BadInput
from model.unit_tables import GALLON_L, GPG_MG_L, UNITS, Unit

__all__ = [
    "GALLON_L",
    "GPG_MG_L",
    "MEASURES",
    "NEEDS_BASIS",
    "UNITS",
    "System",
    "Unit",
    "display_unit",
    "echo",
    "find_unit",
    "from_si",
    "inside_unit",
    "known_names",
    "money",
    "one_of",
    "plain",
    "show",
    "to_si",
]

System = Literal["us", "metric"]

NEEDS_BASIS = {
    "nitrate": "mg/L as N or mg/L as NO3",
    "nitrite": "mg/L as N or mg/L as NO2",
    "hardness": "gpg, dH or mg/L as CaCO3",
    "alkalinity": "mg/L as CaCO3, mg/L as HCO3 or dH",
}
"""Dimension -> what to say instead of a bare mg/L. Source of the trap: UC Cooperative Extension, Monterey, 2014."""

MEASURES = {dimension: dimension.replace("_", " ") for dimension in UNITS} | {
    "lit_time": "time",
    "organisms": "bacteria",
    "water_level": "length",
    "days": "time",
    "count": "a count",
    "percent": "per cent",
}
"""Dimension -> what it measures, for a sentence."""

_BARE = frozenset({"", "mg/l", "ppm", "ppb", "ug/l", "mgl"})

# What is shown, and decimals: US then metric. None means three significant digits.
_SHOWN: dict[str, tuple[tuple[str, int | None], tuple[str, int | None]]] = {
    "volume": (("gal", 0), ("L", 0)),
    "length": (("in", 1), ("cm", 0)),
    "water_level": (("ft", 0), ("m", 1)),
    "pressure": (("psi", 0), ("bar", 2)),
    "mass": (("lb", 0), ("kg", 0)),
    "temperature": (("F", 0), ("C", 1)),
    "flow": (("gpm", 1), ("L/min", 0)),
    "daily_flow": (("gal/day", 0), ("L/day", 0)),
    "hourly_flow": (("gal/h", 2), ("L/h", 1)),
    "hardness": (("gpg", 1), ("mg/L as CaCO3", 0)),
    "alkalinity": (("mg/L as CaCO3", 0), ("mg/L as CaCO3", 0)),
    "time": (("s", 0), ("s", 0)),
    "lit_time": (("h", 0), ("h", 0)),
    "days": (("days", 0), ("days", 0)),
    "current": (("A", 1), ("A", 1)),
    "voltage": (("V", 0), ("V", 0)),
    "percent": (("%", 0), ("%", 0)),
    "conductivity": (("uS/cm", 0), ("uS/cm", 0)),
    "count": (("times", 0), ("times", 0)),
    "organisms": (("per 100 mL", None), ("per 100 mL", None)),
}
_SMALL = 20.0  # below this a rounded whole number would hide too much: one decimal more

_LOOK_ALIKES = str.maketrans({"μ": "u", "°": "", "º": "", "³": "3", "²": "2", "₃": "3", "″": '"', "”": '"', "′": "'"})
_DROPPED = str.maketrans("", "", "^()")
_SHORT = (("milligrams", "mg"), ("micrograms", "ug"), ("per", "/"), ("litre", "l"), ("liter", "l"))


def plain(unit: str) -> str:
    """A unit as typed, without case, spaces, degree signs and brackets: " MG/L (as N)" -> "mg/lasn"."""
    text = "".join(unit.casefold().split()).translate(_LOOK_ALIKES).translate(_DROPPED)
    for long, short in _SHORT:
        text = text.replace(long, short)
    return text


@cache
def _by_name(dimension: str) -> dict[str, Unit]:
    """Every spelling, plain, of the units of a dimension; worked out when first asked for, to start fast."""
    return {plain(name): unit for unit in UNITS[dimension] for name in (unit.name, *unit.also)}


def echo(text: str) -> str:
    """What was typed, in quotes, short and printable, for a message."""
    kept = "".join(c if c.isprintable() else " " for c in text[:200])
    kept = " ".join(kept.split())
    return f"“{kept[:37]}...”" if len(kept) > 40 else f"“{kept}”"


def find_unit(unit: str, dimension: str) -> Unit:
    """The unit meant by what was typed.

    Raises:
        BadInput: unknown, of another dimension, or without the basis that the dimension needs.
    """
    wanted = plain(unit)
    found = _by_name(dimension).get(wanted)
    if found is not None:
        return found
    if dimension in NEEDS_BASIS and wanted in _BARE:
        raise BadInput(
            f"{dimension.capitalize()} in {echo(unit)} does not say as what.", f"Say {NEEDS_BASIS[dimension]}."
        )
    raise _not_a_unit(unit, wanted, dimension)


def _not_a_unit(unit: str, wanted: str, dimension: str) -> BadInput:
    names = [one.name for one in UNITS[dimension] if one.name]
    now = f"Use {one_of(names)}." if "" not in known_names(dimension) else "Leave the unit out."
    other = next((name for name in UNITS if wanted in _by_name(name)), None)
    here = MEASURES[dimension]
    if not wanted:
        return BadInput(f"The unit of {here} is missing.", now)
    if other is None:
        return BadInput(f"{echo(unit)} is not known as a unit of {here}.", now)
    return BadInput(f"{echo(unit)} is a unit of {MEASURES[other]}, not of {here}.", now)


def known_names(dimension: str) -> frozenset[str]:
    """Every spelling of the units of a dimension, plain."""
    return frozenset(_by_name(dimension))


def one_of(names: Sequence[str]) -> str:
    """Names for a sentence: "in", "in or cm", "in, cm or m"."""
    return " or ".join(part for part in (", ".join(names[:-1]), names[-1]) if part)


def to_si(value: float, unit: str, dimension: str) -> float:
    """A value in the unit used inside the program for its dimension.

    Args:
        value: finite number [`unit`].
        unit: as typed; case and spaces do not matter.
        dimension: a key of `UNITS`.

    Raises:
        BadInput: unit unknown, of another dimension or without its basis; value not finite.
    """
    found = find_unit(unit, dimension)
    inside = (value - found.zero) * found.scale
    if not isfinite(inside):
        raise BadInput("The number is not finite.", "Type an ordinary number.")
    return inside


def from_si(value_si: float, unit: str, dimension: str) -> float:
    """A value inside the program, in another unit of its dimension. Errors as for `to_si`."""
    found = find_unit(unit, dimension)
    outside = value_si / found.scale + found.zero
    if not isfinite(outside):
        raise BadInput("The number is not finite.", "Type an ordinary number.")
    return outside


def inside_unit(dimension: str) -> str:
    """The unit used inside the program for a dimension."""
    return UNITS[dimension][0].name


def display_unit(dimension: str, system: System) -> str:
    """The unit in which the owner of a house sees a dimension; "" for pH."""
    return _shown(dimension, system)[0]


def _shown(dimension: str, system: System) -> tuple[str, int | None]:
    pair = _SHOWN.get(dimension)
    if pair is None:
        return inside_unit(dimension), 1 if dimension == "pH" else None
    return pair[0 if system == "us" else 1]


def show(value_si: float, dimension: str, system: System, digits: int | None = None) -> str:
    """A value for people, with its unit: "14.2 in", "36 cm", "1,234 L", "7.9 gpg", "6.3" for pH.

    Args:
        value_si: value in the unit used inside.
        dimension: a key of `UNITS`.
        system: the house's units.
        digits: decimals, all of them shown; None for what suits the dimension.
    """
    if not isfinite(value_si):
        return "not known"
    unit, decimals = _shown(dimension, system)
    try:
        value = from_si(value_si, unit, dimension)
    except BadInput:
        return "not known"
    number = _fixed(value, digits) if digits is not None else _suited(value, decimals, dimension)
    return f"{number}{_suffix(unit, dimension)}"


def _suffix(unit: str, dimension: str) -> str:
    if dimension == "temperature":
        return f" °{unit}"
    return f" {unit}" if unit and dimension != "count" else ""


def _fixed(value: float, digits: int) -> str:
    text = f"{value:,.{digits}f}"
    return text.removeprefix("-") if not text.strip("-0.,") else text


def _suited(value: float, decimals: int | None, dimension: str) -> str:
    if decimals is None:
        decimals = min(9, max(0, 2 - floor(log10(abs(value))))) if value else 0
    elif decimals == 0 and abs(value) < _SMALL:
        decimals = 1
    text = _fixed(value, decimals)
    return text.rstrip("0").rstrip(".") if decimals and dimension != "pH" else text


_SIGNS = {"USD": "$"}


def money(amount: float, currency: str) -> str:
    """An amount of money for people: "$12.50", "EUR 12.50", "-$1,234.00"."""
    if not isfinite(amount):
        return "not known"
    text = _fixed(amount, 2)
    minus, number = ("-", text[1:]) if text.startswith("-") else ("", text)
    return f"{minus}{_SIGNS.get(currency, currency + ' ')}{number}"
