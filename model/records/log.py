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

Names = dict[str, tuple[str, str]]
"""Supply id -> title and unit."""


class LogLine(msgspec.Struct, frozen=True):
    """One event for people. `voided`: it was taken back."""

    id: int
    on: date
    what: str
    detail: str
    voided: bool


def log_lines(home: Home) -> tuple[LogLine, ...]:
    """Every event ever recorded, in the order recorded, those taken back marked."""
    gone, named = voided(home.events), _named(home)
    return tuple(
        LogLine(event.id, event.on, *describe(event, named), event.id in gone)  # the two words of describe
        for event in home.events
    )


def _named(home: Home) -> Names:
    """What the supplies are called, and the unit each is counted in."""
    added = [event.supply for event in home.events if isinstance(event, SupplyAdded)]
    units = {str(one.get("id")): (str(one.get("title", "")), str(one.get("unit", "each"))) for one in added}
    return units | {supply.id: (supply.title, supply.unit) for supply in home.house.supplies}


def last_event(home: Home) -> AnyEvent | None:
    """The last event recorded that still stands and is not itself a correction: what undo takes back."""
    gone = voided(home.events)
    standing = [event for event in home.events if event.id not in gone and not isinstance(event, Correction)]
    return max(standing, key=lambda event: event.id, default=None)


def recorded_with(home: Home, event: AnyEvent) -> tuple[AnyEvent, ...]:
    """An event and what was recorded in one go with it and still stands, in that order."""
    gone = voided(home.events)
    return tuple(
        one
        for one in home.events
        if one.id == event.id or (event.group and one.group == event.group and one.id not in gone)
    )


def taking_back(home: Home, event: AnyEvent, on: date) -> tuple[Correction, ...]:
    """The corrections that take an event back, with all that was recorded in one go with it."""
    named = _named(home)
    return tuple(
        Correction(on=on, voids=one.id, note=": ".join(describe(one, named))) for one in recorded_with(home, event)
    )


def find_event(home: Home, number: int) -> AnyEvent | None:
    """The event of that id, or None."""
    return next((event for event in home.events if event.id == number), None)


def taken_in_words(taken: Taken) -> str:
    """One measured quantity as it was entered, with its place."""
    return f"{_measured(taken)} at {taken.point.replace('_', ' ')}"


def _measured(taken: Taken) -> str:
    """A quantity and its value: a bound with its sign, a pad as an interval."""
    said = taken.entered or f"{taken.value:g}" + ("" if taken.high is None else f"-{taken.high:g}")
    mark = taken.qualifier if taken.qualifier != "=" and not said.startswith(taken.qualifier) else ""
    return f"{taken.quantity.replace('_', ' ')} {mark}{said}"


def describe(event: AnyEvent, named: Names | None = None) -> tuple[str, str]:
    """What an event was, and its particulars with the note. `named`: what the supplies are called, by id."""
    what, detail = _words(event, named or {})
    return what, f"{detail}; {event.note}" if event.note and detail else detail or event.note


def _words(event: AnyEvent, named: Names) -> tuple[str, str]:
    if isinstance(event, Service):
        return f"Service {event.task}", _service(event, named)
    if isinstance(event, PausedService):
        return f"Left half-way {event.task}", f"{len(event.ticked)} steps ticked"
    if isinstance(event, Reading):
        return "Reading", taken_in_words(event.taken)
    if isinstance(event, LabReport):
        return f"Laboratory report, {event.point.replace('_', ' ')}", ", ".join(_measured(one) for one in event.taken)
    if isinstance(event, Purchase):
        paid = f" for {event.price:.2f}" if event.price is not None else ""
        return "Bought", _counted(event.supply, event.quantity, named) + paid
    if isinstance(event, ShelfCount):
        return "Shelf counted", _counted(event.supply, event.quantity, named)
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


def _service(event: Service, named: Names) -> str:
    used = [_counted(supply, amount, named) for supply, amount in event.used.items()]
    taken = [taken_in_words(one) for one in event.taken]
    handles = [f"handles: {event.accepted or event.handles}"] if event.accepted or event.handles else []
    return ", ".join([*used, *taken, *handles])


def _counted(supply: str, amount: float, named: Names) -> str:
    """An amount of a supply: "3 Cartridge 20 micron", "54.42 kg Softener salt"."""
    title, unit = named.get(supply, (supply, "each"))
    return f"{amount:g} {title}" if unit == "each" else f"{amount:g} {unit} {title}"
