"""Findings that the owner accepted, among what is due: the jobs they lead to come forward, never back."""

from __future__ import annotations

from datetime import date, timedelta

from msgspec.structs import replace

from model.equipment.base import Job
from model.equipment.registry import KINDS, AnyStage, kind_of, title_of
from model.forecast.due import in_order
from model.forecast.situation import Situation
from model.forecast.states import state_of
from model.plan_types import Due, Finding

ACCEPTED_DAYS = 7
"""An accepted finding is to be seen to within so many days, a danger at once. Owner's default."""


def with_accepted(now: Situation, due: tuple[Due, ...], findings: tuple[Finding, ...]) -> tuple[Due, ...]:
    """What is due, with the jobs of accepted findings brought forward or added."""
    accepted = [one for one in findings if one.answer == "accepted" and one.task]
    if not accepted:
        return due
    items = {item.task: item for item in due}
    for one in accepted:
        item = items.get(one.task) or _new(now, one)
        if item is not None:
            items[one.task] = _forward(now, item, one)
    return in_order(items.values())


def act_on(found: Finding, today: date) -> date:
    """The day by which an accepted finding is to be seen to."""
    on = found.answered_on or today
    return on if found.level == "danger" else on + timedelta(days=ACCEPTED_DAYS)


def _forward(now: Situation, item: Due, found: Finding) -> Due:
    sooner = min(item.act_on, act_on(found, now.today))
    why = f"You accepted the finding: {found.title}."
    return replace(item, act_on=sooner, state=state_of(sooner, now.today), why=(why, *item.why))


def _new(now: Situation, found: Finding) -> Due | None:
    """The item of a job that has no date of its own."""
    stage_id, _, name = found.task.partition(".")
    stage = now.house.stage(stage_id)
    job = next((one for one in KINDS[kind_of(stage)].all_jobs if one.id == name), None) if stage else None
    return None if stage is None or job is None else _item(now, stage, job, act_on(found, now.today))


def _item(now: Situation, stage: AnyStage, job: Job, on: date) -> Due:
    task = f"{stage.id}.{job.id}"
    return Due(
        task=task,
        title=job.title,
        stage=stage.id,
        stage_title=title_of(stage),
        state=state_of(on, now.today),
        act_on=on,
        earliest=None,
        middle=None,
        latest=None,
        driver="condition",
        remaining=None,
        share_left=None,
        sure="measured",
        health=job.health,
        cap_on=None,
        paused=now.history.paused(task) is not None,
        why=(),
    )
