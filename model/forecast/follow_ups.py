"""What jobs that were done bring with them: another job, wanted by its day until it is done."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta

from model.equipment.base import Job
from model.equipment.registry import AnyStage, job_title, kind_of, kind_of_id
from model.forecast.situation import Situation
from model.forecast.wanted import Wanted
from model.forecast.words import day_in_words
from model.records.events import Service
from model.upkeep.later_table import LATER, Later


def follow_ups(now: Situation) -> Iterator[Wanted]:
    """The follow-ups of the jobs done that were not done themselves since.

    What protects health stays wanted by the first day on which it ever was; of the rest only the last time counts.
    """
    for task, services in now.history.services_by_task():
        for later in LATER.get(_kind_and_job(task), ()):
            target = target_of(now, task.partition(".")[0], later.task)
            if target is not None:
                counting = services if target[1].health else services[-1:]
                found = (_wanted(now, done, later, *target) for done in counting)
                yield from (one for one in found if one is not None)


def target_of(now: Situation, stage_id: str, task: str) -> tuple[AnyStage, Job] | None:
    """The stage and job of this house that "kind.job" means beside a stage: that stage, else the first of its kind."""
    kind, _, name = task.partition(".")
    there = [stage for stage in now.house.stages if kind_of(stage) == kind]
    for stage in sorted(there, key=lambda one: one.id != stage_id):
        for job in now.jobs(stage):
            if job.id == name:
                return stage, job
    return None


def _wanted(now: Situation, done: Service, later: Later, stage: AnyStage, job: Job) -> Wanted | None:
    """None where the job was done since, late enough to count."""
    since = now.known.last_done(stage, job.id)
    if since is not None and since >= done.on + timedelta(days=later.counts_from):
        return None
    why = f"To follow what was done on {day_in_words(done.on, now.today)}, {_title(done.task)}: {later.text}"
    return Wanted(done.on + timedelta(days=later.days), f"{stage.id}.{job.id}", why)


def _title(task: str) -> str:
    """What a job is called in a sentence: "change the lamp and O-rings"."""
    title = job_title(task) or task.partition(".")[2]
    return title if title[1:2].isupper() else title[0].lower() + title[1:]


def _kind_and_job(task: str) -> str:
    """ "ultraviolet_2.glance" -> "ultraviolet.glance"; the stage may be gone from the house."""
    stage, _, job = task.partition(".")
    return f"{kind_of_id(stage)}.{job}"
