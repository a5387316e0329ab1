"""The form in which another value is tried: refused as in House, written down nowhere."""

from __future__ import annotations

from model.forecast.situation import Situation
from model.forecast.what_if import Comparison
from model.forecast.what_if_figures import Picture
from model.forecast.what_if_home import Change
from tui.dialogs.edit_setting import value_entry
from tui.dialogs.form import Form
from tui.widgets.setting_text import allowed, read_value, show_value
from tui.widgets.settings import Field
from tui.widgets.what_if_changes import tried, with_change

Tried = tuple[tuple[Change, ...], Comparison]


def what_if_form(field: Field, then: Field, now: Situation, as_is: Picture, changes: tuple[Change, ...]) -> Form[Tried]:
    """A form that answers with all changes and what they do. `field`: as today; `then`: as tried so far."""
    units = now.house.units

    def take(typed: dict[str, str]) -> Tried:
        wanted = with_change(changes, field, read_value(field, typed["value"], units, now.today))
        return wanted, tried(now, as_is, wanted)

    told = [f"Today: {show_value(field, units)}."]
    if field.kind in ("number", "whole"):
        told.append(f"Allowed: {allowed(field, units)}.")
    told.append("Nothing is written down.")
    entry = value_entry(then, now.house, "value", "What if it were")
    return Form(
        f"What if: {field.label.label}", (entry,), take, about=" ".join(told), save="Try", key=f"try {field.path}"
    )
