"""The questions of the set-up in their order, which follows from what was answered."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache

import msgspec

from model.equipment.labels import CHOICES, HOUSE_LABELS, STAGE_LABELS
from model.equipment.registry import KINDS, AnyStage
from model.setup.catalogue import LAB, OF_STAGE, Asked, Done, Read
from model.setup.question import UNKNOWN, Answers, Question
from model.units import System

ASSUMED_STAGES = ("well", "pressure_tank")
"""What stands in nearly every house on its own well. Common practice, no source."""

_YES_NO = (("yes", "Yes"), ("no", "No"))


def questions(answers: Answers) -> tuple[Question, ...]:
    """Every question to ask, given what was answered: unticked stages are not asked about."""
    return tuple(_all(answers))


def system_of(answers: Answers) -> System:
    """The owner's units."""
    return "metric" if answers.get("units") == "metric" else "us"


def kinds_of(answers: Answers) -> tuple[str, ...]:
    """The kinds of stage that stand there, in train order."""
    ticked = answers.get("stages", UNKNOWN)
    named = ASSUMED_STAGES if ticked == UNKNOWN else ticked.split()
    return tuple(kind for kind in KINDS if kind in named)


def _all(answers: Answers) -> Iterator[Question]:
    yield from _house()
    for kind in kinds_of(answers):
        for one in OF_STAGE.get(kind, ()):
            if _asked(kind, one, answers):
                yield _of_stage(kind, one)
    yield Question(
        id="lab",
        kind="choice",
        title="Do you have a laboratory report on the raw water?",
        about="One that names pH, hardness, iron or nitrate. Without one the plan takes a usual water and says so.",
        choices=_YES_NO,
        instead="no report; l adds one later",
    )
    if answers.get("lab") == "yes":
        yield Question(
            id="lab.on",
            kind="day",
            title="On which day was the water sampled?",
            about="Like 2026-03-31.",
            instead="the day of this set-up is taken, and the report says so",
        )
        yield from (_reading("lab", one) for one in LAB)
    yield _reading("house", Read("meter", "What does the water meter show today?", ("gal", "ft3", "L", "m3"), _METER))


_METER = "All its digits, never reset. With a second reading next week the program knows your use."


def _house() -> Iterator[Question]:
    people = "Those who sleep there on most days; a half counts too."
    yield Question(
        id="units",
        kind="choice",
        title="Which units do you read?",
        choices=(("us", CHOICES["us"]), ("metric", CHOICES["metric"])),
        default="us",
        instead="US units",
    )
    yield Question(
        id="people",
        kind="number",
        title="How many people live in the house?",
        about=people,
        label=HOUSE_LABELS["people"],
        default=2.0,
    )
    yield Question(
        id="stages",
        kind="ticks",
        title="What does the water pass, from the well to the tap?",
        about="Order, seconds of a kind and parts: later under House.",
        choices=tuple((kind, KINDS[kind].title) for kind in KINDS if kind != "part"),
        instead="a well and a pressure tank",
    )


def _of_stage(kind: str, one: Asked | Read | Done) -> Question:
    if isinstance(one, Asked):
        return _setting(kind, one)
    return _reading(kind, one) if isinstance(one, Read) else _done(kind, one)


def _asked(kind: str, one: Asked | Read | Done, answers: Answers) -> bool:
    """Whether a question makes sense after the answers to those before it."""
    if not isinstance(one, Asked):
        return True
    if one.field == "anion_resin_l":
        return answers.get(f"{kind}.anion_type", UNKNOWN) not in (UNKNOWN, "none")
    timed = answers.get(f"{kind}.control") == "timed"
    return {"regenerate_every_l": not timed, "regenerate_every_days": timed}.get(one.field, True)


@cache
def plain_stage(kind: str) -> AnyStage:
    """A stage of a kind with all its defaults and the id of its kind."""
    found: AnyStage = msgspec.convert({"kind": kind, "id": kind}, AnyStage)
    return found


def _setting(kind: str, asked: Asked) -> Question:
    default = getattr(plain_stage(kind), asked.field)
    choices: tuple[tuple[str, str], ...] = _YES_NO if isinstance(default, bool) else _CHOICES.get(asked.field, ())
    return Question(
        id=f"{kind}.{asked.field}",
        kind="choice" if choices else "number",
        title=asked.title,
        about=asked.about,
        label=STAGE_LABELS[asked.field],
        choices=choices,
        drawing=asked.drawing,
        default=default,
        instead="it is worked out" if default is None else "",
    )


_CHOICES: dict[str, tuple[tuple[str, str], ...]] = {
    "anion_type": (
        ("none", "No, it only softens"),
        ("standard", "Yes, standard anion resin"),
        ("nitrate_selective", "Yes, nitrate-selective resin"),
    ),
    "control": (("metered", "The water meter in the valve"), ("timed", "A timer, whatever was used")),
}


def _reading(of: str, read: Read) -> Question:
    return Question(
        id=f"{of}.{read.quantity}",
        kind="reading",
        title=read.title,
        about=read.about,
        units=read.units,
        drawing=read.drawing,
        instead="nothing is written down",
    )


def _done(kind: str, done: Done) -> Question:
    return Question(
        id=f"{kind}.{done.job}",
        kind="day",
        title=done.title,
        about="Like 2026-03-31; the middle of the month will do. A label or a bill may say it.",
        instead="nothing is written down, and the plan asks for the job as if it was never done",
    )
