"""The forms for a stage put into the train: first its kind, then its place, sizes and parts."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, TypeVar

import msgspec

from model.equipment.labels import PARTS
from model.equipment.registry import KINDS, AnyStage, kind_of, title_of
from model.errors import BadInput
from model.home import House, Supply
from model.records.events import StageAdded, StageRemoved, SupplyAdded
from model.records.typed import parse_date
from tui.dialogs.add_supply import new_id
from tui.dialogs.edit_setting import date_entry, value_entry
from tui.dialogs.form import Entry, Form
from tui.dialogs.pick import Pick
from tui.dialogs.trial import refuse_unless, tried
from tui.key_words import key
from tui.widgets.setting_text import check_pairs, read_value, unit_of
from tui.widgets.settings import Field, part_title, stage_fields

if TYPE_CHECKING:
    from tui.view import View

T = TypeVar("T")
Added = tuple[tuple[SupplyAdded, ...], StageAdded]

_NEW, _NONE = "+", "-"
_ONCE = frozenset({"well"})
"""Kinds of which a house has one: the plan knows one source."""


def kind_list(house: House) -> Pick:
    """A list that answers with the kind of stage to add."""
    there = {kind_of(stage) for stage in house.stages}
    kinds = tuple((kind, title_of(blank(kind, kind))) for kind in KINDS if kind not in _ONCE & there)
    first = next((kind for kind in KINDS if kind not in there), "part")
    about = "What was put in? “Part” is anything else with a life: a battery, a valve, a hose."
    about += " The well is there already; a house has one." if _ONCE & there else ""
    return Pick("Add a stage", kinds, about=about, first=first)


def blank(kind: str, stage_id: str) -> AnyStage:
    """A stage of a kind with all its defaults."""
    found: AnyStage = msgspec.convert({"kind": kind, "id": stage_id}, AnyStage)
    return found


def stage_form(kind: str, view: View) -> Form[Added]:
    """A form that answers with the supplies that its jobs need, and the new stage."""
    return _form(kind, view, "", lambda supplies, stage: (supplies, stage))


def replacing_form(kind: str, view: View, old: str, then: Callable[[Added], T]) -> Form[T]:
    """The same for a stage that stands in the place of another, called `old`; `then` makes the answer of it."""
    return _form(kind, view, old, lambda supplies, stage: then((supplies, stage)))


def _form(kind: str, view: View, old: str, then: Callable[[tuple[SupplyAdded, ...], StageAdded], T]) -> Form[T]:
    house, today = view.house, view.today
    stage = blank(kind, new_stage_id(kind, house))
    if kind in {kind_of(one) for one in house.stages}:
        stage = msgspec.structs.replace(stage, title=title_of(stage))
    fields = [field for field in stage_fields(stage) if field.name != "installed_on"]
    roles = part_roles(stage)
    entries = (
        *(() if old else (_place_entry(kind, house),)),
        date_entry(today, "Put in on"),
        *(_field_entry(field, house) for field in fields),
        *(_part_entry(role, house) for role in roles),
    )

    def take(typed: dict[str, str]) -> T:
        return then(*_added({"after": "", **typed}, stage, fields, roles, view))

    about = "What is not changed stays at its default. Sizes are on the plate or in the manual."
    title, save = (f"In place of: {old}", "Replace") if old else (f"Add: {title_of(stage)}", "Add")
    return Form(title, entries, take, about=about, save=save, key=f"{save} {kind} {old}")


def new_stage_id(kind: str, house: House) -> str:
    """The kind, or with _2, _3 for a second and third."""
    used = {stage.id for stage in house.stages}
    return next(name for name in (kind, *(f"{kind}_{count}" for count in range(2, 1000))) if name not in used)


def part_roles(stage: AnyStage) -> list[str]:
    """The parts that the stage's jobs use, in the order of the jobs."""
    return list(dict.fromkeys(role for job in KINDS[kind_of(stage)].all_jobs for role in job.parts))


def _place_entry(kind: str, house: House) -> Entry:
    """Where in the train: by default after the last stage that usually stands before this kind."""
    if KINDS[kind].branch:
        return Entry(id="after", label="Where", value="", choices=(("", "off the tap, beside the train"),))
    if kind == "well":
        return Entry(id="after", label="Where", value="", choices=(("", "before everything"),))
    order = list(KINDS)
    places = [stage for stage in house.stages if not KINDS[kind_of(stage)].branch]
    if kind == "pressure_tank":
        places = [stage for stage in places if order.index(kind_of(stage)) <= order.index("sediment_filter")]
    before = [stage.id for stage in places if order.index(kind_of(stage)) <= order.index(kind)]
    choices = tuple((stage.id, f"after {title_of(stage)}") for stage in places) or (("", "first in the train"),)
    return Entry(id="after", label="Where", value=before[-1] if before else choices[0][0], choices=choices)


def _field_entry(field: Field, house: House) -> Entry:
    state = "default"
    if field.value in (None, ""):
        state = "" if field.label.tells.startswith("empty") else "may stay empty"
    told = (unit_of(field, house.units), state, field.label.tells)
    hint = ", ".join(words for words in told if words)
    return value_entry(field, house, f"set_{field.name}", field.label.label, hint)


def _part_entry(role: str, house: House) -> Entry:
    there = {supply.id for supply in house.supplies}
    listed = tuple((supply.id, supply.title) for supply in house.supplies)
    choices = ((_NEW, "new on the shelf list"), (_NONE, "none"), *listed)
    return Entry(
        id=f"part_{role}",
        label=f"Part: {part_title(role)}",
        value=role if role in there else _NEW,
        choices=choices,
        hint="supply that serves it",
    )


def _added(typed: dict[str, str], stage: AnyStage, fields: list[Field], roles: list[str], view: View) -> Added:
    on = parse_date(typed["on"], view.today)
    if on > view.today:
        raise BadInput("That day has not come yet.", "Add the stage when it is in.")
    supplies, links = _supplies(typed, roles, view.house)
    plain = msgspec.to_builtins(stage)
    plain |= {field.name: read_value(field, typed[f"set_{field.name}"], view.house.units) for field in fields}
    plain |= {"installed_on": on.isoformat(), "supplies": links}
    listed = tuple(SupplyAdded(on=on, supply=msgspec.to_builtins(supply)) for supply in supplies)
    added = StageAdded(on=on, stage=plain, after=typed["after"])
    there = [one for one in tried(view.home, view.today, *listed, added).stages if one.id == stage.id]
    refuse_unless(bool(there), on)
    check_pairs(there[0])
    return listed, added


def _supplies(typed: dict[str, str], roles: list[str], house: House) -> tuple[list[Supply], dict[str, str]]:
    """The supplies to put on the list, and which supply serves which part."""
    new: list[Supply] = []
    links: dict[str, str] = {}
    for role in roles:
        chosen = typed[f"part_{role}"]
        if chosen == _NEW:
            title, unit, pack = PARTS.get(role, (part_title(role), "each", 1.0))
            if role == "part":
                title = typed.get("set_title", "").strip() or title
            supply = Supply(id=new_id(role, house), title=title, unit=unit, pack=pack)
            new.append(supply)
            house = msgspec.structs.replace(house, supplies=(*house.supplies, supply))
            chosen = supply.id
        if chosen != _NONE:
            links[role] = chosen
    return new, links


def remove_form(stage: AnyStage, view: View) -> Form[StageRemoved]:
    """A form that asks before a stage is taken out, and from which day."""

    def take(typed: dict[str, str]) -> StageRemoved:
        on = parse_date(typed["on"], view.today)
        if on > view.today:
            raise BadInput("That day has not come yet.", "Take the stage out of the list when it is out.")
        removed = StageRemoved(on=on, stage=stage.id)
        refuse_unless(all(one.id != stage.id for one in tried(view.home, view.today, removed).stages), on)
        return removed

    about = (
        "Its jobs are no longer planned and the water is worked out without it. Its history stays in the log. "
        f"{key('undo')} takes this back."
    )
    return Form(
        f"Take out: {title_of(stage)}?", (date_entry(view.today, "Taken out on"),), take, about=about, save="Take out"
    )
