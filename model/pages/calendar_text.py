"""What stands in an event of the calendar: cautions first, then when and why, then the steps."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from model.equipment.registry import AnyStage, kind_of
from model.errors import WellwardError
from model.forecast.words import amount_in_words
from model.plan_types import Due, EventStep
from model.units import System
from model.upkeep.checklist import Checklist, load_checklist

LAST_WORD = (
    "The equipment's manual, local code, the certified laboratory, the health authority and licensed trades come "
    "before anything said here."
)
_SURE = {"measured": "by readings", "forecast": "a forecast", "guess": "a guess: few readings stand behind it"}


def job_text(item: Due, stage: AnyStage | None, units: System) -> str:
    """The text of a job's event."""
    how = _checklist(stage, item.task)
    return _joined(
        [
            _listed("CAUTIONS FIRST", how.cautions if how else ()),
            "\n".join(_when(item, units)),
            _listed("WHY", (*item.why, *((how.why,) if how else ()))),
            *(_how(how) if how else ()),
            f"Then record it: wellward done {item.task}",
            LAST_WORD,
        ]
    )


def step_text(step: EventStep, cautions: Iterable[str], stage: AnyStage | None) -> str:
    """The text of the event of one step of a playbook."""
    how = _checklist(stage, step.task) if step.task else None
    done = f"wellward done {step.task}" if step.task else f"wellward event done {step.key}"
    return _joined(
        [
            _listed("CAUTIONS FIRST", dict.fromkeys((*cautions, *(how.cautions if how else ())))),
            f"{step.text}\nA step of: {step.playbook_title}, begun {step.started_on}.",
            *(_how(how) if how else ()),
            f"Then record it: {done}",
            LAST_WORD,
        ]
    )


def _checklist(stage: AnyStage | None, task: str) -> Checklist | None:
    if stage is None:
        return None
    try:
        return load_checklist(kind_of(stage), task.partition(".")[2])
    except WellwardError:
        return None


def _when(item: Due, units: System) -> Iterator[str]:
    late = " It is overdue." if item.state == "overdue" else ""
    yield f"Act by {item.act_on}.{late}{' Begun and not finished.' if item.paused else ''}"
    if item.earliest or item.latest:
        yield f"It runs out in 8 of 10 cases {_window(item.earliest, item.latest)}, {_SURE[item.sure]}."
    if item.remaining is not None and item.left_known:
        yield f"Left: {amount_in_words(item.remaining.value, item.remaining.unit, units)}."


def _window(earliest: date | None, latest: date | None) -> str:
    if earliest is None:
        return f"by {latest}"
    return f"between {earliest} and {latest}" if latest else f"from {earliest} on"


def _how(how: Checklist) -> Iterator[str]:
    yield f"About {how.minutes} minutes of work."
    yield _listed("HAVE READY", (*how.tools, *how.parts))
    yield _listed("BEFORE", how.before)
    yield _listed("OFF FIRST", how.off)
    yield _listed("READ BEFORE", [ask.ask for ask in how.before_readings])
    yield "\n".join(["STEPS", *(f"{n}. {step.text}{_wait(step.wait_minutes)}" for n, step in enumerate(how.steps, 1))])
    yield _listed("READ AFTERWARDS", [ask.ask for ask in how.after_readings])
    yield _listed("IT IS DONE WHEN", how.pass_criteria)


def _wait(minutes: int) -> str:
    return f" (then wait {minutes} min)" if minutes else ""


def _listed(heading: str, lines: Iterable[str]) -> str:
    rows = [f"- {line}" for line in lines]
    return "\n".join([heading, *rows]) if rows else ""


def _joined(parts: Iterable[str]) -> str:
    return "\n\n".join(part for part in parts if part)
