"""Moves a home's story by whole years so that it ends just before today: every reading keeps its month."""

from __future__ import annotations

from datetime import date, timedelta

import msgspec

from model.clock import add_months
from model.forecast.shelf import on_shelf
from model.forecast.situation import Situation
from model.home import Home, House
from model.records.contacts import current_contacts
from model.records.events import (
    Absence,
    AnyEvent,
    Correction,
    Explained,
    Guests,
    HandleMoved,
    LocalRule,
    PlaybookStep,
    Service,
)
from model.records.rules import current_rules


def redated(home: Home, today: date, months: int = 14) -> Home:
    """The last `months` of the story before today, moved by whole years.

    What came before is kept as the stock on the shelf and as the last time each job was done. The story must be longer
    than a year and `months` together, or its beginning will be missing.
    """
    last = max(event.on for event in home.events)
    years = today.year - last.year
    while _moved(last, years) < today:
        years += 1
    start = add_months(today, -months)
    moved = Home(_moved_house(home.house, years), tuple(_moved_event(event, years) for event in home.events))
    before = Situation(moved, start - timedelta(days=1))
    carried = _last_services(before)
    known: list[AnyEvent] = [
        *_handles_away(before),
        *current_rules(before.history).values(),
        *current_contacts(before.history).values(),
    ]
    kept = [event for event in moved.events if start <= event.on < today]
    return Home(_opened(before, start, carried), _renumbered([*carried, *known, *kept]))


def _moved(day: date, years: int) -> date:
    return add_months(day, 12 * years)


def _moved_house(house: House, years: int) -> House:
    stages = tuple(
        msgspec.structs.replace(stage, installed_on=_moved(stage.installed_on, years) if stage.installed_on else None)
        for stage in house.stages
    )
    return msgspec.structs.replace(house, started=_moved(house.started, years), stages=stages)


def _moved_event(event: AnyEvent, years: int) -> AnyEvent:
    on = _moved(event.on, years)
    moved = msgspec.structs.replace(event, on=on, at=f"{on}T18:00:00Z")
    if isinstance(moved, Absence | Guests):
        return msgspec.structs.replace(moved, until=_moved(moved.until, years))
    if isinstance(moved, Explained):
        return msgspec.structs.replace(moved, start=_moved(moved.start, years), end=_moved(moved.end, years))
    if isinstance(moved, LocalRule):
        return msgspec.structs.replace(moved, checked_on=_moved(moved.checked_on, years))
    return moved


def _last_services(before: Situation) -> list[Service]:
    """The last service of each task before the story opens, without its readings."""
    last = {event.task: event for event in before.history.of(Service)}
    return [msgspec.structs.replace(event, taken=()) for event in sorted(last.values(), key=lambda one: one.id)]


def _handles_away(before: Situation) -> list[HandleMoved]:
    """The handles that stood out of service when the story opens, since when and why."""
    return [
        HandleMoved(
            on=one.since, handle=one.handle.id, position=one.position, note=one.words, at=f"{one.since}T18:00:00Z"
        )
        for one in before.positions
        if one.away and one.since is not None
    ]


def _opened(before: Situation, start: date, carried: list[Service]) -> House:
    """The house as it would have been written down on `start`, with what lay on the shelf before the services kept."""
    there = on_shelf(before)
    supplies = tuple(
        msgspec.structs.replace(
            supply, on_shelf=there[supply.id] + sum(event.used.get(supply.id, 0.0) for event in carried)
        )
        for supply in before.house.supplies
    )
    return msgspec.structs.replace(before.home.house, started=start, supplies=supplies)


def _renumbered(events: list[AnyEvent]) -> tuple[AnyEvent, ...]:
    """Fresh ids from 1; a correction follows the event it voids, a step the start of its playbook, and is dropped if
    that is gone."""
    new = {event.id: number for number, event in enumerate(events, start=1)}
    kept: list[AnyEvent] = []
    for event in events:
        followed = _follows(event)
        if followed is None:
            kept.append(msgspec.structs.replace(event, id=new[event.id]))
        elif followed[1] in new:
            field, what = followed
            kept.append(msgspec.structs.replace(event, id=new[event.id], **{field: new[what]}))
    return tuple(kept)


def _follows(event: AnyEvent) -> tuple[str, int] | None:
    """The field in which an event names another one by its id, and that id; None where it names none."""
    if isinstance(event, Correction):
        return "voids", event.voids
    return ("started", event.started) if isinstance(event, PlaybookStep) else None
