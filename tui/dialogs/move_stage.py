"""The forms for a stage that stands elsewhere in the train now, and for one that another has taken the place of."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from model.equipment.registry import KINDS, AnyStage, kind_of, title_of
from model.errors import BadInput
from model.forecast.present import Change
from model.records.events import HandleMoved, StageAdded, StageRemoved
from model.records.positions import positions
from model.records.typed import parse_date
from tui.dialogs.add_stage import Added, replacing_form
from tui.dialogs.edit_setting import date_entry
from tui.dialogs.form import Entry, Form
from tui.dialogs.trial import refuse_unless, tried
from tui.key_words import key

if TYPE_CHECKING:
    from datetime import date

    from tui.view import View

Moved = tuple[StageRemoved | StageAdded | HandleMoved, ...]


def move_form(stage: AnyStage, view: View) -> Form[Moved]:
    """A form that asks after which stage this one stands now. The stage keeps its id, and with it its history.

    Raises:
        BadInput: it has no place of its own in the train, or no other stage stands there.
    """
    places = _places(stage, view)
    before = _before(stage, view)

    def take(typed: dict[str, str]) -> Moved:
        if typed["after"] == before:
            raise BadInput("That is where it stands already.", "Choose another place, or go back with Escape.")
        return _moved(stage, typed["after"], parse_date(typed["on"], view.today), view)

    where = Entry(id="after", label="Where", value=before or places[0][0], choices=places)
    about = (
        f"The water is worked out in the new order from that day on. Its history stays with it. {key('undo')} takes "
        "this back."
    )
    entries = (where, date_entry(view.today, "Moved on"))
    return Form(f"Move: {title_of(stage)}", entries, take, about=about, save="Move")


def _in_line(view: View) -> list[AnyStage]:
    return [one for one in view.house.stages if not KINDS[kind_of(one)].branch]


def _places(stage: AnyStage, view: View) -> tuple[tuple[str, str], ...]:
    line = _in_line(view)
    others = [one for one in line if one.id != stage.id]
    if kind_of(stage) == "well" or stage not in line or not others:
        raise BadInput(f"{title_of(stage)} has no other place to stand.", "Stages between well and tap can be moved.")
    return tuple((one.id, f"after {title_of(one)}") for one in others)


def _before(stage: AnyStage, view: View) -> str:
    ids = [one.id for one in _in_line(view)]
    place = ids.index(stage.id)
    return ids[place - 1] if place else ""


def _moved(stage: AnyStage, after: str, on: date, view: View) -> Moved:
    if on > view.today:
        raise BadInput("That day has not come yet.", "Move the stage when it is moved.")
    changes = (
        StageRemoved(on=on, stage=stage.id),
        StageAdded(on=on, stage=msgspec.to_builtins(stage), after=after),
    )
    house = tried(view.home, view.today, *changes)
    ids = [one.id for one in house.stages]
    refuse_unless(stage.id in ids and ids.index(stage.id) == ids.index(after) + 1, on)
    return (*changes, *_handles_again(stage, on, view))


def _handles_again(stage: AnyStage, on: date, view: View) -> list[HandleMoved]:
    """Where its handles stand is said again, for with a stage that goes its handles are forgotten."""
    return [
        HandleMoved(on=on, handle=one.handle.id, position=one.position, note=one.words)
        for one in positions(view.house, view.history)
        if one.handle.stage == stage.id and one.since is not None and one.since <= on and one.position != "service"
    ]


def replace_form(stage: AnyStage, view: View) -> Form[tuple[Change, ...]]:
    """A form for the stage of the same kind that stands in the place of this one. The new one has a new id.

    What was read and done on the old one stays in the log and says nothing about the new one.
    """

    def then(added: Added) -> tuple[Change, ...]:
        supplies, new = added
        placed = msgspec.structs.replace(new, after=stage.id)
        changes: tuple[Change, ...] = (*supplies, placed, StageRemoved(on=new.on, stage=stage.id))
        ids = [one.id for one in tried(view.home, view.today, *changes).stages]
        refuse_unless(stage.id not in ids, new.on)
        return changes

    return replacing_form(kind_of(stage), view, title_of(stage), then)
