"""The settings of the house, its stages and its supplies, found from their types."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from functools import cache
from types import NoneType
from typing import Literal, get_args, get_origin, get_type_hints

import msgspec

from model.equipment.base import Stage
from model.equipment.labels import HOUSE_LABELS, PARTS, STAGE_LABELS, SUPPLY_LABELS, Label
from model.equipment.registry import AnyStage
from model.home import House, Supply

Value = float | int | str | bool | None
Kind = Literal["number", "whole", "text", "yes_no", "day", "choice"]

_NOT_EDITED = frozenset({"id", "started", "uses", "stages", "supplies"})


class Field(msgspec.Struct, frozen=True, kw_only=True):
    """One setting: where it is kept, what it is called, what kind of value, and which one it has now."""

    path: str
    name: str
    label: Label
    kind: Kind
    optional: bool = False
    choices: tuple[str, ...] = ()
    value: Value = None
    unit: str = ""

    @property
    def said(self) -> tuple[str, str, str]:
        """What is said of it, to look for words in."""
        return (self.label.label, self.label.tells, self.path)


@cache
def _kinds(described: type) -> dict[str, tuple[Kind, bool, tuple[str, ...]]]:
    """Field -> kind of value, whether it may be empty, and what it can be chosen from."""
    found: dict[str, tuple[Kind, bool, tuple[str, ...]]] = {}
    for name, hint in get_type_hints(described).items():
        if name in described.__struct_fields__ and name not in _NOT_EDITED:  # type: ignore[attr-defined]
            found[name] = _kind(hint)
    return found


def _kind(hint: object) -> tuple[Kind, bool, tuple[str, ...]]:
    if get_origin(hint) is Literal:
        return "choice", False, tuple(str(choice) for choice in get_args(hint))
    members = get_args(hint) or (hint,)
    kinds: dict[object, Kind] = {bool: "yes_no", float: "number", int: "whole", date: "day", str: "text"}
    kind: Kind = next((kinds[member] for member in members if member in kinds), "text")
    return kind, NoneType in members, ()


def _fields(described: msgspec.Struct, labels: dict[str, Label], way: str, units: dict[str, str]) -> Iterator[Field]:
    for name, (kind, optional, choices) in _kinds(type(described)).items():
        value = getattr(described, name)
        yield Field(
            path=way + name,
            name=name,
            label=labels.get(name, Label(name)),
            kind=kind,
            optional=optional,
            choices=choices,
            value=value.isoformat() if isinstance(value, date) else value,
            unit=units.get(name, ""),
        )


def house_fields(house: House) -> list[Field]:
    """The settings of the house itself."""
    return list(_fields(house, HOUSE_LABELS, "", {}))


def stage_fields(stage: AnyStage) -> list[Field]:
    """The settings of a stage, its own ones first."""
    found = list(_fields(stage, STAGE_LABELS, f"stages.{stage.id}.", {}))
    common = set(Stage.__struct_fields__)
    return sorted(found, key=lambda field: field.name in common and field.name != "title")


def supply_fields(supply: Supply, currency: str) -> list[Field]:
    """The settings of a supply; its amounts are in its own unit."""
    units = {"pack": supply.unit, "on_shelf": supply.unit, "price": currency}
    found = _fields(supply, SUPPLY_LABELS, f"supplies.{supply.id}.", units)
    return [field for field in found if field.name != "unit"]


def part_title(role: str) -> str:
    """What a part of a stage is called."""
    return PARTS[role][0] if role in PARTS else role.replace("_", " ").capitalize()
