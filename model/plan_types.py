"""The plan as it is shown: what is due and why, what the water is, what is on the shelf."""

from __future__ import annotations

from datetime import date
from typing import Literal

import msgspec

from model.equipment.base import Driver, Sure
from model.water.sample import Sample

State = Literal["overdue", "this_week", "soon", "later"]
Level = Literal["danger", "warning", "note"]


class Amount(msgspec.Struct, frozen=True):
    """A quantity with its unit."""

    value: float
    unit: str


class Due(msgspec.Struct, frozen=True, kw_only=True):
    """One job with its date. `earliest`, `middle` and `latest` are the 10, 50 and 90 % dates of running out, None where
    only the calendar drives it. `cap_on` is the calendar cap. `share_left` is 0-1 of a full stock, None without one.
    `left_known`: whether anything on record says how much is left; else it is reckoned as if new."""

    task: str
    title: str
    stage: str
    stage_title: str
    state: State
    act_on: date
    earliest: date | None
    middle: date | None
    latest: date | None
    driver: Driver
    remaining: Amount | None
    share_left: float | None
    left_known: bool = True
    sure: Sure
    health: bool
    cap_on: date | None
    paused: bool
    why: tuple[str, ...]


class Alert(msgspec.Struct, frozen=True, kw_only=True):
    """Something to know about the water now."""

    level: Level
    point: str
    text: str


class PointWater(msgspec.Struct, frozen=True, kw_only=True):
    """The water at one point of the train. `sample` is None where nothing is known of the source."""

    point: str
    title: str
    stage: str
    flow_l_per_day: float
    sample: Sample | None
    hardness_mg_l_caco3: float | None
    co2_mg_l: float | None
    tds_mg_l: float | None
    calcite_saturation_index: float | None
    aerated_pH: float | None
    nitrate_planned_mg_l_n: float | None
    basis: str


class Shelf(msgspec.Struct, frozen=True, kw_only=True):
    """One supply: on the shelf in its unit, what a year takes, when it must be ordered.

    `needed_on`: the day on which the chance that the shelf cannot serve a job reaches the owner's risk for that job; it
    may be past. `order_by` is that many days sooner as an order takes.
    """

    supply: str
    title: str
    unit: str
    pack: float
    price: float
    price_basis: str
    on_shelf: float
    needed_on: date | None
    needed: float
    order_by: date | None
    per_year: float


class Fact(msgspec.Struct, frozen=True, kw_only=True):
    """One number of a stage for people: what, how much, and what it rests on."""

    stage: str
    label: str
    text: str
    basis: str = ""


class Question(msgspec.Struct, frozen=True, kw_only=True):
    """A stretch between two meter readings that only the owner can explain: `litres` counted [L] against
    `expected_litres` [L], from `start` to `end`. `text` asks in one sentence."""

    start: date
    end: date
    litres: float
    expected_litres: float
    text: str


class Rests(msgspec.Struct, frozen=True):
    """A reading that a finding rests on: day, what and where it was read (an id of a point or stage), the value in the
    owner's units, and the event that holds it (0: worked out, not read)."""

    on: date
    what: str
    where: str
    value: str
    event: int = 0


class Cause(msgspec.Struct, frozen=True, kw_only=True):
    """One likely cause, and what to do or measure next. `task`: the task whose checklist does it, empty for none."""

    id: str
    text: str
    do: str
    task: str = ""


class Finding(msgspec.Struct, frozen=True, kw_only=True):
    """What readings, their trend or their difference from what was reckoned say.

    `id`: the rule's and the place's ("salt_bridge.softener"). `stage`: a stage's id, or "house". `rests_on`: the
    readings behind it, newest first. `causes`: the likeliest first. `task`: the task that accepting it makes or brings
    forward; where that is empty, `read` is the quantity to read next, at the point or stage `at`.
    `answer`: what the owner said to it, "" for nothing that still counts; `reason` and `until` with it, `answered_on`
    the day of it. `stands`: the readings still say so; else it is only here because its task was accepted.
    """

    id: str
    stage: str
    stage_title: str
    title: str
    level: Level
    text: str
    rests_on: tuple[Rests, ...]
    causes: tuple[Cause, ...]
    task: str = ""
    read: str = ""
    at: str = ""
    answer: Literal["", "accepted", "dismissed", "snoozed", "done"] = ""
    reason: str = ""
    until: date | None = None
    answered_on: date | None = None
    stands: bool = True

    @property
    def hidden(self) -> bool:
        """Whether the owner has put it away for now: counted, but not told in full."""
        return self.answer in ("dismissed", "snoozed", "done")


class EventStep(msgspec.Struct, frozen=True, kw_only=True):
    """One step of a playbook that was begun as event `event`.

    `key`: what it is called when it is done or left out, "12.flush". `task`: the task whose checklist says how, or "";
    it is done once that service is recorded from `opens` on. `caution`: the playbook's first. `closed_on` and `reason`:
    when and why it is no longer open.
    """

    key: str
    event: int
    playbook: str
    playbook_title: str
    caution: str
    started_on: date
    step: str
    text: str
    task: str
    stage: str
    stage_title: str
    on: date
    opens: date
    state: State
    health: bool
    outcome: Literal["open", "done", "skipped"] = "open"
    closed_on: date | None = None
    reason: str = ""


class Plan(msgspec.Struct, frozen=True, kw_only=True):
    """Everything the screens and commands show for one day."""

    today: date
    home_name: str
    exposure: tuple[str, ...]
    due: tuple[Due, ...]
    alerts: tuple[Alert, ...]
    points: tuple[PointWater, ...]
    shelf: tuple[Shelf, ...]
    facts: tuple[Fact, ...]
    litres_per_day: float
    litres_per_day_basis: str
    reports: dict[str, dict[str, object]]
    questions: tuple[Question, ...] = ()
    findings: tuple[Finding, ...] = ()
    steps: tuple[EventStep, ...] = ()


class Range(msgspec.Struct, frozen=True):
    """An amount of money: the mean, and the 10 and 90 % points (widened to hold the mean where it lies outside)."""

    expected: float
    low: float
    high: float


class CostItem(msgspec.Struct, frozen=True, kw_only=True):
    """One supply over the months asked: mean quantity used from shelf or shop, cash paid, long-run yearly cost."""

    supply: str
    title: str
    stage: str
    quantity: float
    unit: str
    cash: Range
    long_run_per_year: float


class CostMonth(msgspec.Struct, frozen=True, kw_only=True):
    """One month of the forecast: `month` is YYYY-MM of the day it starts on."""

    month: str
    starts: date
    cash: Range


class Costs(msgspec.Struct, frozen=True, kw_only=True):
    """The cost forecast. `total.expected` is the sum of the items and of the months."""

    start: date
    end: date
    currency: str
    total: Range
    items: tuple[CostItem, ...]
    months: tuple[CostMonth, ...]
    long_run_per_year: float
    notes: tuple[str, ...]


class SlowPart(msgspec.Struct, frozen=True, kw_only=True):
    """A part that lasts for years: how old it is, when it will be replaced, and what that costs over ten years.

    `age_known`: whether it is on record when it was fitted; else the age counts from when the record began. `earliest`,
    `middle` and `latest` are the 10, 50 and 90 % dates of the next replacement, `chance` that of its coming within the
    ten years, 0-1, and `replacements` how many are expected in them. `cash` is None where no price is known.
    """

    task: str
    title: str
    stage: str
    stage_title: str
    age_years: float
    age_known: bool
    earliest: date
    middle: date
    latest: date
    chance: float
    replacements: float
    cash: Range | None
    basis: str


class TenYears(msgspec.Struct, frozen=True, kw_only=True):
    """Ten years: the slow parts, the consumables without them, and both together."""

    start: date
    end: date
    currency: str
    total: Range
    consumables: Range
    slow: Range
    parts: tuple[SlowPart, ...]
    notes: tuple[str, ...]
