"""The form in which another value is tried: refused as in House, written down nowhere."""

from __future__ import annotations

from model.forecast.present import present
from model.forecast.situation import Situation
from model.forecast.what_if import Comparison, compare_with
from model.forecast.what_if_figures import Picture
from model.forecast.what_if_home import TARGET_PH, Change, trial
from tui.dialogs.edit_setting import value_entry
from tui.dialogs.form import Form
from tui.widgets.setting_text import allowed, check_pairs, read_value, show_value
from tui.widgets.settings import Field, Value

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
    return Form(f"What if: {field.label.label}", (entry,), take, about=" ".join(told), save="Try")


def with_change(changes: tuple[Change, ...], field: Field, value: Value) -> tuple[Change, ...]:
    """The changes with one more, or without it where it is as today. A target pH and the valve's share exclude one
    another: the later counts."""
    other = {TARGET_PH: "bypass_share", "bypass_share": TARGET_PH}.get(field.name)
    gone = {field.path, f"{field.path.rpartition('.')[0]}.{other}"}
    rest = tuple(one for one in changes if one.path not in gone)
    return rest if value == field.value else (*rest, Change(field.path, value))


def tried(now: Situation, as_is: Picture, changes: tuple[Change, ...]) -> Comparison:
    """The comparison. Raises BadInput where the house would not fit together."""
    house = present(trial(now, changes).home, now.today)
    for stage in house.stages:
        if any(one.path.startswith(f"stages.{stage.id}.") for one in changes):
            check_pairs(stage)
    return compare_with(now, as_is, changes)
