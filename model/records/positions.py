"""Where each valve handle stands and since when. In service is assumed until something else is recorded."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import msgspec

from model.home import House
from model.records.events import HandleMoved, Service, StageRemoved
from model.records.handles import IN_SERVICE, Handle, handles_of, handles_of_task, stays_moved
from model.records.history import History


class Position(msgspec.Struct, frozen=True):
    """One handle today. `since`: the day it came to stand so, None where nothing is recorded. `words`: the reason
    given, or what was accepted."""

    handle: Handle
    position: str = IN_SERVICE
    since: date | None = None
    words: str = ""

    @property
    def away(self) -> bool:
        """Whether it is out of service."""
        return self.position != IN_SERVICE


class _Move(msgspec.Struct, frozen=True):
    on: date
    event: int
    handle: str
    position: str
    words: str


def positions(house: House, history: History) -> tuple[Position, ...]:
    """Every handle of the house with its state, in the order of `handles_of`."""
    moves = sorted([*_moved(history), *_by_service(house, history)], key=lambda one: (one.on, one.event))
    gone = {one.stage: (one.on, one.id) for one in history.of(StageRemoved)}
    return tuple(_state(one, moves, gone.get(one.stage)) for one in handles_of(house))


def _moved(history: History) -> Iterator[_Move]:
    for one in history.of(HandleMoved):
        yield _Move(one.on, one.id, one.handle, one.position, one.note)


def _by_service(house: House, history: History) -> Iterator[_Move]:
    """A job that put its handles back, or left one moved as accepted in words."""
    for one in history.of(Service):
        if one.handles == IN_SERVICE and not one.accepted:
            for handle in handles_of_task(house, one.task):
                yield _Move(one.on, one.id, handle.id, IN_SERVICE, "")
        elif one.accepted:
            left = next((h for h in handles_of(house) if h.id == one.handles), None)
            left = (
                left or stays_moved(house, one.task, one.accepted) or next(iter(handles_of_task(house, one.task)), None)
            )
            if left is not None:
                yield _Move(one.on, one.id, left.id, left.away, one.accepted)


def _state(handle: Handle, moves: list[_Move], gone: tuple[date, int] | None) -> Position:
    """The last move counts, and its day is that of the first in a row to the same position. What happened to an
    earlier stage of the same name does not count."""
    found = Position(handle)
    for one in moves:
        known = one.position in (IN_SERVICE, handle.away)
        if one.handle == handle.id and known and (gone is None or (one.on, one.event) > gone):
            same = found.since is not None and found.position == one.position
            found = Position(handle, one.position, found.since if same else one.on, one.words)
    return found
