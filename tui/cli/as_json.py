"""The documents that `--json` prints. Stable: scripts rely on them. What is not known is absent."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

import msgspec

from model.equipment.registry import kind_of_id
from model.home import Home
from model.plan_types import CostItem, Costs, Due, EventStep, Finding, Plan, PointWater, Range, SlowPart, TenYears
from model.records.log import LogLine

if TYPE_CHECKING:
    from model.forecast.playbooks import Running
    from model.upkeep.playbook import Playbook

Document = dict[str, object]

_REPORTED = ("neutralizer", "softener", "ultraviolet", "reverse_osmosis", "pressure_tank", "drain")


def due(plan: Plan, shown: Iterable[Due], steps: Iterable[EventStep] = ()) -> Document:
    """`due --json`. The steps of playbooks stand beside "due", under "events"."""
    asked: Document = {"questions": msgspec.to_builtins(plan.questions)} if plan.questions else {}
    events = [event_step(step) for step in steps]
    asked |= {"events": events} if events else {}
    return {
        "today": plan.today.isoformat(),
        "exposure": list(plan.exposure),
        "due": [_due_item(item) for item in shown],
        "alerts": msgspec.to_builtins(plan.alerts),
        **asked,
        "findings": findings(plan.findings),
    }


def findings(found: Iterable[Finding]) -> list[Document]:
    """The findings, those put away too; an answer is there only where one still counts."""
    return [_finding(one) for one in found]


def _finding(one: Finding) -> Document:
    answer: Document = {"answer": one.answer, "answered_on": msgspec.to_builtins(one.answered_on)} if one.answer else {}
    answer |= {"reason": one.reason} if one.reason else {}
    answer |= {"until": one.until.isoformat()} if one.until else {}
    return {
        "id": one.id,
        "stage": one.stage,
        "title": one.title,
        "level": one.level,
        "text": one.text,
        "rests_on": msgspec.to_builtins(one.rests_on),
        "causes": msgspec.to_builtins(one.causes),
        "task": one.task or None,
        "read": {"quantity": one.read, "at": one.at} if one.read else None,
        "stands": one.stands,
        **answer,
    }


def _due_item(item: Due) -> Document:
    return {
        "task": item.task,
        "title": item.title,
        "stage": item.stage,
        "state": item.state,
        "act_on": item.act_on.isoformat(),
        "earliest": item.earliest.isoformat() if item.earliest else None,
        "latest": item.latest.isoformat() if item.latest else None,
        "driver": item.driver,
        "remaining": msgspec.to_builtins(item.remaining),
        "sure": item.sure,
        "why": list(item.why),
    }


def event_step(step: EventStep) -> Document:
    """One step of a playbook begun."""
    found: Document = {
        "key": step.key,
        "event": step.event,
        "playbook": step.playbook,
        "playbook_title": step.playbook_title,
        "started_on": step.started_on.isoformat(),
        "text": step.text,
        "state": step.state,
        "act_on": step.on.isoformat(),
        "health": step.health,
        "outcome": step.outcome,
    }
    found |= {"task": step.task, "stage": step.stage, "done_from": step.opens.isoformat()} if step.task else {}
    found |= {"closed_on": step.closed_on.isoformat()} if step.closed_on else {}
    return found | ({"reason": step.reason} if step.reason else {})


def playbooks(known: Iterable[Playbook], begun: Iterable[Running]) -> Document:
    """`event --json`: the playbooks there are, and those begun with every step."""
    return {
        "playbooks": [{"id": one.id, "title": one.title, "why": one.why} for one in known],
        "begun": [
            {
                "event": one.event,
                "playbook": one.playbook,
                "title": one.title,
                "on": one.on.isoformat(),
                "note": one.note,
                "cautions": list(one.cautions),
                "open": len(one.open),
                "steps": [event_step(step) for step in one.steps],
            }
            for one in begun
        ],
    }


def water(plan: Plan) -> Document:
    """`water --json`: the points, then the numbers of each stage there is."""
    stages = {stage: numbers for stage, numbers in plan.reports.items() if kind_of_id(stage) in _REPORTED}
    return {"today": plan.today.isoformat(), "points": [_point(point) for point in plan.points], **stages}


def _point(point: PointWater) -> Document:
    found: Document = {"point": point.point, "title": point.title, "flow_l_per_day": point.flow_l_per_day}
    if point.sample is not None:
        found |= msgspec.to_builtins(point.sample)
    for name in (
        "hardness_mg_l_caco3",
        "co2_mg_l",
        "tds_mg_l",
        "calcite_saturation_index",
        "aerated_pH",
        "nitrate_planned_mg_l_n",
    ):
        value = getattr(point, name)
        if value is not None:
            found[name] = value
    return found


def costs(forecast: Costs, years: TenYears) -> Document:
    """`costs --json`: the months asked, and the ten years with their slow parts."""
    return {
        "from": forecast.start.isoformat(),
        "to": forecast.end.isoformat(),
        "currency": forecast.currency,
        "total": _range(forecast.total),
        "items": [_cost_item(item) for item in forecast.items],
        "months": [{"month": row.month, **_range(row.cash)} for row in forecast.months],
        "ten_years": {
            "from": years.start.isoformat(),
            "to": years.end.isoformat(),
            "total": _range(years.total),
            "parts": [_slow_part(part) for part in years.parts],
        },
    }


def _slow_part(part: SlowPart) -> Document:
    found: Document = {
        "task": part.task,
        "title": part.title,
        "stage": part.stage,
        "age_years": round(part.age_years, 2),
        "earliest": part.earliest.isoformat(),
        "middle": part.middle.isoformat(),
        "latest": part.latest.isoformat(),
        "chance": part.chance,
    }
    cash = {} if part.cash is None else {"cash": _range(part.cash)}
    return found | cash | {"basis": part.basis}


def _range(amount: Range) -> Document:
    return {"expected": amount.expected, "low": amount.low, "high": amount.high}


def _cost_item(item: CostItem) -> Document:
    return {
        "supply": item.supply,
        "stage": item.stage,
        "quantity": item.quantity,
        "unit": item.unit,
        "cash": _range(item.cash),
        "long_run_per_year": item.long_run_per_year,
    }


def log(home: Home, shown: Iterable[LogLine]) -> Document:
    """`log --json`: each event as stored, in words, and whether it was taken back."""
    events = {event.id: event for event in home.events}
    return {
        "events": [
            {"what": line.what, "detail": line.detail, "voided": line.voided, **msgspec.to_builtins(events[line.id])}
            for line in shown
        ]
    }
