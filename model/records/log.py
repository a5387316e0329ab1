"""The log in words."""

from __future__ import annotations

from datetime import date

import msgspec

from model.home import Home
from model.records.events import (
    Absence,
    AnyEvent,
    Correction,
    Incident,
    LabReport,
    MeterReplaced,
    PausedService,
    Purchase,
    Reading,
    Service,
    Setting,
    ShelfCount,
    StageAdded,
    StageRemoved,
    SupplyAdded,
    Taken,
)
from model.records.history import voided


class LogLine(msgspec.Struct, frozen=True):
    """One event for people. `voided`: it was taken back."""

    id: int
    on: date
    what: str
    detail: str
    voided: bool


def log_lines(home: Home) -> tuple[LogLine, ...]:
    """Every event ever recorded, in the order recorded, those taken back marked."""
    gone = voided(home.events)
    return tuple(
        LogLine(event.id, event.on, *describe(event), event.id in gone)  # the two words of describe
        for event in home.events
    )


def last_event(home: Home) -> AnyEvent | None:
    """The last event recorded that still stands and is not itself a correction: what undo takes back."""
    gone = voided(home.events)
    standing = [event for event in home.events if event.id not in gone and not isinstance(event, Correction)]
    return max(standing, key=lambda event: event.id, default=None)


def find_event(home: Home, number: int) -> AnyEvent | None:
    """The event of that id, or None."""
    return next((event for event in home.events if event.id == number), None)


def taken_in_words(taken: Taken) -> str:
    """One measured quantity as it was entered."""
    said = taken.entered or f"{taken.value:g}"
    mark = taken.qualifier if taken.qualifier != "=" and not said.startswith(taken.qualifier) else ""
    return f"{taken.quantity.replace('_', ' ')} {mark}{said} at {taken.point.replace('_', ' ')}"


def describe(event: AnyEvent) -> tuple[str, str]:
    """What an event was, and its particulars with the note."""
    what, detail = _words(event)
    return what, f"{detail}; {event.note}" if event.note and detail else detail or event.note


def _words(event: AnyEvent) -> tuple[str, str]:
    if isinstance(event, Service):
        return f"Service {event.task}", _service(event)
    if isinstance(event, PausedService):
        return f"Left half-way {event.task}", f"{len(event.ticked)} steps ticked"
    if isinstance(event, Reading):
        return "Reading", taken_in_words(event.taken)
    if isinstance(event, LabReport):
        return f"Laboratory report, {event.point}", ", ".join(
            f"{one.quantity} {one.entered or format(one.value, 'g')}" for one in event.taken
        )
    if isinstance(event, Purchase):
        return "Bought", f"{event.quantity:g} of {event.supply}" + (f" for {event.price:.2f}" if event.price else "")
    if isinstance(event, ShelfCount):
        return "Shelf counted", f"{event.quantity:g} of {event.supply}"
    return _changes(event)


def _changes(event: AnyEvent) -> tuple[str, str]:
    if isinstance(event, Setting):
        return "Setting", f"{event.path} from {event.was} to {event.value}"
    if isinstance(event, StageAdded):
        return "Stage added", str(event.stage.get("id", ""))
    if isinstance(event, StageRemoved):
        return "Stage removed", event.stage
    if isinstance(event, SupplyAdded):
        return "Supply added", str(event.supply.get("title", ""))
    if isinstance(event, Absence):
        return "Away", f"until {event.until}"
    if isinstance(event, MeterReplaced):
        return "Meter replaced", f"old {event.old_reading_l:,.0f} L, new {event.new_reading_l:,.0f} L"
    if isinstance(event, Incident):
        return "Happened", event.what
    return ("Taken back", f"event {event.voids}") if isinstance(event, Correction) else ("Event", "")


def _service(event: Service) -> str:
    used = [f"{amount:g} of {supply}" for supply, amount in event.used.items()]
    taken = [taken_in_words(one) for one in event.taken]
    handles = [f"handles: {event.accepted or event.handles}"] if event.accepted or event.handles else []
    return ", ".join([*used, *taken, *handles])
