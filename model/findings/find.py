"""What the readings say today: every rule asked once, the answers of the owner applied."""

from __future__ import annotations

from msgspec.structs import replace

from model.equipment.registry import KINDS, AnyStage, kind_of, title_of
from model.errors import BadInput
from model.findings.answers import answered, latest
from model.findings.registry import BY_ID, HOUSE, RULES, Rule
from model.findings.shape import Diagnosis, Raised
from model.forecast.situation import Situation
from model.plan_types import Cause, Finding
from model.records.events import FindingAnswered
from model.records.quantities import QUANTITIES

_RANK = {"danger": 0, "warning": 1, "note": 2}


def findings(now: Situation) -> tuple[Finding, ...]:
    """Every finding of the day with what the owner said to it, the gravest first; pure.

    Those the owner put away are here too, marked (`hidden`): they are counted, never lost. One that was accepted stays
    until its task is done, also where the readings no longer show it (`stands` is then False).
    """
    said = latest(now.history)
    raised = [found for rule in RULES for found in _asked(now, rule)]
    told = [answered(now.history, said.get(one.id), one) for one in raised]
    known = {one.id for one in raised}
    kept = [_kept(now, one) for one in said.values() if one.answer == "accepted" and one.finding not in known]
    every = [*told, *(one for one in kept if one is not None)]
    return tuple(sorted(every, key=lambda one: (one.hidden, _RANK[one.level])))


def _asked(now: Situation, rule: Rule) -> list[Finding]:
    if rule.kind == HOUSE:
        return _seen(now, rule, None)
    return [found for stage in now.house.stages if kind_of(stage) == rule.kind for found in _seen(now, rule, stage)]


def _seen(now: Situation, rule: Rule, stage: AnyStage | None) -> list[Finding]:
    """Settings that make no sense raise nothing: the alerts tell of them."""
    try:
        raised = rule.sees(now) if stage is None else rule.sees(now, stage)
    except BadInput:
        return []
    return [] if raised is None else [_finding(now, rule.diagnosis, stage, raised)]


def _finding(now: Situation, row: Diagnosis, stage: AnyStage | None, raised: Raised) -> Finding:
    where = raised.place or (stage.id if stage else HOUSE)
    found = _bare(now, row, stage, f"{row.id}.{where}", raised.first)
    return Finding(
        id=found.id,
        stage=found.stage,
        stage_title=found.stage_title,
        title=found.title,
        level=raised.level,
        text=raised.text,
        rests_on=raised.rests_on,
        causes=found.causes,
        task=found.task,
        read="" if found.task else raised.read,
        at="" if found.task else raised.at,
    )


def _bare(now: Situation, row: Diagnosis, stage: AnyStage | None, id_: str, first: tuple[str, ...]) -> Finding:
    """A row of the tables at a place, without what was read."""
    ranked = sorted(row.causes, key=lambda one: first.index(one.id) if one.id in first else len(first))
    return Finding(
        id=id_,
        stage=stage.id if stage else HOUSE,
        stage_title=title_of(stage) if stage else "House",
        title=row.title,
        level="note",
        text="You took this on as a task; the readings no longer show it. Mark it done if it is settled.",
        rests_on=(),
        causes=tuple(_at(now, one, stage) for one in ranked),
        task=next((task for name in row.tasks if (task := task_of(now, name, stage))), ""),
        stands=False,
    )


def _at(now: Situation, one: Cause, stage: AnyStage | None) -> Cause:
    return Cause(id=one.id, text=one.text, do=one.do, task=task_of(now, one.task, stage))


def task_of(now: Situation, name: str, stage: AnyStage | None) -> str:
    """The task id of a job of the stage, or of the first stage of a kind ("softener.salt_check"); "" for none."""
    kind, _, job = name.rpartition(".")
    if kind:
        stage = next((one for one in now.house.stages if kind_of(one) == kind), None)
    known = stage is not None and any(one.id == job for one in KINDS[kind_of(stage)].all_jobs)
    return f"{stage.id}.{job}" if stage is not None and known else ""


def _kept(now: Situation, said: FindingAnswered) -> Finding | None:
    """An accepted finding that the readings no longer show, as its row of the tables tells it, until it is done."""
    name, _, place = said.finding.partition(".")
    rule = BY_ID.get(name)
    stage = now.house.stage(place)
    if rule is None or (rule.kind != HOUSE and stage is None):
        return None
    found = _bare(now, rule.diagnosis, stage, said.finding, ())
    quantity, _, at = place.partition(".")
    if quantity in QUANTITIES and not found.task:
        found = replace(found, read=quantity, at=at)
    found = answered(now.history, said, found)
    return found if found.answer == "accepted" else None
