"""The numbers of each kind of stage: for scripts, and in words for the screen."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, NamedTuple

from model.equipment.registry import AnyStage, kind_of
from model.errors import BadInput
from model.forecast.numbers import drain, neutralizer, pressure_tank, reverse_osmosis, softener, ultraviolet, use
from model.forecast.numbers.common import Numbers
from model.forecast.situation import Situation
from model.plan_types import Alert, Fact


class _Told(NamedTuple):
    """What one kind of stage has to tell."""

    numbers: Callable[[Situation, Any], Numbers]
    facts: Callable[[Situation, Any, Numbers], list[Fact]]
    alerts: Callable[[Situation, Any], list[Alert]]


def reports(now: Situation) -> dict[str, Numbers]:
    """Numbers by stage id, and "drain" for what goes to the drain. A number that cannot be known is absent."""
    found: dict[str, Numbers] = {"use": use.numbers(now)}
    for stage in now.house.stages:
        numbers = _numbers(now, stage)
        if numbers:
            found[stage.id] = numbers
    sent = drain.numbers(now)
    return {**found, "drain": sent} if sent else found


def facts(now: Situation, numbers: dict[str, Numbers]) -> tuple[Fact, ...]:
    """The same numbers for people, in the owner's units, with what they rest on."""
    found: list[Fact] = use.facts(now)
    for stage in now.house.stages:
        found += _facts(now, stage, numbers.get(stage.id, {}))
    return (*found, *drain.facts(now, numbers.get("drain", {})))


def stage_alerts(now: Situation) -> list[Alert]:
    """What the numbers of the stages say that their owner should know."""
    return [alert for stage in now.house.stages for alert in _alerts(now, stage)]


def _numbers(now: Situation, stage: AnyStage) -> Numbers:
    """Settings that make no sense give no numbers; the facts say which."""
    told = _TOLD.get(kind_of(stage))
    try:
        return told.numbers(now, stage) if told else {}
    except BadInput:
        return {}


def _facts(now: Situation, stage: AnyStage, numbers: Numbers) -> list[Fact]:
    told = _TOLD.get(kind_of(stage))
    try:
        return told.facts(now, stage, numbers) if told else []
    except BadInput as problem:
        return [
            Fact(stage=stage.id, label="Settings", text=str(problem), basis="look through them on the House screen")
        ]


def _alerts(now: Situation, stage: AnyStage) -> list[Alert]:
    told = _TOLD.get(kind_of(stage))
    try:
        return told.alerts(now, stage) if told else []
    except BadInput:
        return []


_TOLD: dict[str, _Told] = {
    "neutralizer": _Told(neutralizer.numbers, neutralizer.facts, neutralizer.alerts),
    "softener": _Told(softener.numbers, softener.facts, softener.alerts),
    "ultraviolet": _Told(ultraviolet.numbers, ultraviolet.facts, ultraviolet.alerts),
    "reverse_osmosis": _Told(reverse_osmosis.numbers, reverse_osmosis.facts, reverse_osmosis.alerts),
    "pressure_tank": _Told(pressure_tank.numbers, pressure_tank.facts, pressure_tank.alerts),
}
"""What each kind tells, by its tag in the file."""
