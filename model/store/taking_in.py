"""What another file of the same home holds that this one does not."""

from __future__ import annotations

from model.home import Home
from model.records.events import AnyEvent
from model.store.unsaved import renumbered_after


def missing_in(home: Home, other: Home) -> tuple[AnyEvent, ...]:
    """The events of another file of the same home that this one does not hold, in their order, as they stand there.

    Events are the same by their tokens; those from before there were tokens by their ids.
    """
    there = _names(home)
    return tuple(one for one in other.events if _name(one) not in there)


def to_take_in(home: Home, other: Home) -> tuple[AnyEvent, ...]:
    """The same, with the ids that they get after those of the home, and what they say of other events too."""
    there = _names(home)
    became = {one.id: there[_name(one)] for one in other.events if _name(one) in there}
    return renumbered_after(home, missing_in(home, other), became)


def _names(home: Home) -> dict[str | int, int]:
    return {_name(one): one.id for one in home.events}


def _name(event: AnyEvent) -> str | int:
    return event.token or event.id
