"""The house as it stands on a day: as first written down, with every change up to then applied.

A change that no longer fits (its stage is gone, its use is there already) is passed over.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from itertools import takewhile

import msgspec

from model.equipment.base import Stage
from model.errors import BadInput
from model.home import Home, House
from model.records.events import AnyEvent, Setting, StageAdded, StageRemoved, SupplyAdded, UseAdded, UseEnded
from model.records.history import voided
from model.records.uses import folded

Change = Setting | StageAdded | StageRemoved | SupplyAdded | UseAdded | UseEnded

FURTHEST_AHEAD_DAYS = 731
"""How far ahead a change can be written down: two years. Owner's default."""

_CHANGES = frozenset({Setting, StageAdded, StageRemoved, SupplyAdded, UseAdded, UseEnded})


def present(home: Home, today: date) -> House:
    """What stands there on `today`."""
    house = home.house
    for change in _standing_changes(home.events, today):
        house = _after(house, change)
    return house


def settings_changed(home: Home, today: date) -> list[tuple[date, House]]:
    """The days on which a setting changed, oldest first, each with the house as it stood before."""
    found: list[tuple[date, House]] = []
    day, opened = date.min, home.house
    for change, before, _ in _walk(home, _standing_changes(home.events, today)):
        if change.on > day:
            day, opened = change.on, before
        if isinstance(change, Setting) and (not found or found[-1][0] < day):
            found.append((day, opened))
    return found


def houses_since(home: Home, today: date) -> list[tuple[date, House]]:
    """Every house that stood or will stand here, each with the first day on which it holds, oldest first.

    The first holds from `date.min`. What is written down for later goes on after `today`, for two years. One walk over
    the changes; without any, one house.
    """
    found = [(date.min, home.house)]
    for change, before, after in _walk(home, _known_changes(home, today)):
        if after is not before:
            if found[-1][0] == change.on:
                found.pop()
            found.append((change.on, after))
    return found


def scheduled(home: Home, today: date) -> list[tuple[date, House]]:
    """The days after `today` on which something changes, soonest first, each with the house from that day on."""
    if not coming_changes(home, today):
        return []
    return [(on, house) for on, house in houses_since(home, today) if on > today]


def coming_changes(home: Home, today: date) -> list[Change]:
    """Changes written down for days after `today`, soonest first."""
    ahead = [event for event in home.events if type(event) in _CHANGES and event.on > today]
    return [one for one in _known_changes(home, today) if one.on > today] if ahead else []


def check_fits(home: Home, today: date, *changes: Change) -> None:
    """Refuse changes that would not hold from their day, or would push aside what is written down for later.

    Raises:
        BadInput: one does not fit the house as it stands on its day; a later change would no longer fit; or it lies
            more than two years ahead.
    """
    last = max((event.id for event in home.events), default=0)
    new = [msgspec.structs.replace(one, id=last + place) for place, one in enumerate(changes, start=1)]
    for one in new:
        check_ahead(one.on, today)
    before = {one.id for one, _ in _misfits(home, today)}
    for one, problem in _misfits(Home(home.house, (*home.events, *new)), today):
        if one.id > last:
            raise problem
        if one.id not in before:
            raise BadInput(f"With that, event {one.id} of {one.on} would no longer fit: {problem}")


def check_ahead(on: date, today: date) -> None:
    """Refuse a change further ahead than is looked at. Raises BadInput."""
    if (on - today).days > FURTHEST_AHEAD_DAYS:
        raise BadInput(f"{on} is more than two years ahead.", "Give an earlier day.")


def _misfits(home: Home, today: date) -> Iterator[tuple[Change, BadInput]]:
    house = home.house
    for change in _known_changes(home, today):
        try:
            house = changed(house, change)
        except BadInput as problem:
            yield change, problem


def stage_versions(changes: list[tuple[date, House]], stage: Stage) -> list[tuple[date, Stage]]:
    """A stage as its settings were, each with the day from which they held; from its first day the oldest."""
    found: list[tuple[date, Stage]] = []
    since = date.min
    before = [(on, house.stage(stage.id)) for on, house in changes]
    for on, version in [*before, (date.max, stage)]:
        if version is not None and (not found or found[-1][1] != version):
            found.append((since, version))
        since = on
    return found


def _walk(home: Home, changes: list[Change]) -> Iterator[tuple[Change, House, House]]:
    """Each change with the house before and after it; the same house where it does not fit."""
    house = home.house
    for change in changes:
        before, house = house, _after(house, change)
        yield change, before, house


def _after(house: House, change: Change) -> House:
    try:
        return changed(house, change)
    except BadInput:
        return house


def _known_changes(home: Home, today: date) -> list[Change]:
    """The standing changes, also those written down for the next two years."""
    every = _standing_changes(home.events, date.max)
    return list(takewhile(lambda one: (one.on - today).days <= FURTHEST_AHEAD_DAYS, every))


def _standing_changes(events: tuple[AnyEvent, ...], until: date) -> list[Change]:
    changes: list[Change] = [event for event in events if type(event) in _CHANGES and event.on <= until]  # type: ignore[misc]
    if not changes:
        return []
    gone = voided(events)
    return sorted((one for one in changes if one.id not in gone), key=lambda one: (one.on, one.id))


def changed(house: House, change: Change) -> House:
    """The house after one change, or BadInput saying what does not fit."""
    plain = msgspec.to_builtins(house)
    for table in ("stages", "supplies", "uses"):
        plain[table] = list(plain[table])
    if isinstance(change, Setting):
        _set(plain, change.path, change.value)
    elif isinstance(change, StageAdded):
        _insert(plain["stages"], change.stage, change.after)
    elif isinstance(change, StageRemoved):
        plain["stages"].remove(_named(plain["stages"], change.stage, "stage"))
    elif isinstance(change, SupplyAdded):
        _insert(plain["supplies"], change.supply, "")
    elif isinstance(change, UseAdded):
        _add_use(plain["uses"], change.use)
    elif isinstance(change, UseEnded):
        plain["uses"].remove(_use(plain["uses"], change.title))
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


def _add_use(uses: list[dict[str, object]], new: dict[str, object]) -> None:
    if any(folded(use["title"]) == folded(new.get("title")) for use in uses):
        raise BadInput(f"There is a use named {new.get('title')!r} already.", "End it first, or choose another name.")
    uses.append(new)


def _use(uses: list[dict[str, object]], title: str) -> dict[str, object]:
    for use in uses:
        if folded(use["title"]) == folded(title):
            return use
    known = ", ".join(str(use["title"]) for use in uses) or "none"
    raise BadInput(f"No use named {title!r} is in force then.", f"Uses then: {known}.")
