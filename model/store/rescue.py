"""Copies that hold what a home's file did not take: remembered until all is in the file, and taken in by events."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

import msgspec

from model.errors import StoreError
from model.home import Home
from model.records.events import AnyEvent
from model.store.files import look, make_folder, replace_file, telling
from model.store.lock import locked
from model.store.taking_in import missing_in


class Copy(msgspec.Struct, frozen=True):
    """A copy that was saved: of which home's file, where it lies, and the tokens of the events that waited then."""

    home: str
    path: str
    tokens: tuple[str, ...] = ()


class Found(msgspec.Struct, frozen=True):
    """A copy with `count` events that the home's file does not hold: the `events`, or the `problem` of reading it."""

    path: Path
    count: int
    events: tuple[AnyEvent, ...] = ()
    problem: str = ""

    @property
    def counted(self) -> str:
        """How many in words: "1 event", "3 events"."""
        return counted(self.count)


def counted(events: int) -> str:
    """A number of events in words."""
    return f"{events} event{'' if events == 1 else 's'}"


def copies_path() -> Path:
    """Where the copies are remembered: "copies.json" in the user's state folder for wellward."""
    # Here and not above: the screen and two commands alone ask for it.
    from platformdirs import user_state_path

    return user_state_path("wellward", appauthor=False) / "copies.json"


def remember(home: Path, copy: Path, events: Iterable[AnyEvent]) -> bool:
    """Remember a copy, with the events that waited when it was saved. False where that cannot be written."""
    tokens = tuple(one.token for one in events)
    return _kept([*(one for one in _all() if one.path != str(copy)), Copy(str(home), str(copy), tokens)])


def forget(copy: Path) -> None:
    """No longer remember a copy; its file is left where it is."""
    _kept([one for one in _all() if one.path != str(copy)])


def found_copies(path: Path, home: Home | None) -> tuple[Found, ...]:
    """The copies of a home's file that hold what it does not. One whose events are all in the file is forgotten.

    Args:
        path: the home's file, links followed.
        home: what it holds; None where it is not there or cannot be read.
    """
    found: list[Found] = []
    for one in _all():
        if one.home == str(path):
            told = _found(Path(one.path), one.tokens, home)
            if told.count:
                found.append(told)
            else:
                forget(told.path)
    return tuple(found)


def _found(path: Path, tokens: tuple[str, ...], home: Home | None) -> Found:
    from model.store.repository import Repository

    there = {one.token for one in home.events} if home else set()
    try:
        copy = Repository(path).load()
    except StoreError as problem:
        return Found(path, len([one for one in tokens if one not in there]), problem=problem.what)
    events = missing_in(home, copy) if home else copy.events
    return Found(path, len(events), events)


def _all() -> list[Copy]:
    try:
        seen = look(copies_path())
        return msgspec.json.decode(seen.text, type=list[Copy]) if seen else []
    except (StoreError, msgspec.DecodeError, UnicodeDecodeError):
        return []


def _kept(copies: list[Copy]) -> bool:
    path = copies_path()
    with suppress(StoreError), telling(path, "written"):
        make_folder(path.parent)
        with locked(path):
            replace_file(path, msgspec.json.encode(copies))
        return True
    return False
