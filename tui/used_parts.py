"""How much of a supply a job used: shown and typed in the owner's unit, recorded in the supply's own."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model.records.typed import parse_amount, split_unit
from model.units import display_unit, from_si, to_si

if TYPE_CHECKING:
    from tui.view import View


def used_words(view: View, supply: str, amount: float) -> str:
    """An amount used of a supply as it stands in a field: "40 lb" in the owner's unit, a bare "2" for pieces."""
    unit, dimension = _counted(view, supply)
    if not dimension:
        return f"{amount:g}"
    shown = display_unit(dimension, view.house.units)
    return f"{from_si(to_si(amount, unit, dimension), shown, dimension):.4g} {shown}"


def used_unit(view: View, supply: str) -> str:
    """The unit in which the owner says how much of a supply was used."""
    unit, dimension = _counted(view, supply)
    return display_unit(dimension, view.house.units) if dimension else unit


def parse_used(view: View, supply: str, typed: str, suggested: float = 0.0) -> float:
    """An amount used of a supply, from what was typed; a bare number is in the owner's unit, empty is none.

    What stands there as suggested is exactly that, whatever digits are shown of it.

    Raises:
        BadInput: not an amount.
    """
    text = typed.strip()
    if not text or text == used_words(view, supply, suggested):
        return suggested if text else 0.0
    unit, dimension = _counted(view, supply)
    bare = bool(dimension) and not split_unit(text)[1]
    return parse_amount(f"{text} {used_unit(view, supply)}" if bare else text, unit, zero_ok=True)


def with_unit(view: View, supply: str, typed: str, unit: str = "") -> str:
    """What was typed as used, with its unit where it is a bare number: so it means the same whenever it is read again.

    `unit`: the unit it was meant in; empty: the owner's.
    """
    if not typed.strip() or not _counted(view, supply)[1] or split_unit(typed)[1]:
        return typed
    return f"{typed.strip()} {unit or used_unit(view, supply)}"


def inside_words(view: View, supply: str, typed: str) -> str:
    """What was kept as used by a program that took bare numbers in the supply's own unit."""
    return with_unit(view, supply, typed, _counted(view, supply)[0])


def _counted(view: View, supply: str) -> tuple[str, str]:
    """The unit of a supply, and its dimension where it is weighed or measured."""
    unit = next((one.unit for one in view.house.supplies if one.id == supply), "each")
    return unit, {"kg": "mass", "L": "volume"}.get(unit, "")
