"""Settings as people see and type them: between the value that is kept and the words on the screen."""

from __future__ import annotations

from datetime import date

from model.equipment.labels import BELOW, CHOICES, STAGE_LABELS
from model.equipment.registry import AnyStage
from model.errors import BadInput
from model.records.typed import parse_date, parse_number, split_unit
from model.units import System, display_unit, from_si, money, to_si
from tui.widgets.amounts import number_words
from tui.widgets.cells import tidy
from tui.widgets.settings import Field, Value

_LONGEST = 80
"""Letters of a name, at most."""


NO_PRICE = "no price yet"


def dimension_of(field: Field) -> str:
    """The dimension of a setting's number, "" for a plain number."""
    if field.label.dimension:
        return field.label.dimension
    return {"kg": "mass", "L": "volume"}.get(field.unit, "")


def unit_of(field: Field, system: System) -> str:
    """The unit in which a setting is shown and typed."""
    dimension = dimension_of(field)
    if not dimension:
        return field.unit if field.unit != "each" else ""
    own = field.label.us if system == "us" else field.label.metric
    return own or display_unit(dimension, system)


def _outside(field: Field, value: float, system: System) -> float:
    dimension = dimension_of(field)
    return from_si(value * field.label.inside, unit_of(field, system), dimension) if dimension else value


def show_value(field: Field, system: System) -> str:
    """The present value in words, with its unit."""
    value = field.value
    if value is None or value == "":
        return "not set"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, str):
        return CHOICES.get(value, value) if field.kind == "choice" else value
    if field.name == "price":
        return money(value, field.unit) if value > 0 else NO_PRICE
    return f"{number_words(_outside(field, value, system))} {unit_of(field, system)}".strip()


def typed_value(field: Field, system: System) -> str:
    """The present value as one would type it."""
    value = field.value
    if value is None:
        return ""
    if isinstance(value, (bool, str)):
        return str(value)
    return number_words(_outside(field, value, system)).replace(",", "")


def allowed(field: Field, system: System) -> str:
    """The range or the form of a value, in words."""
    label = field.label
    if field.kind == "day":
        return "a day, like 2026-03-31" + (", or empty" if field.optional else "")
    if field.kind in ("choice", "yes_no"):
        return label.tells
    if field.kind == "text":
        return label.tells
    low, high = (number_words(_outside(field, bound, system)) for bound in (label.low, label.high))
    words = f"more than {low}, up to {high}" if label.above else f"{low} to {high}"
    words = f"{words} {unit_of(field, system)}".strip()
    return f"{words}, or empty" if field.optional else words


def read_value(field: Field, typed: str, system: System, today: date | None = None) -> Value:
    """The value to keep, from what was typed or chosen.

    Raises:
        BadInput: no number, an unknown unit, or outside the range.
    """
    text = tidy(typed)
    if not text:
        return _empty(field)
    if field.kind == "yes_no":
        return text == "True"
    if field.kind in ("number", "whole"):
        return _read_number(field, text, system)
    if field.kind == "day":
        return _read_day(text, today).isoformat()
    if field.name == "currency":
        return _read_currency(text)
    return text[:_LONGEST]


def _empty(field: Field) -> Value:
    if field.optional:
        return None
    if field.kind == "text" and field.path.startswith("stages."):
        return ""
    raise BadInput(f"{field.label.label} is empty.", "Type a value, or go back with Escape.")


def _read_day(text: str, today: date | None) -> date:
    """A day that has come; "today" only where it is known which day that is."""
    on = parse_date(text, today or date.min)
    if on == date.min or (today is not None and on > today):
        raise BadInput("That day has not come yet, or is not known.", "Write it as YYYY-MM-DD.")
    return on


def _read_currency(text: str) -> str:
    if len(text) != 3 or not text.isalpha() or not text.isascii():
        raise BadInput("A currency is three letters.", "Like USD, EUR or CAD.")
    return text.upper()


def _read_number(field: Field, text: str, system: System) -> float | int:
    digits, unit = split_unit(text)
    number = parse_number(digits)
    dimension = dimension_of(field)
    if dimension:
        kept = to_si(number, unit or unit_of(field, system), dimension) / field.label.inside
        present = field.value
        # What is shown is rounded; the same words typed again mean the same value.
        if isinstance(present, (int, float)) and text == typed_value(field, system):
            kept = float(present)
    else:
        kept = _bare(field, number, unit)
    _check_range(field, kept, system)
    if field.kind != "whole":
        return kept
    if kept != int(kept):
        raise BadInput(f"{field.label.label} must be a whole number.")
    return int(kept)


def _bare(field: Field, number: float, unit: str) -> float:
    if unit and unit.casefold() not in (field.unit.casefold(), *_OWN_WORDS):
        raise BadInput(f"{field.label.label} takes a number without the unit “{unit[:20]}”.")
    return number


_OWN_WORDS = frozenset({"days", "day", "months", "month", "people", "h", "hours", "each", "pieces"})


def _check_range(field: Field, kept: float, system: System) -> None:
    label = field.label
    slack = 1e-9 * max(1.0, abs(label.high))
    low = kept > label.low if label.above else kept >= label.low - slack
    if not (low and kept <= label.high + slack):
        raise BadInput(f"{label.label} cannot be that.", f"Allowed: {allowed(field, system)}.")


def check_pairs(stage: AnyStage) -> None:
    """Refuse a stage in which, say, the pump would start above the pressure at which it stops."""
    for low, high in BELOW:
        lower, upper = getattr(stage, low, None), getattr(stage, high, None)
        if lower is not None and upper is not None and lower >= upper:
            raise BadInput(f"“{STAGE_LABELS[low].label}” must be below “{STAGE_LABELS[high].label}”.")
