"""The coming jobs of a home that need the water off, as visits with the parts to have ready."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

import msgspec

from model.equipment.registry import KINDS, kind_of, title_of
from model.equipment.reverse_osmosis import ReverseOsmosis
from model.forecast.acid_and_bleach import chemistry_on
from model.forecast.parts import find_task, suggested_parts
from model.forecast.shelf import on_shelf
from model.forecast.situation import Situation
from model.home import House, Supply
from model.plan_types import Plan
from model.upkeep.checklist import load_checklist
from model.upkeep.visits import Afterwards, Arranged, Candidate, KeptApart, VisitJob, arranged

WITHIN_DAYS = 14
"""Jobs due within so many days are offered together. Owner's default."""


class PartReady(msgspec.Struct, frozen=True, kw_only=True):
    """A supply that a visit takes, in its unit: how much, what will lie there, and what is lacking."""

    supply: str
    title: str
    unit: str
    needed: float
    on_shelf: float

    @property
    def lacks(self) -> float:
        """What has to be bought first [the supply's unit]."""
        return max(self.needed - self.on_shelf, 0.0)


class Visit(msgspec.Struct, frozen=True, kw_only=True):
    """One day's work: what is off first, the jobs in order, the time, the parts, what was kept apart, what follows.

    `minutes` hands-on, `wait_minutes` of waits [min]. `supplies` come from the shelf; `fetch` is what else the
    checklists name.
    """

    on: date
    jobs: tuple[VisitJob, ...]
    off_first: tuple[str, ...]
    minutes: int
    wait_minutes: int
    supplies: tuple[PartReady, ...]
    fetch: tuple[str, ...]
    apart: tuple[KeptApart, ...]
    afterwards: tuple[Afterwards, ...]


def visits(now: Situation, found: Plan, within_days: int = WITHIN_DAYS) -> tuple[Visit, ...]:
    """The jobs overdue or due within so many days that need the water off, or acid or bleach, as visits.

    Steps of playbooks count with the jobs; where both ask for one job, the sooner day holds.
    """
    membrane = any(isinstance(stage, ReverseOsmosis) for stage in now.house.stages)
    candidates = _candidates(now, found, now.today + timedelta(days=within_days))
    shelf = on_shelf(now)
    used = chemistry_on(now, now.today)
    found_days = arranged(candidates.values(), now.today, membrane=membrane, used_today=frozenset(used))
    return tuple(_with_parts(now, one, shelf) for one in found_days)


def _candidates(now: Situation, found: Plan, until: date) -> dict[str, Candidate]:
    places = _places(now.house)
    best: dict[str, Candidate] = {}
    for task, latest, health in _asked(found):
        if latest > until:
            continue
        made = _candidate(now, task, latest, health, places)
        if made.water != "water_off" and made.chemistry == "none":
            continue
        other = best.get(task)
        if other is not None:
            made = msgspec.structs.replace(made, latest=min(latest, other.latest), health=health or other.health)
        best[task] = made
    return best


def _asked(found: Plan) -> Iterator[tuple[str, date, bool]]:
    yield from ((item.task, item.act_on, item.health) for item in found.due)
    yield from ((step.task, step.on, step.health) for step in found.steps if step.task)


def _places(house: House) -> dict[str, int]:
    """The stages on the way from well to tap, branches after the train."""
    row = sorted(house.stages, key=lambda stage: (KINDS[kind_of(stage)].branch, kind_of(stage) != "well"))
    return {stage.id: place for place, stage in enumerate(row)}


def _candidate(now: Situation, task: str, latest: date, health: bool, places: dict[str, int]) -> Candidate:
    stage, job = find_task(now.house, task)
    sheet = load_checklist(kind_of(stage), job.id)
    return Candidate(
        task=task,
        title=job.title,
        stage=stage.id,
        stage_title=title_of(stage),
        place=places[stage.id],
        latest=latest,
        health=health,
        water=sheet.visit,
        chemistry=sheet.chemistry,
        minutes=sheet.minutes,
        waits=sum(step.wait_minutes for step in sheet.steps),
        off=sheet.off,
        parts=sheet.parts,
        follow_ups=sheet.follow_ups,
    )


def _with_parts(now: Situation, one: Arranged, shelf: dict[str, float]) -> Visit:
    """The visit with its parts; what it takes is gone from the shelf for the next one."""
    needed: dict[str, float] = {}
    for each in one.jobs:
        for supply, amount in suggested_parts(now, each.job.task).items():
            needed[supply] = needed.get(supply, 0.0) + amount
    ready = tuple(_ready(now.house, supply, amount, shelf.get(supply, 0.0)) for supply, amount in needed.items())
    shelf |= {part.supply: max(part.on_shelf - part.needed, 0.0) for part in ready}
    return Visit(
        on=one.on,
        jobs=one.jobs,
        off_first=one.off_first,
        minutes=one.minutes,
        wait_minutes=one.wait_minutes,
        supplies=ready,
        fetch=tuple(dict.fromkeys(part for each in one.jobs for part in each.job.parts)),
        apart=one.apart,
        afterwards=one.afterwards,
    )


def _ready(house: House, supply: str, needed: float, there: float) -> PartReady:
    known = next((one for one in house.supplies if one.id == supply), Supply(id=supply, title=supply))
    return PartReady(supply=supply, title=known.title, unit=known.unit, needed=needed, on_shelf=there)
