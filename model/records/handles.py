"""The valve handles of a house: which there are follows from its stages. And what people call their positions."""

from __future__ import annotations

from typing import Literal

import msgspec

from model.equipment.part import Part
from model.equipment.registry import AnyStage, kind_of, kind_of_id, title_of
from model.errors import BadInput, UnknownName
from model.home import House

IN_SERVICE = "service"
Away = Literal["bypass", "closed"]
"""Where a handle stands that is not in service."""

SHUT_OFF, HOSE = "house.shut_off", "house.hose"
DRILL = "shut_off_drill"
"""The job that moves every handle of the house."""

_OF_KIND: dict[str, tuple[str, str, Away]] = {
    "sediment_filter": ("bypass", "bypass", "bypass"),
    "neutralizer": ("bypass", "bypass", "bypass"),
    "softener": ("bypass", "bypass", "bypass"),
    "ultraviolet": ("bypass", "bypass", "bypass"),
    "reverse_osmosis": ("feed", "feed valve", "closed"),
    "part": ("bypass", "bypass", "bypass"),
}
"""Kind of stage -> its handle, what it is called, and where it stands out of service. Common practice, no source."""

_SERVICE_WORDS = frozenset({"service", "in service", "back", "back in service"})
_AWAY_WORDS: dict[Away, frozenset[str]] = {
    "bypass": frozenset({"bypass", "bypassed", "on bypass", "out of service"}),
    "closed": frozenset({"closed", "close", "shut", "off", "out of service"}),
}


class Handle(msgspec.Struct, frozen=True):
    """One valve handle: `id` ("softener.bypass"), what it is called, the stage it belongs to ("" for the house), and
    where it stands when it is not in service."""

    id: str
    title: str
    stage: str
    away: Away


def handles_of(house: House) -> tuple[Handle, ...]:
    """Every handle in the order the water meets them, the house's shut-off and hose first."""
    if not house.stages:
        return ()
    own = [Handle(SHUT_OFF, "House shut-off", "", "closed")]
    if house.hose:
        own.append(Handle(HOSE, "Hose bib", "", "closed"))
    return (*own, *(one for stage in house.stages for one in _of_stage(stage)))


def _of_stage(stage: AnyStage) -> tuple[Handle, ...]:
    if kind_of(stage) not in _OF_KIND or (isinstance(stage, Part) and not _in_the_water(stage)):
        return ()
    name, words, away = _OF_KIND[kind_of(stage)]
    return (Handle(f"{stage.id}.{name}", f"{title_of(stage)} {words}", stage.id, away),)


def _in_the_water(part: Part) -> bool:
    """Whether water passes a loose part: a battery has no handle."""
    return part.life_l is not None or part.protects_health


def handles_of_task(house: House, task: str) -> tuple[Handle, ...]:
    """The handles that a job moves: those of its stage; the shut-off for well and tank; all of them for the drill.

    None for a stage without one.
    """
    stage, _, job = task.partition(".")
    every = handles_of(house)
    if job == DRILL:
        return every
    if kind_of_id(stage) in ("well", "pressure_tank"):
        return tuple(one for one in every if one.id == SHUT_OFF)
    return tuple(one for one in every if one.stage == stage)


def stays_moved(house: House, task: str, words: str) -> Handle | None:
    """The handle of a job that stays moved by the words of who accepts it: the one named, else the first of its stage.

    None where the job has several and none is named, or the house has no such handle.
    """
    there = handles_of_task(house, task)
    said = words.casefold()
    named = [one for one in there if one.id in said or one.title.casefold() in said]
    if named:
        return named[0]
    return there[0] if len(there) == 1 else None


def left_moved(house: House, task: str, words: str) -> str:
    """The id of the handle that stays moved after a job, by the words that accept it; empty where there is none.

    Raises:
        BadInput: the job moves several handles and the words name none of them.
    """
    there = handles_of_task(house, task)
    left = stays_moved(house, task, words)
    if left is None and there:
        known = ", ".join(one.id for one in there)
        raise BadInput("Which handle stays moved?", f"Name it in the words: {known}.")
    return left.id if left else ""


def find_handle(house: House, typed: str) -> Handle:
    """The handle of an id, of a stage's id where it has one handle, or of a title.

    Raises:
        UnknownName: the house has no such handle.
    """
    wanted = typed.strip().casefold()
    for one in handles_of(house):
        if wanted and wanted in (one.id, one.stage, one.title.casefold()):
            return one
    known = ", ".join(one.id for one in handles_of(house)) or "none yet"
    raise UnknownName(f"There is no handle {typed[:60]!r}.", f"Handles: {known}.")


def parse_position(handle: Handle, typed: str) -> str:
    """A position as it is kept, from what was typed.

    Raises:
        BadInput: not a position of this handle.
    """
    said = " ".join(typed.casefold().split())
    if said in _SERVICE_WORDS or (said in ("open", "on") and handle.away == "closed"):
        return IN_SERVICE
    if said in _AWAY_WORDS[handle.away]:
        return handle.away
    raise BadInput(f"{handle.title} cannot stand on {typed[:60]!r}.", f"Say service or {handle.away}.")
