"""Jobs left half-way: each tick saves how far one has got, and only the last of these saves says something."""

from __future__ import annotations

from collections.abc import Sequence

from model.records.events import AnyEvent, PausedService, Service
from model.records.history import voided


def superseded(events: Sequence[AnyEvent]) -> frozenset[int]:
    """Ids of pauses that a later pause of the same task, or its being done, has made obsolete."""
    last = _last(events, pauses=True)
    return frozenset(one.id for one in events if isinstance(one, PausedService) and one.id < last[one.task])


def same_visit(events: Sequence[AnyEvent], pause: PausedService) -> tuple[AnyEvent, ...]:
    """The standing pauses of a task since it was last done: taking one back alone would bring an older one back."""
    gone, done = voided(events), _last(events, pauses=False).get(pause.task, 0)
    return tuple(
        one
        for one in events
        if isinstance(one, PausedService) and one.task == pause.task and one.id > done and one.id not in gone
    )


def _last(events: Sequence[AnyEvent], *, pauses: bool) -> dict[str, int]:
    """Task -> id of the last time it was done and this was not taken back, or left half-way if `pauses`."""
    gone = voided(events)
    found: dict[str, int] = {}
    for one in events:
        if (isinstance(one, Service) and one.id not in gone) or (pauses and isinstance(one, PausedService)):
            found[one.task] = max(found.get(one.task, 0), one.id)
    return found
