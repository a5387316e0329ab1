"""The form for one setting: what it is now, what it shall be, and from when."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from model.equipment.labels import CHOICES
from model.errors import BadInput
from model.forecast.present import present
from model.home import House
from model.records.events import Setting
from model.records.typed import parse_date
from tui.dialogs.form import Entry, Form
from tui.dialogs.trial import refuse_unless, tried, value_at
from tui.widgets.setting_text import allowed, check_pairs, read_value, show_value, typed_value, unit_of
from tui.widgets.settings import Field, Value

if TYPE_CHECKING:
    from tui.view import View

Changes = tuple[Setting, ...]


def edit_form(field: Field, view: View, *, of: str = "") -> Form[Changes]:
    """A form that answers with the change, and with what follows from it. `of`: what the setting belongs to."""
    house, today = view.house, view.today
    entries = (
        value_entry(field, house, "value", "New value"),
        date_entry(today, "Holds from", "YYYY-MM-DD, past or to come"),
    )

    def take(typed: dict[str, str]) -> Changes:
        value = read_value(field, typed["value"], house.units, today)
        return changes(field, value, parse_date(typed["on"], today), view)

    title = f"{of}: {field.label.label}" if of else field.label.label
    return Form(title, entries, take, about=_about(field, house), key=f"edit {field.path}")


def _about(field: Field, house: House) -> str:
    told = [f"Now: {show_value(field, house.units)}."]
    if field.kind in ("number", "whole", "day"):
        told.append(f"Allowed: {allowed(field, house.units)}.")
    if field.label.tells:
        told.append(f"{field.label.tells[0].upper()}{field.label.tells[1:]}.")
    if field.name == "price":
        told.append("What a receipt says counts before this.")
    return " ".join(told)


def value_entry(field: Field, house: House, name: str, label: str, hint: str | None = None) -> Entry:
    """The line of a form in which a setting is typed or chosen."""
    choices: tuple[tuple[str, str], ...] = ()
    if field.kind == "yes_no":
        choices = (("True", "yes"), ("False", "no"))
    elif field.kind == "choice":
        choices = tuple((choice, CHOICES.get(choice, choice)) for choice in field.choices)
    hint = unit_of(field, house.units) if hint is None else hint
    return Entry(
        id=name,
        label=label,
        value=typed_value(field, house.units),
        hint=hint,
        choices=choices,
        help=_means(field, house),
    )


def _means(field: Field, house: House) -> str:
    """What a setting means, in which unit, and what it can be."""
    told = [field.label.tells, f"in {unit}" if (unit := unit_of(field, house.units)) else ""]
    told.append(f"allowed: {allowed(field, house.units)}" if field.kind in ("number", "whole", "day") else "")
    return "; ".join(one for one in told if one)


def date_entry(today: date, label: str, hint: str = "YYYY-MM-DD") -> Entry:
    """The line of a form in which a day is typed."""
    return Entry(id="on", label=label, value=today.isoformat(), hint=hint)


def changes(field: Field, value: Value, on: date, view: View) -> Changes:
    """The events of one change, tried on the home first.

    Raises:
        BadInput: nothing changes, the house would not fit together, or the change would have no effect.
    """
    was = _kept(value_at(present(view.home, on), field.path)) if on > view.today else field.value
    if value == was:
        raise BadInput("That is what stands there already.", "Change it, or go back with Escape.")
    made = (*_price_entered(field, on, view.house), Setting(on=on, path=field.path, value=value, was=was))
    house = tried(view.home, view.today, *made)
    refuse_unless(_kept(value_at(house, field.path)) == value, on)
    for stage in house.stages:
        if field.path.startswith(f"stages.{stage.id}."):
            check_pairs(stage)
    return made


def _kept(value: object) -> Value:
    """A setting's value as events keep it."""
    return value.isoformat() if isinstance(value, date) else value  # type: ignore[return-value]


def _price_entered(field: Field, on: date, house: House) -> Changes:
    """A price that somebody typed is no longer an invented default."""
    path = f"{field.path.rpartition('.')[0]}.price_is_default"
    if field.name != "price" or not value_at(house, path):
        return ()
    return (Setting(on=on, path=path, value=False, was=True),)
