"""Numbers and amounts of supplies in words."""

from __future__ import annotations

from model.units import System, show


def number_words(value: float) -> str:
    """A number with as many digits as it needs, three at most where it is not whole."""
    return f"{value:,.0f}" if abs(value) >= 100 or value == int(value) else f"{value:.3g}"


def amount_words(amount: float, unit: str, system: System) -> str:
    """An amount of a supply in the owner's units: "88 lb", "2.5 gal", or a bare "3" for pieces."""
    dimension = {"kg": "mass", "L": "volume"}.get(unit)
    if dimension:
        return show(amount, dimension, system)
    return number_words(amount) if unit == "each" else f"{number_words(amount)} {unit}"
