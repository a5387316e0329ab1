"""The jobs of a house as the screens list and open them, and what was begun of one. Knows no widgets."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import TYPE_CHECKING

import msgspec

from model.equipment.base import Job
from model.equipment.registry import KINDS, AnyStage, kind_of
from model.plan_types import Due
from model.records.doubts import doubts
from model.records.events import PausedService, Taken, Wait
from model.records.intake import take
from model.records.meter_check import check_meter
from model.upkeep.asked import as_asked, point_asked
from tui.widgets.amounts import amount_words
from tui.words import day_words, from_now

if TYPE_CHECKING:
    from model.upkeep.checklist import ReadingAsk
    from tui.view import View

_MANY_TIMES = 3.0
"""So many times the usual amount of a part is asked about: common practice, no source."""


class JobRow(msgspec.Struct, frozen=True, kw_only=True):
    """One job of one stage; `due` is None for a job done only when something happens, or not to be dated yet."""

    task: str
    title: str
    stage: AnyStage
    job: Job
    due: Due | None


class Begun(msgspec.Struct, frozen=True):
    """How far a service has got: ticked steps by position, what was typed by field, and the waits begun."""

    ticked: frozenset[int] = frozenset()
    typed: dict[str, str] = msgspec.field(default_factory=dict)
    waits: tuple[Wait, ...] = ()


def job_rows(view: View) -> list[JobRow]:
    """Every job of the house, in train order: the dated ones by date, then those without a date."""
    dated = {due.task: due for due in view.plan.due}
    rows: list[JobRow] = []
    for stage in view.house.stages:
        jobs = {job.id: job for job in KINDS[kind_of(stage)].all_jobs}
        usual = KINDS[kind_of(stage)].jobs(stage, None)
        own = [due for due in view.plan.due if due.stage == stage.id]
        names = [due.task.partition(".")[2] for due in sorted(own, key=lambda one: one.act_on)]
        names += [job.id for job in usual if job.id not in names]
        rows += [_row(stage, jobs[name], dated) for name in names if name in jobs]
    return rows


def _row(stage: AnyStage, job: Job, dated: dict[str, Due]) -> JobRow:
    task = f"{stage.id}.{job.id}"
    return JobRow(task=task, title=job.title, stage=stage, job=job, due=dated.get(task))


def when_words(row: JobRow, today: date) -> str:
    """When a job is due: "Thu 26 Nov, tomorrow", or why it has no date."""
    if row.due is None:
        return "when it happens" if row.job.on_event else "no date yet"
    return f"{day_words(row.due.act_on, today)}, {from_now(row.due.act_on, today)}"


def find_job(view: View, task: str) -> JobRow | None:
    """The job of a task id, or None where the house has no such job."""
    stage_id, _, name = task.partition(".")
    stage = view.house.stage(stage_id)
    job = next((one for one in KINDS[kind_of(stage)].all_jobs if one.id == name), None) if stage else None
    due = next((one for one in view.plan.due if one.task == task), None)
    return JobRow(task=task, title=job.title, stage=stage, job=job, due=due) if stage and job else None


def paused(view: View, task: str) -> PausedService | None:
    """The half-done service of a task, or None."""
    return view.history.paused(task)


def begun(pause: PausedService | None) -> Begun:
    """How far a paused service had got."""
    return Begun(frozenset(pause.ticked), dict(pause.typed), pause.waits) if pause else Begun()


def take_asked(view: View, stage: AnyStage, ask: ReadingAsk, typed: str) -> Taken:
    """A reading asked for by a checklist, from what was typed. The meter is checked when the day is known.

    Raises:
        BadInput: not a value of that quantity, or impossible.
    """
    taken = take(view.house, ask.quantity, typed, None, point_asked(view.house, stage, ask))
    return as_asked(stage, ask, taken)


def check_count(view: View, taken: Taken, on: date, *, new_meter: bool = False) -> None:
    """Refuse a meter count that cannot be beside the others; a new meter may begin anywhere.

    Raises:
        BadInput: the meter showed more before that day, or less after it.
    """
    if not new_meter:
        check_meter(view.house, view.history, taken, on)


def doubts_about(view: View, taken: Taken, on: date, beside: Iterable[Taken] = ()) -> tuple[str, ...]:
    """Why a possible reading is unlikely, also `beside` readings of other quantities that are recorded with it."""
    past = view.history.every_taken()
    past += [(on, one) for one in beside if one.quantity != taken.quantity]
    return doubts(view.house, taken, past, on)


def doubts_about_parts(view: View, suggested: dict[str, float], used: dict[str, float]) -> list[str]:
    """What is odd about the parts used: far more than the job takes, or than lies on the shelf by the records."""
    rows = {row.supply: row for row in view.plan.shelf}
    found = []
    for supply, amount in used.items():
        usual, row = suggested.get(supply, 0.0), rows.get(supply)
        if row is None or amount <= usual:
            continue
        said, takes, there = (amount_words(one, row.unit, view.house.units) for one in (amount, usual, row.on_shelf))
        if 0 < usual * _MANY_TIMES < amount:
            found.append(f"{row.title}: {said} used, but this job usually takes {takes}.")
        elif amount > row.on_shelf + row.pack:
            found.append(f"{row.title}: {said} used, but only {there} on the shelf by the records.")
    return found
