"""Acid work and bleach work, which never share a day: mixed they give off chlorine gas."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Literal

from model.equipment.registry import job_title, kind_of_id
from model.errors import WellwardError
from model.forecast.situation import Situation
from model.forecast.words import day_in_words
from model.plan_types import Alert, EventStep
from model.records.events import Service

Chemistry = Literal["acid", "bleach"]
_OTHER: dict[str, Chemistry] = {"acid": "bleach", "bleach": "acid"}


def chemistry_on(now: Situation, on: date) -> dict[Chemistry, str]:
    """What was used in the jobs done on a day, each with the title of one such job."""
    tasks = (one.task for one in reversed(now.history.of(Service)) if one.on == on)
    return _by_chemistry(tasks)


def apart(now: Situation, task: str, on: date) -> str:
    """Why a job should not be done, or have been done, on a day: the other of the two was used then. Else empty."""
    (own,) = _by_chemistry([task]) or ("",)
    other = chemistry_on(now, on).get(_OTHER.get(own, "acid")) if own else None
    if other is None:
        return ""
    done = f"{_OTHER[own].capitalize()} work was done on {day_in_words(on, now.today)} ({other})"
    return f"{done}: keep {own} work for another day. Where the two meet they give off chlorine gas."


def clashes(now: Situation, steps: Iterable[EventStep]) -> list[Alert]:
    """Open steps of playbooks whose day is that of the other chemical, in another step or in what was done today."""
    days: dict[date, list[str]] = {}
    for step in steps:
        if step.task:
            days.setdefault(max(step.on, now.today), []).append(step.task)
    found = []
    for on, tasks in sorted(days.items()):
        both = _by_chemistry(tasks) | (chemistry_on(now, on) if on == now.today else {})
        if len(both) == 2:
            text = (
                f"Acid work ({both['acid']}) and bleach work ({both['bleach']}) both fall on "
                f"{day_in_words(on, now.today)}: the acid first, the bleach on a later day. Never let the two meet."
            )
            found.append(Alert(level="warning", point="house", text=text))
    return found


def _by_chemistry(tasks: Iterable[str]) -> dict[Chemistry, str]:
    found: dict[Chemistry, str] = {}
    for task in dict.fromkeys(tasks):
        used = _chemistry(task)
        if used != "none":
            found.setdefault(used, job_title(task) or task)
    return found


def _chemistry(task: str) -> Literal["acid", "bleach", "none"]:
    from model.upkeep.checklist import load_checklist  # only homes in which something is done or begun pay for it

    stage, _, job = task.partition(".")
    try:
        return load_checklist(kind_of_id(stage), job).chemistry
    except WellwardError:
        return "none"
