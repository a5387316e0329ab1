"""Ids, moments, authors and tokens of events about to be recorded."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence

from msgspec.structs import replace

from model.errors import StoreError
from model.home import Home
from model.records.events import AnyEvent


def numbered_after(recorded: Sequence[AnyEvent], events: Iterable[AnyEvent], by: str | None) -> list[AnyEvent]:
    """New events with the ids after those recorded, this moment, and who recorded them unless they say so.

    Args:
        recorded: the log so far.
        events: the new events; an id or a moment they have is replaced, a token is kept.
        by: who records; the login name where None.
    """
    return numbered_from(max([one.id for one in recorded], default=0) + 1, events, by)


def numbered_from(first: int, events: Iterable[AnyEvent], by: str | None) -> list[AnyEvent]:
    """The same, with the id that the first of them gets."""
    at, author, new = _now(), login() if by is None else by, list(events)
    group = first if len(new) > 1 else 0
    return [
        replace(one, id=number, at=at, by=one.by or author, group=group, token=one.token or _token())
        for number, one in enumerate(new, first)
    ]


def numbered_once(events: Iterable[AnyEvent], by: str | None) -> list[AnyEvent]:
    """The first events of a home. Those with an id are left as they are; the others come after all of these.

    Raises:
        StoreError: an id is there twice.
    """
    given = list(events)
    named = [one for one in given if one.id]
    if len({one.id for one in named}) < len(named):
        raise StoreError("These events cannot be written: an id is there more than once.", "Nothing was written.")
    new = [one for one in given if not one.id]
    return named + numbered_after(named, new, by) if new else named


def not_in(home: Home, events: Sequence[AnyEvent]) -> list[AnyEvent]:
    """Those of the events that the home does not hold yet, by their tokens. One without a token is new."""
    if not any(one.token for one in events):
        return list(events)
    there = {one.token for one in home.events} - {""}
    return [one for one in events if one.token not in there]


def _token() -> str:
    """Twelve letters that no other event has: 48 bits of chance, for some thousand events."""
    return os.urandom(6).hex()


def _now() -> str:
    # Here and not above: reading a home must not pay for the clock.
    from model.clock import stamp

    return stamp()


def login() -> str:
    """The name of who is logged in, "" where the system does not know it."""
    from getpass import getuser

    try:
        return getuser()
    except (OSError, KeyError, ImportError):
        return ""
