"""From what was typed on a page to the value kept, or a refusal that says what would do."""

from __future__ import annotations

from datetime import date

from model.equipment.labels import Label
from model.errors import BadInput
from model.records.typed import check_date, parse_date, parse_number, split_unit
from model.setup.question import Question
from model.units import System, display_unit, from_si, to_si


def unit_of(label: Label, system: System) -> str:
    """The unit in which a setting is asked for, "" for a plain number."""
    if not label.dimension:
        return ""
    return (label.us if system == "us" else label.metric) or display_unit(label.dimension, system)


def with_unit(question: Question, text: str, system: System) -> str:
    """What was typed with its unit said, so that it means the same after a change of units."""
    text = " ".join(text.split())
    if question.kind != "number" or question.label is None or not text:
        return text
    number, unit = split_unit(text)
    return f"{number} {unit or unit_of(question.label, system)}".strip()


def kept_value(question: Question, text: str, system: System, today: date) -> float | str | bool:
    """The value to keep, from an answer that is not empty.

    Raises:
        BadInput: no number, an unknown unit, outside the range, or none of the choices.
    """
    if question.kind == "number" and question.label is not None:
        number = _number(question.label, text, system)
        if not isinstance(question.default, int):
            return number
        if number != int(number):
            raise BadInput(f"{question.label.label} must be a whole number.", "Leave the decimals out.")
        return int(number)
    if question.kind == "day":
        on = parse_date(text, today)
        check_date(on, today)
        return on.isoformat()
    if question.choices and question.kind == "choice" and text not in dict(question.choices):
        raise BadInput("Choose one of the lines.", "Up and down highlight one, Enter takes it.")
    return text == "yes" if isinstance(question.default, bool) else text


def _number(label: Label, text: str, system: System) -> float:
    digits, unit = split_unit(text)
    number = parse_number(digits)
    if label.dimension:
        number = to_si(number, unit or unit_of(label, system), label.dimension) / label.inside
    elif unit:
        raise BadInput(f"{label.label} takes a number without a unit.", "Leave the unit out.")
    slack = 1e-9 * max(1.0, abs(label.high))
    low = number > label.low if label.above else number >= label.low - slack
    if not (low and number <= label.high + slack):
        raise BadInput(f"{label.label} cannot be that.", f"Allowed: {_range(label, system)}.")
    return min(max(number, label.low), label.high)


def _range(label: Label, system: System) -> str:
    low, high = in_words(label, label.low, system), in_words(label, label.high, system)
    return f"more than {low}, up to {high}" if label.above else f"{low} to {high}"


def in_words(label: Label, value: float, system: System) -> str:
    """A kept value in the owner's unit, rounded to three figures."""
    unit = unit_of(label, system)
    shown = from_si(value * label.inside, unit, label.dimension) if unit else value
    figures = f"{shown:.0f}" if abs(shown) >= 100 else f"{shown:.3g}"
    return f"{figures} {unit}".strip()


def taken_instead(question: Question, system: System) -> str:
    """What is taken where the owner does not know, in words."""
    if question.instead or question.default is None:
        return question.instead or "nothing is written down"
    if isinstance(question.default, bool):
        return "yes" if question.default else "no"
    if isinstance(question.default, str):
        return dict(question.choices).get(question.default, question.default)
    return in_words(question.label, question.default, system) if question.label else f"{question.default:g}"
