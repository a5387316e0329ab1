"""Changes tried together, and what they do; for the screen and the command."""

from __future__ import annotations

from model.forecast.present import present
from model.forecast.situation import Situation
from model.forecast.what_if import Comparison, compare_with
from model.forecast.what_if_figures import Picture
from model.forecast.what_if_home import TARGET_PH, Change, trial
from tui.widgets.setting_text import check_pairs
from tui.widgets.settings import Field, Value


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
