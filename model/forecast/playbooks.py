"""The playbooks that were begun: their steps with days, which apply to this home, and what closed them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import TYPE_CHECKING

import msgspec

from model.equipment.neutralizer import Neutralizer
from model.equipment.registry import KINDS, AnyStage, kind_of, title_of
from model.equipment.softener import Softener, has_anion_resin
from model.forecast.situation import Situation
from model.forecast.states import state_of
from model.plan_types import EventStep
from model.records.events import PlaybookStarted, PlaybookStep, Service

if TYPE_CHECKING:
    from model.upkeep.playbook import Exposed, Playbook, PlaybookTask

INFANT_DAYS = 365
"""So long after its playbook was begun an infant counts as living in the house. Owner's default."""


class Running(msgspec.Struct, frozen=True, kw_only=True):
    """A playbook that was begun, with every step that applies to the home, in order of day.

    `title`, `why` and `cautions` are empty where this program has no such playbook, and so are `steps`.
    """

    event: int
    playbook: str
    title: str
    on: date
    note: str
    why: str
    cautions: tuple[str, ...]
    steps: tuple[EventStep, ...]
    exposed: Exposed | None = None

    @property
    def open(self) -> tuple[EventStep, ...]:
        """The steps that are neither done nor left out."""
        return tuple(step for step in self.steps if step.outcome == "open")


def running(now: Situation) -> tuple[Running, ...]:
    """Every playbook begun and not taken back, oldest first, those that are over as well."""
    return now.once(_every_running)


def _every_running(now: Situation) -> tuple[Running, ...]:
    return tuple(_running(now, event) for event in now.history.of(PlaybookStarted))


def open_steps(now: Situation) -> tuple[EventStep, ...]:
    """The open steps of all playbooks begun, the soonest first; on one day in the order of the playbook.

    Their days are the playbook's alone: no reading and no forecast moves them.
    """
    return tuple(sorted((step for one in running(now) for step in one.open), key=lambda step: step.on))


def conditions(now: Situation) -> frozenset[str]:
    """What this home has of what a playbook's steps may depend on."""
    found = {kind_of(stage) for stage in now.house.stages}
    if any(isinstance(one, Softener) and has_anion_resin(one) for one in now.house.stages):
        found.add("nitrate_resin")
    if any(isinstance(one, Neutralizer) and one.magnesia_share > 0 for one in now.house.stages):
        found.add("magnesia")
    since = now.today - timedelta(days=INFANT_DAYS)
    if now.house.infant or any(one.playbook == "infant" and one.on >= since for one in now.history.of(PlaybookStarted)):
        found.add("infant")
    return frozenset(found)


def applicable(now: Situation, playbook: Playbook) -> tuple[tuple[PlaybookTask, AnyStage | None], ...]:
    """The steps of a playbook that this home can do, each with its stage; once for each stage that has its job."""
    has = conditions(now)
    return tuple(
        (step, stage)
        for step in playbook.steps
        if has.issuperset(step.needs) and has.isdisjoint(step.unless)
        for stage in _stages(now, step)
    )


def _stages(now: Situation, step: PlaybookTask) -> tuple[AnyStage | None, ...]:
    if not step.task:
        return (None,)
    kind, _, job = step.task.partition(".")
    return tuple(
        stage
        for stage in now.house.stages
        if kind_of(stage) == kind and any(one.id == job for one in KINDS[kind].jobs(stage, None))
    )


def _running(now: Situation, event: PlaybookStarted) -> Running:
    from model.upkeep.playbook import find_playbook  # only homes in which something happened pay for it

    playbook = find_playbook(event.playbook)
    said = (playbook.title, playbook.why, playbook.cautions) if playbook else ("", "", ())
    steps = _steps(now, event, playbook) if playbook else ()
    return Running(
        event=event.id,
        playbook=event.playbook,
        title=said[0],
        on=event.on,
        note=event.note,
        why=said[1],
        cautions=said[2],
        steps=tuple(sorted(steps, key=lambda step: step.on)),
        exposed=playbook.exposed if playbook else None,
    )


def _steps(now: Situation, event: PlaybookStarted, playbook: Playbook) -> Iterator[EventStep]:
    answers = {one.step: one for one in now.history.of(PlaybookStep) if one.started == event.id}
    rows = applicable(now, playbook)
    for step, stage in rows:
        days = [day for other, where in rows if (other.task, where) == (step.task, stage) for day in other.days]
        for key, day in step.dated():
            before = max((one for one in days if one < day), default=None) if step.task else None
            made = _step(event, playbook, (step, stage), key, day, _opens(day, before))
            made = msgspec.structs.replace(made, state=state_of(made.on, now.today))
            yield _answered(now, made, answers)


def _step(
    event: PlaybookStarted,
    playbook: Playbook,
    row: tuple[PlaybookTask, AnyStage | None],
    key: str,
    day: int,
    opens: int,
) -> EventStep:
    step, stage = row
    kind, _, job = step.task.partition(".")
    number = stage.id.removeprefix(kind) if stage else ""
    return EventStep(
        key=f"{event.id}.{key}{number}",
        event=event.id,
        playbook=playbook.id,
        playbook_title=playbook.title,
        caution=playbook.cautions[0],
        started_on=event.on,
        step=f"{key}{number}",
        text=step.text,
        task=f"{stage.id}.{job}" if stage else "",
        stage=stage.id if stage else "",
        stage_title=title_of(stage) if stage else "",
        on=event.on + timedelta(days=day),
        opens=event.on + timedelta(days=opens),
        state="later",
        health=step.health,
    )


def _opens(day: int, before: int | None) -> int:
    """From which day on a service closes a step: halfway from what came before it, the start or the same job's step.

    A sample that proves the work two weeks later is not the one taken on the day itself.
    """
    if day < 0:
        return 2 * day if before is None else before - (before - day) // 2
    first = max(before, 0) if before is not None else 0
    return first + (day - first + 1) // 2


def _answered(now: Situation, step: EventStep, answers: dict[str, PlaybookStep]) -> EventStep:
    """The step with what closed it: what the owner said of it last, else the service that it asks for."""
    said = answers.get(step.step)
    if said is not None:
        return msgspec.structs.replace(step, outcome=said.outcome, closed_on=said.on, reason=said.reason)
    done = next((one for one in now.history.services(step.task) if _counts(one, step)), None) if step.task else None
    return step if done is None else msgspec.structs.replace(step, outcome="done", closed_on=done.on)


def _counts(service: Service, step: EventStep) -> bool:
    """Whether a service came after the step opened; on the day of the start, whether it was recorded after it."""
    if service.on != step.opens or step.opens != step.started_on:
        return service.on >= step.opens
    return service.id > step.event
