"""How the equipment is sized and set: what is set or printed on it first, and what only the reckoning takes."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import msgspec

from model.equipment.labels import CHOICES, STAGE_LABELS
from model.equipment.registry import AnyStage, title_of
from model.forecast.situation import Situation
from model.pages.page import Block, Table, Text
from model.records.names import Names
from model.setup.assumed import assumed_paths
from model.setup.catalogue import OF_STAGE, Asked

_UNSET = frozenset({"id", "title", "supplies", "kind"})
_ESSENTIAL = frozenset({one.field for asked in OF_STAGE.values() for one in asked if isinstance(one, Asked)}) | {
    *("installed_on", "depth_m", "precharge_bar", "size", "change_drop_bar", "cap_months", "backwash_every_days"),
    *("regenerant", "regenerates_at_hour", "unit_class", "sleeve_clean_months", "reservoir_precharge_bar", "life_days"),
}
"""What set-up asks, and what else is set or printed on the equipment."""


def essential_settings(now: Situation, names: Names) -> Block:
    """Each stage with what is set or printed on it."""
    return _table(now, names, lambda field: field in _ESSENTIAL)


def other_settings(now: Situation, names: Names) -> Block:
    """Each stage with what else the reckoning takes of it."""
    return _table(now, names, lambda field: field not in _ESSENTIAL)


def _table(now: Situation, names: Names, wanted: Callable[[str], bool]) -> Block:
    guessed = assumed_paths(now.home.events)
    found = [(title_of(stage), "; ".join(_settings(stage, names, guessed, wanted))) for stage in now.house.stages]
    rows = tuple(row for row in found if row[1])
    return Table(("stage", "sizes and settings"), rows) if rows else Text("Nothing of it is written down yet.")


def _settings(stage: AnyStage, names: Names, guessed: frozenset[str], wanted: Callable[[str], bool]) -> Iterator[str]:
    for field in msgspec.structs.fields(stage):
        value = getattr(stage, field.name)
        if field.name in _UNSET or value is None or value == "" or not wanted(field.name):
            continue
        path = f"stages.{stage.id}.{field.name}"
        said = CHOICES.get(value, value) if isinstance(value, str) else names.value(path, value)
        label = STAGE_LABELS[field.name].label if field.name in STAGE_LABELS else field.name.replace("_", " ")
        yield f"{label}: {said}{' (not known: a usual value)' if path in guessed else ''}"
