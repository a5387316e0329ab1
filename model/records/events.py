"""What happened: frozen events. The log only grows; a correction voids an earlier event."""

from __future__ import annotations

from datetime import date
from typing import Literal

import msgspec

Qualifier = Literal["=", "<", ">"]
Cause = Literal["leak", "guests", "watering", "away", "household", "misread", "other"]
"""Why the meter counted more or less than expected; "household": more or fewer people live there."""

State = Literal["", "at_rest", "flowing"]

ROUND = "house.round"
"""The task of the monthly round, which belongs to no stage: left half-way and done like any other."""
NO_READINGS = frozenset({"on", "note"})
"""Fields of the round that are typed and are no readings: its day and its note."""


class Taken(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True, forbid_unknown_fields=True, gc=False):
    """One measured quantity.

    `value` is in the quantity's own unit (see `model.records.quantities`); `point` is a point of the train
    ("source", "after_softener", "tap", "ro", "hose") or, for a quantity of one stage, that stage's id.
    `high`, for a colour pad, says that the value lies between `value` and `high`, in the same unit.
    `entered` keeps what was typed, with its unit. `moment` says whether a reading taken with a service was taken
    before or after the work. `method` is one of `model.records.how.METHODS`, a program's own word, or "" where nobody
    said. `state`: the water stood in the pipes ("at_rest") or ran. `kit` is the lot of the test kit, `kit_expires` the
    last day it is good for. `since_regeneration_l`: what had run since the softener last regenerated [L].
    """

    quantity: str
    value: float
    point: str
    qualifier: Qualifier = "="
    entered: str = ""
    method: str = ""
    moment: Literal["", "before", "after"] = ""
    high: float | None = None
    state: State = ""
    kit: str = ""
    kit_expires: date | None = None
    since_regeneration_l: float | None = None


Answer = Literal["accepted", "dismissed", "snoozed", "done"]
"""What the owner said to a finding: it becomes a task, it is put away, it waits until a day, its task is done."""


class Event(
    msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True, forbid_unknown_fields=True, tag_field="kind"
):
    """Common to all events. `id`, `at`, `group` and `token` are given by the repository; `on` is the day it happened.

    `group` is the id of the first of several events recorded in one go, which are taken back in one go; 0 alone.
    `token` is given once and kept in every file the event is written to: by it a second try to write the event, or a
    copy that holds it under another id, is known to be of the same event. "" in the first two forms of the file.
    """

    on: date
    id: int = 0
    at: str = ""
    by: str = ""
    note: str = ""
    group: int = 0
    token: str = ""


class Service(Event, frozen=True, kw_only=True, tag="service"):
    """A job done: its task id ("softener.refill_salt"), parts used by supply id, readings taken with it.

    `handles`: "service" where every valve handle of the stage is back in service; else the handle that stays moved,
    and `accepted` says in words which, why and until when. `photo`: the file name of a photo, as typed; never opened.
    """

    task: str
    used: dict[str, float] = msgspec.field(default_factory=dict)
    taken: tuple[Taken, ...] = ()
    handles: str = ""
    accepted: str = ""
    photo: str = ""


class Wait(msgspec.Struct, frozen=True, kw_only=True, omit_defaults=True, forbid_unknown_fields=True, gc=False):
    """The wait of a step, by the step's position, once it was begun.

    `left_s`: what was left of it [s] at the moment `since` [s since 1970], or is left while it is stopped (None).
    """

    step: int
    left_s: float
    since: float | None = None


class PausedService(Event, frozen=True, kw_only=True, tag="paused_service"):
    """A job left half-way: which steps are ticked (by their position), what was typed so far, and waits begun."""

    task: str
    ticked: tuple[int, ...] = ()
    typed: dict[str, str] = msgspec.field(default_factory=dict)
    waits: tuple[Wait, ...] = ()


class Reading(Event, frozen=True, kw_only=True, tag="reading"):
    """A quantity read by someone in the house."""

    taken: Taken


class LabReport(Event, frozen=True, kw_only=True, tag="lab_report"):
    """Results of one laboratory sample. Coliform is 1 for present, 0 for absent."""

    point: str
    taken: tuple[Taken, ...]


class Purchase(Event, frozen=True, kw_only=True, tag="purchase"):
    """A supply bought: quantity in the supply's unit, and the total paid if known."""

    supply: str
    quantity: float
    price: float | None = None


class ShelfCount(Event, frozen=True, kw_only=True, tag="shelf_count"):
    """What really lies on the shelf, counted, in the supply's unit."""

    supply: str
    quantity: float


class Setting(Event, frozen=True, kw_only=True, tag="setting"):
    """A setting changed from `on` onwards: `path` like "people" or "stages.softener.salt_dose_kg"."""

    path: str
    value: float | int | str | bool | None
    was: float | int | str | bool | None = None


class StageAdded(Event, frozen=True, kw_only=True, tag="stage_added"):
    """A stage put into the train after the stage named (empty: at the end). `stage` is its description."""

    stage: dict[str, object]
    after: str = ""


class StageRemoved(Event, frozen=True, kw_only=True, tag="stage_removed"):
    """A stage taken out of the train."""

    stage: str


class SupplyAdded(Event, frozen=True, kw_only=True, tag="supply_added"):
    """A supply put on the list. `supply` is its description."""

    supply: dict[str, object]


class UseAdded(Event, frozen=True, kw_only=True, tag="use_added"):
    """A named use of water that counts from `on`, which may be to come. `use` is its description."""

    use: dict[str, object]


class UseEnded(Event, frozen=True, kw_only=True, tag="use_ended"):
    """A named use of water that no longer counts from `on`, which may be to come."""

    title: str


class Absence(Event, frozen=True, kw_only=True, tag="absence"):
    """Nobody at home from `on` to `until`, both days counted."""

    until: date


class Guests(Event, frozen=True, kw_only=True, tag="guests"):
    """`people` more than live there, from `on` to `until`, both days counted; both may be to come."""

    until: date
    people: float


class Explained(Event, frozen=True, kw_only=True, tag="explained"):
    """Why the meter counted more or less than expected from `start` to `end`, the days of two readings of it.

    `over`: it has ended; otherwise it goes on.
    """

    start: date
    end: date
    cause: Cause
    over: bool


class FindingAnswered(Event, frozen=True, kw_only=True, tag="finding_answered"):
    """What the owner said to a finding, named by its id ("salt_bridge.softener").

    `reason`: why it was dismissed. `until`: the day from which a snoozed one is told again.
    """

    finding: str
    answer: Answer
    reason: str = ""
    until: date | None = None


class MeterReplaced(Event, frozen=True, kw_only=True, tag="meter_replaced"):
    """The water meter was replaced: the old one's last reading and the new one's first [L]."""

    old_reading_l: float
    new_reading_l: float = 0.0


class Incident(Event, frozen=True, kw_only=True, tag="incident"):
    """Something that happened to the house: power cut, storm, frost. The note tells."""

    what: str


class HandleMoved(Event, frozen=True, kw_only=True, tag="handle_moved"):
    """A valve handle moved, by its id (see `model.records.handles`): to "service", or out of it to "bypass" or
    "closed". The note tells why."""

    handle: str
    position: str


class LocalRule(Event, frozen=True, kw_only=True, tag="local_rule"):
    """What a local rule says on a topic ("brine", "backflow", "discharge" or another), who said so, and the day on
    which the owner asked."""

    topic: str
    text: str
    said_by: str
    checked_on: date


class Contact(Event, frozen=True, kw_only=True, tag="contact"):
    """Whom to call, by role (see `model.records.contacts`), with the telephone number as it is dialled. The last one of
    a role counts; one without a number takes the role off the list."""

    role: str
    name: str = ""
    phone: str = ""


class PlaybookStarted(Event, frozen=True, kw_only=True, tag="playbook_started"):
    """A playbook begun, such as "power_cut": its steps are dated from `on`, which may be to come."""

    playbook: str


class PlaybookStep(Event, frozen=True, kw_only=True, tag="playbook_step"):
    """One step of a begun playbook done, or left out for a reason. `started`: the id of the event that began it."""

    started: int
    step: str
    outcome: Literal["done", "skipped"]
    reason: str = ""


class Correction(Event, frozen=True, kw_only=True, tag="correction"):
    """Takes back an earlier event by its id. Taking back a correction brings the event back."""

    voids: int


AnyEvent = (
    Service
    | PausedService
    | Reading
    | LabReport
    | Purchase
    | ShelfCount
    | Setting
    | StageAdded
    | StageRemoved
    | SupplyAdded
    | UseAdded
    | UseEnded
    | Absence
    | Guests
    | Explained
    | FindingAnswered
    | MeterReplaced
    | Incident
    | HandleMoved
    | LocalRule
    | Contact
    | PlaybookStarted
    | PlaybookStep
    | Correction
)
