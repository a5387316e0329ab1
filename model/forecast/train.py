"""The water carried through the train, stage by stage."""

from __future__ import annotations

from typing import NamedTuple

from model.equipment.registry import KINDS, AnyStage, kind_of
from model.errors import BadInput
from model.home import House
from model.records.history import History
from model.water.sample import Sample


class Carried(NamedTuple):
    """The water before and after each stage, by stage id; None where the source is unknown."""

    fed: dict[str, Sample | None]
    treated: dict[str, Sample | None]


def carry(house: House, history: History, source: Sample | None, bypassed: frozenset[str] = frozenset()) -> Carried:
    """Lead the source through the stages in order, round those on bypass (by their ids).

    A branch takes the water of the tap, and feeds no other stage.
    """
    carried = Carried({}, {})
    water = source
    main = [stage for stage in house.stages if not KINDS[kind_of(stage)].branch]
    branches = [stage for stage in house.stages if KINDS[kind_of(stage)].branch]
    for stage in main:
        carried.fed[stage.id] = water
        outlet = "tap" if stage is main[-1] else f"after_{stage.id}"
        water = carried.treated[stage.id] = water if stage.id in bypassed else _after(stage, water, history, outlet)
    for stage in branches:
        carried.fed[stage.id] = water
        carried.treated[stage.id] = _after(stage, water, history, "ro")
    return carried


def _after(stage: AnyStage, fed: Sample | None, history: History, outlet: str) -> Sample | None:
    treat = KINDS[kind_of(stage)].treat
    if fed is None or treat is None:
        return fed
    try:
        return treat(stage, fed, history, outlet)
    except BadInput:
        # Settings or readings that make no sense together: what leaves the stage is then not known.
        return None
