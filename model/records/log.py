"""The log in words."""

from __future__ import annotations

from datetime import date

import msgspec

from model.home import Home
from model.records.contacts import contact_in_words
from model.records.events import (
    NO_READINGS,
    ROUND,
    Absence,
    Answer,
    AnyEvent,
    Cause,
    Contact,
    Correction,
    Explained,
    FindingAnswered,
    Guests,
    HandleMoved,
    Incident,
    LabReport,
    LocalRule,
    MeterReplaced,
    PausedService,
    PlaybookStarted,
    PlaybookStep,
    Purchase,
    Reading,
    Service,
    Setting,
    ShelfCount,
    StageAdded,
    StageRemoved,
    SupplyAdded,
    Taken,
    UseAdded,
    UseEnded,
)
from model.records.history import voided
from model.records.how import how_in_words
from model.records.names import Names, names_of
from model.records.pauses import same_visit, superseded
from model.records.stays import guests_in_words
from model.records.uses import described_use, use_in_words
from model.units import show

CAUSES: dict[Cause, str] = {
    "leak": "a leak",
    "guests": "guests",
    "watering": "watering or filling",
    "away": "people away",
    "household": "more or fewer people living here",
    "misread": "a misread meter",
    "other": "something else",
}
"""Why the meter counted more or less than expected, in words."""

ANSWERS: dict[Answer, str] = {
    "accepted": "accepted as a task",
    "dismissed": "dismissed",
    "snoozed": "snoozed",
    "done": "task marked done",
}
"""What the owner said to a finding, in words."""

_IDS = Names()
"""Where nothing is known of the home, ids stand for names."""


class LogLine(msgspec.Struct, frozen=True):
    """One event for people. `voided`: it was taken back. `obsolete`: a job left half-way that went on or was done
    later, or the taking back of such a one."""

    id: int
    on: date
    what: str
    detail: str
    voided: bool
    obsolete: bool = False


def log_lines(home: Home) -> tuple[LogLine, ...]:
    """Every event ever recorded, in the order recorded, those taken back marked."""
    gone, names, old = voided(home.events), names_of(home), superseded(home.events)
    return tuple(
        LogLine(event.id, event.on, *describe(event, names), event.id in gone, _obsolete(event, old))
        for event in home.events
    )


def _obsolete(event: AnyEvent, old: frozenset[int]) -> bool:
    return event.id in old or (isinstance(event, Correction) and event.voids in old)


def last_event(home: Home) -> AnyEvent | None:
    """The last event recorded that still stands and is not itself a correction: what undo takes back.

    A job left half-way that went on or was done later is passed over.
    """
    gone = voided(home.events) | superseded(home.events)
    standing = [event for event in home.events if event.id not in gone and not isinstance(event, Correction)]
    return max(standing, key=lambda event: event.id, default=None)


def recorded_with(home: Home, event: AnyEvent) -> tuple[AnyEvent, ...]:
    """An event and what was recorded in one go with it and still stands, in that order.

    A job left half-way goes with all that was saved of it since the job was last done.
    """
    if isinstance(event, PausedService) and event in (visit := same_visit(home.events, event)):
        return visit
    gone = voided(home.events)
    return tuple(
        one
        for one in home.events
        if one.id == event.id or (event.group and one.group == event.group and one.id not in gone)
    )


def taking_back(home: Home, event: AnyEvent, on: date) -> tuple[Correction, ...]:
    """The corrections that take an event back, with all that was recorded in one go with it."""
    names = names_of(home)
    return tuple(
        Correction(on=on, voids=one.id, note=": ".join(describe(one, names))) for one in recorded_with(home, event)
    )


def find_event(home: Home, number: int) -> AnyEvent | None:
    """The event of that id, or None."""
    return next((event for event in home.events if event.id == number), None)


def correction_of(home: Home, event: AnyEvent) -> Correction | None:
    """The standing correction that took an event back, None where it stands."""
    gone = voided(home.events)
    found = (
        one
        for one in reversed(home.events)
        if isinstance(one, Correction) and one.voids == event.id and one.id > event.id and one.id not in gone
    )
    return next(found, None)


def last_taken_back(home: Home) -> Correction | None:
    """The last standing correction by which something is taken back: what redo takes back in its turn."""
    gone, events = voided(home.events), {event.id: event for event in home.events}
    standing = (one for one in reversed(home.events) if isinstance(one, Correction) and one.id not in gone)
    return next((one for one in standing if about(events, one)[1] and about(events, one)[0] is not None), None)


def recorded_in_words(event: AnyEvent) -> str:
    """When and by whom it was recorded: "recorded 2027-01-11 08:00 UTC by ann (command)"; "" where nothing is known."""
    when = f" {event.at[:10]} {event.at[11:16]} UTC" if event.at else ""
    who = f" by {event.by}" if event.by else ""
    return f"recorded{when}{who}" if when or who else ""


def how_far(pause: PausedService) -> str:
    """How far a job had got: "2 steps ticked"; for the monthly round, which has no steps, "5 filled in"."""
    if pause.task == ROUND:
        return f"{len(pause.typed.keys() - NO_READINGS)} filled in"
    steps = len(pause.ticked)
    return f"{steps} step{'' if steps == 1 else 's'} ticked"


def about(events: dict[int, AnyEvent], event: AnyEvent) -> tuple[AnyEvent | None, bool]:
    """What a chain of corrections is about in the end, and whether its last link takes that back.

    An event that is no correction is about itself. None where the chain leads to nothing.
    """
    takes_back, last = False, event.id + 1
    found: AnyEvent | None = event
    while isinstance(found, Correction):
        takes_back, last = not takes_back, found.id
        found = events.get(found.voids)
        if found is not None and found.id >= last:
            return None, takes_back
    return found, takes_back


def taken_in_words(taken: Taken, names: Names = _IDS) -> str:
    """One measured quantity as it was entered, with its place and how it was read."""
    run = taken.since_regeneration_l
    since = "" if run is None else f"{show(run, 'volume', names.units)} after regeneration"
    how = ", ".join(part for part in (how_in_words(taken), since) if part)
    return f"{names.measured(taken)}{names.place(taken.point)}{f', {how}' if how else ''}"


def describe(event: AnyEvent, names: Names = _IDS) -> tuple[str, str]:
    """What an event was, and its particulars with the note. `names`: what things are called in the home."""
    if isinstance(event, Correction):
        return _correction(event, names)
    what, detail = _words(event, names)
    return what, f"{detail}; {event.note}" if event.note and detail else detail or event.note


def _words(event: AnyEvent, names: Names) -> tuple[str, str]:
    if isinstance(event, Service):
        return f"Service{names.task(event.task)}", _service(event, names)
    if isinstance(event, PausedService):
        return f"Left half-way{names.task(event.task)}", how_far(event)
    if isinstance(event, Reading):
        return "Reading", taken_in_words(event.taken, names)
    if isinstance(event, LabReport):
        place = names.place(event.point).removeprefix(" at ").strip()
        return f"Laboratory report, {place}", ", ".join(names.measured(one) for one in event.taken)
    if isinstance(event, Purchase):
        paid = f" for {event.price:.2f}" if event.price is not None else ""
        return "Bought", names.amount(event.supply, event.quantity) + paid
    if isinstance(event, ShelfCount):
        return "Shelf counted", names.amount(event.supply, event.quantity)
    return _changes(event, names)


def _changes(event: AnyEvent, names: Names) -> tuple[str, str]:
    if isinstance(event, Setting):
        was, value = (names.value(event.path, one) for one in (event.was, event.value))
        return "Setting", f"{names.setting(event.path)} from {was} to {value}"
    if isinstance(event, StageAdded):
        return "Stage added", names.stage(str(event.stage.get("id", "")))
    if isinstance(event, StageRemoved):
        return "Stage removed", names.stage(event.stage)
    if isinstance(event, SupplyAdded):
        return "Supply added", str(event.supply.get("title", ""))
    return _water_used(event, names)


def _water_used(event: AnyEvent, names: Names) -> tuple[str, str]:
    if isinstance(event, UseAdded):
        use = described_use(event.use)
        said = f", {use_in_words(use, names.units)}" if use else ""
        return "Water use added", f"{event.use.get('title', '')}{said}"
    if isinstance(event, UseEnded):
        return "Water use ended", event.title
    if isinstance(event, Absence):
        return "Away", f"until {event.until}"
    if isinstance(event, Guests):
        return "Guests", f"{guests_in_words(event.people)} until {event.until}"
    if isinstance(event, Explained):
        return "Water use explained", explained_in_words(event)
    if isinstance(event, FindingAnswered):
        return "Finding answered", answered_in_words(event, names)
    if isinstance(event, MeterReplaced):
        old, new = (show(count, "volume", names.units) for count in (event.old_reading_l, event.new_reading_l))
        return "Meter replaced", f"old {old}, new {new}"
    return _valves_and_rules(event, names)


def _valves_and_rules(event: AnyEvent, names: Names) -> tuple[str, str]:
    if isinstance(event, HandleMoved):
        where = {"service": "in service", "bypass": "on bypass"}.get(event.position, event.position)
        return "Valve handle", f"{names.handle(event.handle)}, now {where}"
    if isinstance(event, LocalRule):
        return f"Local rule, {event.topic}", f"{event.text} ({event.said_by}, asked {event.checked_on})"
    if isinstance(event, Contact):
        return f"Contact, {event.role}", contact_in_words(event) or "nobody any more"
    return _happened(event, names)


def _happened(event: AnyEvent, names: Names) -> tuple[str, str]:
    if isinstance(event, Incident):
        return "Happened", event.what
    if isinstance(event, PlaybookStarted):
        return "Playbook begun", playbook_title(event.playbook)
    if isinstance(event, PlaybookStep):
        outcome = "Step done" if event.outcome == "done" else "Step left out"
        reason = f": {event.reason}" if event.reason else ""
        return outcome, f"{_step_in_words(event, names)}{reason}"
    return "Event", ""


def playbook_title(name: str) -> str:
    """What a playbook is called; its id where this program has none such."""
    from model.upkeep.playbook import find_playbook  # only homes in which something happened pay for it

    found = find_playbook(name)
    return found.title if found else name


def _step_in_words(event: PlaybookStep, names: Names) -> str:
    """ "Power cut, flush [12.flush]"; its number alone where the start is not known."""
    from model.upkeep.playbook import find_playbook

    start, key = names.events.get(event.started), f"[{event.started}.{event.step}]"
    found = find_playbook(start.playbook) if isinstance(start, PlaybookStarted) else None
    if found is None:
        return key
    text = next((step.text for step in found.steps if _is_of(event.step, step.id)), "")
    return f"{found.title}, {text} {key}" if text else f"{found.title} {key}"


def _is_of(key: str, step: str) -> bool:
    """Whether a step's key is that of a step of the playbook: "flush", "flush-2", "flush_2"."""
    rest = key.removeprefix(step)
    return key.startswith(step) and not rest.strip("_-0123456789")


def answered_in_words(event: FindingAnswered, names: Names = _IDS) -> str:
    """ "Salt bridge, Softener [salt_bridge.softener]: dismissed (probed it: loose)"."""
    rule, _, where = event.finding.partition(".")
    what = rule.replace("_", " ").capitalize()
    place = f", {names.stage(where)}" if where in names.stages else ""
    until = f" until {event.until}" if event.until else ""
    reason = f" ({event.reason})" if event.reason else ""
    return f"{what}{place} [{event.finding}]: {ANSWERS[event.answer]}{until}{reason}"


def explained_in_words(event: Explained) -> str:
    """ "2026-11-01 to 2026-11-08: a leak, which is over"."""
    going = "which is over" if event.over else "which goes on"
    return f"{event.start} to {event.end}: {CAUSES[event.cause]}, {going}"


def _correction(event: Correction, names: Names) -> tuple[str, str]:
    """What was taken back or brought back: its number, its day and what it was."""
    found, takes_back = about(names.events, event)
    if found is None:
        number = f"event {event.voids}"
        return "Taken back", f"{number}; {event.note}" if event.note else number
    said = ": ".join(part for part in describe(found, names) if part)
    return "Taken back" if takes_back else "Brought back", f"event {found.id} of {found.on}, {said}"


def _service(event: Service, names: Names) -> str:
    used = [names.amount(supply, amount) for supply, amount in event.used.items()]
    taken = [taken_in_words(one, names) for one in event.taken]
    handles = [f"handles: {event.accepted or event.handles}"] if event.accepted or event.handles else []
    photo = [f"photo: {event.photo}"] if event.photo else []
    return ", ".join([*used, *taken, *handles, *photo])
