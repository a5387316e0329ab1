"""The plan as a calendar (RFC 5545): an event all day for each day to act.

An event's id follows from the home and the task alone, so that taking the file in again moves what is there. What was
overdue stands on the day the calendar is made: in the past nobody would see it.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, timedelta

import msgspec
from icalendar import Alarm, Calendar, Event
from icalendar.enums import STATUS, TRANSP

from model.forecast.playbooks import Running, running
from model.forecast.situation import Situation
from model.home import Home
from model.pages.calendar_text import job_text, step_text
from model.pages.home_id import id_in
from model.plan_types import Due, EventStep, Plan
from model.visible import visible

MAKER = "-//wellward//wellward//EN"
RINGS_AT = timedelta(hours=8)
"""How long after midnight of its day an event rings. Owner's default."""


class Entry(msgspec.Struct, frozen=True, kw_only=True):
    """One event: `task` is the task, or the key of a playbook's step. `over`: it need not be done any more."""

    uid: str
    on: date
    task: str
    summary: str
    text: str
    health: bool
    over: bool = False


def entries(now: Situation, plan: Plan) -> tuple[Entry, ...]:
    """The jobs of the plan and the steps of playbooks begun, by day. A step closed before its day is there as over."""
    steps = [entry for one in running(now) for entry in _steps(now, one)]
    return tuple(sorted([*(_job(now, item) for item in plan.due), *steps], key=lambda one: one.on))


def calendar_file(home: Home, name: str, rows: tuple[Entry, ...], stamp: datetime, sequence: int) -> bytes:
    """The calendar's file. `stamp`: when it is made, UTC; `sequence`: never less than in a file made before."""
    made = Calendar.new(name=visible(f"{name}: water"), uid=id_in(home, "calendar"), prodid=MAKER)
    for row in rows:
        made.add_component(_event(row, stamp, sequence))
    text: bytes = made.to_ical()
    return text


def sequence_of(home: Home, today: date) -> int:
    """A number that only grows: by a day with each day, by one with each thing recorded."""
    return max((today - home.house.started).days, 0) + len(home.events)


def _job(now: Situation, item: Due) -> Entry:
    stage = now.house.stage(item.stage)
    late = f"Overdue since {item.act_on}: " if item.state == "overdue" else ""
    return Entry(
        uid=id_in(now.home, item.task),
        on=max(item.act_on, now.today),
        task=item.task,
        summary=f"{late}{item.title}, {item.stage_title}",
        text=job_text(item, stage, now.house.units),
        health=item.health,
    )


def _steps(now: Situation, one: Running) -> Iterator[Entry]:
    for step in one.steps:
        if step.outcome == "open" or step.on >= now.today:
            yield _step(now, step, one.cautions)


def _step(now: Situation, step: EventStep, cautions: tuple[str, ...]) -> Entry:
    stage = now.house.stage(step.stage)
    still = step.outcome == "open"
    late = f"Overdue since {step.on}: " if still and step.state == "overdue" else ""
    return Entry(
        uid=id_in(now.home, f"step {step.key}"),
        on=max(step.on, now.today),
        task=step.key,
        summary=f"{late}{step.playbook_title}: {step.text}",
        text=step_text(step, cautions, stage),
        health=step.health,
        over=not still,
    )


def _event(row: Entry, stamp: datetime, sequence: int) -> Event:
    made = Event.new(
        uid=row.uid,
        summary=visible(row.summary),
        description=visible(row.text),
        start=row.on,
        end=row.on + timedelta(days=1) if row.on < date.max else None,
        stamp=stamp,
        sequence=sequence,
        categories=["wellward", *(["health"] if row.health else [])],
        transparency=TRANSP.TRANSPARENT,
        status=STATUS.CANCELLED if row.over else STATUS.CONFIRMED,
    )
    if not row.over:
        made.add_component(_alarm(row))
    return made


def _alarm(row: Entry) -> Alarm:
    made = Alarm.new(uid=f"alarm-{row.uid}", description=visible(row.summary))
    made.add("action", "DISPLAY")
    made.add("trigger", RINGS_AT)
    return made
