"""Everything wrong in a home's file, for its owner to read. Nothing here stops at the first find."""

from __future__ import annotations

import json
from collections.abc import Iterable
from itertools import pairwise

from model.home import Home, House
from model.records.events import (
    Absence,
    AnyEvent,
    Correction,
    Explained,
    FindingAnswered,
    Guests,
    HandleMoved,
    LocalRule,
    PausedService,
    PlaybookStarted,
    PlaybookStep,
    Reading,
    Service,
    UseAdded,
)
from model.records.handles import IN_SERVICE
from model.records.quantities import can_be
from model.records.stays import can_be_guests
from model.records.uses import described_use
from model.store.codec import contents
from model.store.problem import Problem

_MEND = "Mend the file in a text editor, or bring a backup back with `wellward restore`."


def problems_in(text: bytes) -> tuple[Problem, ...]:
    """All problems of a file's text: what keeps it from being read, and what is odd in a file that can be read."""
    found = contents(text)
    problems = list(found) if isinstance(found, tuple) else _odd(found.home)
    problems += _written_twice(text)
    return tuple(one if one.now else Problem(one.where, one.what, _MEND) for one in problems)


def _odd(home: Home) -> list[Problem]:
    ids = {event.id for event in home.events}
    odd = [*_same_ids(home.house), *(found for event in home.events for found in _odd_event(event, ids))]
    return [*odd, *_odd_playbooks(home.events)]


def _same_ids(house: House) -> Iterable[Problem]:
    for name, ids in (("stages", [one.id for one in house.stages]), ("supplies", [one.id for one in house.supplies])):
        for twice in sorted({one for one in ids if ids.count(one) > 1}):
            yield Problem(f"house, {name}", f"the id {twice!r} is there more than once.")


def _odd_event(event: AnyEvent, ids: set[int]) -> Iterable[Problem]:
    if isinstance(event, Correction) and event.voids not in ids:
        yield Problem(f"event {event.id}", f"it takes back event {event.voids}, which is not there.")
    yield from _odd_values(event)
    yield from _odd_water(event)
    yield from _odd_answer(event)
    yield from _odd_valves(event)
    if isinstance(event, Service | PausedService) and not _is_task(event.task):
        yield Problem(
            f"event {event.id}", f"{event.task!r} is not a task: a stage and a job, like softener.salt_check."
        )


def _odd_values(event: AnyEvent) -> Iterable[Problem]:
    taken = (event.taken,) if isinstance(event, Reading) else getattr(event, "taken", ())
    for one in taken:
        if not can_be(one.quantity, one.value):
            yield Problem(f"event {event.id}", f"{one.quantity} {one.value:g} cannot be; it is left out of everything.")
        if one.since_regeneration_l is not None and one.since_regeneration_l < 0.0:
            yield Problem(f"event {event.id}", f"{one.since_regeneration_l:g} L cannot have run since a regeneration.")


def _odd_water(event: AnyEvent) -> Iterable[Problem]:
    where = f"event {event.id}"
    if isinstance(event, Absence | Guests) and event.until < event.on:
        yield Problem(where, f"it ends ({event.until}) before it begins ({event.on}); it counts nothing.")
    if isinstance(event, Guests) and not can_be_guests(event.people):
        yield Problem(where, f"{event.people:g} guests cannot be; it counts nothing.")
    if isinstance(event, UseAdded) and described_use(event.use) is None:
        yield Problem(where, "it does not describe a use of water; it counts nothing.")
    if isinstance(event, Explained) and event.end <= event.start:
        yield Problem(where, f"it ends ({event.end}) before it begins ({event.start}); it explains nothing.")


def _odd_answer(event: AnyEvent) -> Iterable[Problem]:
    if not isinstance(event, FindingAnswered):
        return
    where = f"event {event.id}"
    if event.answer == "snoozed" and (event.until is None or event.until <= event.on):
        yield Problem(where, "it puts a finding off, but not to a later day; it hides nothing.")
    if event.answer == "dismissed" and not event.reason.strip():
        yield Problem(where, "it dismisses a finding without a reason; it hides nothing.")


def _odd_valves(event: AnyEvent) -> Iterable[Problem]:
    where = f"event {event.id}"
    if isinstance(event, HandleMoved) and event.position not in (IN_SERVICE, "bypass", "closed"):
        yield Problem(where, f"{event.position!r} is no position of a handle; it counts nothing.")
    if isinstance(event, LocalRule) and event.checked_on > event.on:
        yield Problem(where, f"it was asked about ({event.checked_on}) after it was written down ({event.on}).")


def _odd_playbooks(events: Iterable[AnyEvent]) -> Iterable[Problem]:
    begun = {event.id: event.playbook for event in events if isinstance(event, PlaybookStarted)}
    known = _known_playbooks() if begun else frozenset()
    for number, name in begun.items():
        if name not in known:
            yield Problem(f"event {number}", f"this program has no playbook {name!r}; it asks for nothing.")
    for event in events:
        if isinstance(event, PlaybookStep) and event.started not in begun:
            yield Problem(f"event {event.id}", f"event {event.started} began no playbook; the step counts nowhere.")


def _known_playbooks() -> frozenset[str]:
    from model.upkeep.playbook import all_playbook_ids  # loading a home must not pay for it

    return frozenset(all_playbook_ids())


def _is_task(task: str) -> bool:
    parts = task.split(".")
    return len(parts) == 2 and all(part.isidentifier() and part.isascii() for part in parts)


def _written_twice(text: bytes) -> list[Problem]:
    """Names that one object has twice: JSON readers take the last one and lose the others without a word."""
    twice: list[str] = []

    def noting(pairs: list[tuple[str, object]]) -> dict[str, object]:
        found = dict(pairs)
        if len(found) < len(pairs):
            names = sorted(name for name, _ in pairs)
            twice.extend(sorted({name for name, after in pairwise(names) if name == after}))
        return found

    try:
        json.loads(text, object_pairs_hook=noting)
    except (ValueError, RecursionError):
        return []
    return [Problem(_where(name), "it is there more than once; only the last one counts.") for name in twice]


def _where(name: str) -> str:
    return f"event {name}" if name.isdecimal() else f"field {name}"
