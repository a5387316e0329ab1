"""The command that takes back, or brings back, what was recorded."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from model.errors import BadInput, UnknownName
from model.records.history import voided
from model.records.log import (
    about,
    correction_of,
    describe,
    find_event,
    last_event,
    last_taken_back,
    taking_back,
)
from model.records.names import names_of
from tui.cli.home_file import by_command, print_json, repository

if TYPE_CHECKING:
    from model.home import Home
    from model.records.events import AnyEvent
    from model.store.repository import Repository
    from tui.cli.parser import Asked


def undo(asked: Asked) -> int:
    """Take back the last event, or the one named; for a correction, bring back what it took back."""
    store = repository(asked)
    home = store.load()
    event = last_event(home) if asked.event is None else find_event(home, asked.event)
    if event is None:
        raise UnknownName(
            "There is nothing to take back." if asked.event is None else f"There is no event {asked.event}."
        )
    if event.id in voided(home.events):
        raise BadInput(f"Event {event.id} was already taken back.", _way_back(home, event))
    return _take_back(store, home, event, asked)


def redo(asked: Asked) -> int:
    """Bring back what was last taken back, or the event named, however long ago that was."""
    store = repository(asked)
    home = store.load()
    if asked.event is None:
        correction = last_taken_back(home)
        if correction is None:
            raise UnknownName("There is nothing to bring back.")
        return _take_back(store, home, correction, asked)
    event = find_event(home, asked.event)
    if event is None:
        raise UnknownName(f"There is no event {asked.event}.")
    correction = correction_of(home, event)
    if correction is None:
        raise BadInput(f"Event {event.id} was not taken back.", "Nothing was recorded.")
    return _take_back(store, home, correction, asked)


def _take_back(store: Repository, home: Home, event: AnyEvent, asked: Asked) -> int:
    """Record that an event is taken back, and say what that comes to."""
    corrections = taking_back(home, event, asked.today)
    after = store.append(*(by_command(one) for one in corrections))
    recorded = after.events[-len(corrections) :]
    if asked.json:
        print_json({"event": msgspec.to_builtins(recorded[0])})
    else:
        lines = [describe(one, names_of(after)) for one in recorded]
        reverses = "brings it back" if lines[0][0] == "Taken back" else "takes it back again"
        print("\n".join(": ".join(line) for line in lines))
        print(f"Recorded as {recorded[0].id}; `wellward undo {recorded[0].id}` {reverses}.")
    return 0


def _way_back(home: Home, event: AnyEvent) -> str:
    """How to bring back what was taken back; for a correction, what it was about in the end."""
    found, _ = about({one.id: one for one in home.events}, event)
    correction = None if found is None else correction_of(home, found)
    if found is None:
        return ""
    what = "it" if found is event else f"event {found.id}"
    if correction is None:
        return f"`wellward undo {found.id}` takes {what} back again."
    return f"`wellward undo {correction.id}` brings {what} back."
