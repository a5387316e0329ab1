"""The house as it stands on a day: as first written down, with every later change applied."""

from __future__ import annotations

from datetime import date, timedelta

import msgspec

from model.equipment.base import Stage
from model.errors import BadInput
from model.home import Home, House
from model.records.events import AnyEvent, Setting, StageAdded, StageRemoved, SupplyAdded
from model.records.history import voided

_CHANGES = frozenset({Setting, StageAdded, StageRemoved, SupplyAdded})


def present(home: Home, today: date) -> House:
    """What stands there on `today`. A change that no longer fits (its stage is gone) is passed over."""
    changes = _standing_changes(home.events, today)
    house = home.house
    for change in changes:
        try:
            house = changed(house, change)
        except BadInput:
            continue
    return house


def settings_changed(home: Home, today: date) -> list[tuple[date, House]]:
    """The days on which a setting changed, oldest first, each with the house as it stood before."""
    days = sorted({one.on for one in _standing_changes(home.events, today) if isinstance(one, Setting)})
    return [(on, present(home, on - timedelta(days=1))) for on in days]


def stage_versions(changes: list[tuple[date, House]], stage: Stage) -> list[tuple[date, Stage]]:
    """A stage as its settings were, each with the day from which they held; from its first day the oldest."""
    found: list[tuple[date, Stage]] = []
    since = date.min
    before = [(on, next((one for one in house.stages if one.id == stage.id), None)) for on, house in changes]
    for on, version in [*before, (date.max, stage)]:
        if version is not None and (not found or found[-1][1] != version):
            found.append((since, version))
        since = on
    return found


def _standing_changes(events: tuple[AnyEvent, ...], today: date) -> list[AnyEvent]:
    changes = [event for event in events if type(event) in _CHANGES and event.on <= today]
    if not changes:
        return []
    gone = voided(events)
    return sorted((one for one in changes if one.id not in gone), key=lambda one: (one.on, one.id))


def changed(house: House, change: AnyEvent) -> House:
    """The house after one change, or BadInput saying what does not fit."""
    plain = msgspec.to_builtins(house)
    plain["stages"], plain["supplies"] = list(plain["stages"]), list(plain["supplies"])
    if isinstance(change, Setting):
        _set(plain, change.path, change.value)
    elif isinstance(change, StageAdded):
        _insert(plain["stages"], change.stage, change.after)
    elif isinstance(change, StageRemoved):
        plain["stages"].remove(_named(plain["stages"], change.stage, "stage"))
    elif isinstance(change, SupplyAdded):
        _insert(plain["supplies"], change.supply, "")
    try:
        return msgspec.convert(plain, House)
    except msgspec.ValidationError as problem:
        raise BadInput(f"That does not fit the description of the house: {problem}.") from problem


def _set(plain: dict[str, object], path: str, value: object) -> None:
    """Put a value at "people" or "stages.softener.salt_dose_kg" of the plain description."""
    *way, field = path.split(".")
    target = plain
    if way:
        if len(way) != 2 or way[0] not in ("stages", "supplies"):
            raise BadInput(f"There is no setting {path!r}.", "See the House screen for the settings.")
        target = _named(plain[way[0]], way[1], way[0].rstrip("s"))  # type: ignore[arg-type]
    if field in ("stages", "supplies", "uses", "id", "kind") or field not in target:
        raise BadInput(f"There is no setting {path!r}.", "See the House screen for the settings.")
    target[field] = value


def _named(rows: list[dict[str, object]], name: str, what: str) -> dict[str, object]:
    for row in rows:
        if row["id"] == name:
            return row
    raise BadInput(f"This house has no {what} {name!r}.")


def _insert(rows: list[dict[str, object]], new: dict[str, object], after: str) -> None:
    if any(row["id"] == new.get("id") for row in rows):
        raise BadInput(f"{new.get('id')!r} is already there.", "Choose another id.")
    places = [place for place, row in enumerate(rows) if row["id"] == after]
    rows.insert(places[0] + 1 if places else len(rows), new)
