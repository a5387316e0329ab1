"""The home that follows from the answers: what stands there, and its first events."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date
from typing import NamedTuple

import msgspec

from model.equipment.labels import BELOW, PARTS, STAGE_LABELS
from model.equipment.registry import KINDS, AnyStage
from model.errors import BadInput
from model.home import House, Supply
from model.records.events import AnyEvent, LabReport, Reading, Service, Setting, Taken
from model.records.intake import take
from model.setup.assumed import ASSUMED
from model.setup.question import UNKNOWN, Answers, Question
from model.setup.questions import kinds_of, plain_stage, questions, system_of
from model.setup.reading import kept_value, with_unit

NAME = "My well"
DONE_BEFORE = "Told at set-up."
"""The note of a job that was done before the home was written down."""

Fields = dict[str, object]


class Start(NamedTuple):
    """A home to be written: the house as it stands, and the first events."""

    house: House
    events: tuple[AnyEvent, ...]


def accept(answers: Answers, question: Question, text: str, today: date) -> Answers:
    """The answers with one more, tried on all of them.

    Raises:
        BadInput: it cannot be, or does not go with what was answered before.
    """
    said = {**answers, question.id: with_unit(question, text, system_of(answers))}
    start(said, today)
    return said


def start(answers: Answers, today: date) -> Start:
    """The home that the answers describe, begun today. What is not known has its default and is marked.

    Raises:
        BadInput: answers that cannot be, or do not fit together.
    """
    asked = questions(answers)
    known = {one.id: _value(one, answers, today) for one in asked if _is_setting(one) and _said(one, answers)}
    house = _house(answers, known, today)
    assumed = tuple(_assumed(one, house, today) for one in asked if _is_setting(one) and not _said(one, answers))
    done = tuple(
        Service(on=date.fromisoformat(known_day), task=one.id, note=DONE_BEFORE)
        for one in asked
        if one.kind == "day" and one.stage and (known_day := _day(one, answers, today))
    )
    readings = tuple(
        Reading(on=today, taken=_taken(one, answers, house))
        for one in asked
        if one.kind == "reading" and _said(one, answers) and not one.id.startswith("lab.")
    )
    return Start(house, (*(one for one in assumed if one), *done, *_lab(asked, answers, house, today), *readings))


def default_of(question: Question, answers: Answers, today: date) -> Question:
    """The question with the default that goes with the answers before it, as where the salt is known to be shallow."""
    if not question.stage or question.kind != "number" or question.default is None:
        return question
    house = start({**answers, question.id: UNKNOWN}, today).house
    stage = next(one for one in house.stages if one.id == question.stage)
    return msgspec.structs.replace(question, default=getattr(stage, question.field))


def _said(question: Question, answers: Answers) -> bool:
    return answers.get(question.id, UNKNOWN) != UNKNOWN


def _day(question: Question, answers: Answers, today: date) -> str:
    return str(_value(question, answers, today)) if _said(question, answers) else ""


def _is_setting(question: Question) -> bool:
    """Whether it is a setting of the house or of a stage; the units are a matter of taste and never assumed."""
    return question.id == "people" or (bool(question.stage) and question.kind in ("number", "choice"))


def _value(question: Question, answers: Answers, today: date) -> float | str | bool:
    return kept_value(question, answers[question.id], system_of(answers), today)


def _house(answers: Answers, known: dict[str, float | str | bool], today: date) -> House:
    stages = tuple(_stage(kind, known) for kind in kinds_of(answers))
    supplies, linked = _with_supplies(stages)
    people = {"people": known["people"]} if "people" in known else {}
    plain = {"name": NAME, "started": today, "units": system_of(answers), **people}
    house = msgspec.convert(plain, House)
    return msgspec.structs.replace(house, stages=linked, supplies=supplies)


def _stage(kind: str, known: dict[str, float | str | bool]) -> AnyStage:
    fields: Fields = {
        path.partition(".")[2]: value for path, value in known.items() if path.partition(".")[0] == kind and "." in path
    }
    whole: Fields = {**_fitted(plain_stage(kind), fields), **fields}
    for low, high in BELOW:
        below, above = _at(whole, low), _at(whole, high)
        if below is not None and above is not None and below >= above:
            raise BadInput(
                f"“{STAGE_LABELS[low].label}” must be below “{STAGE_LABELS[high].label}”.",
                "Change this one; Ctrl+G goes back to the other.",
            )
    stage: AnyStage = msgspec.convert({"kind": kind, "id": kind, **whole}, AnyStage)
    return stage


def _fitted(stage: AnyStage, known: Fields) -> Fields:
    """The defaults of a stage, moved where they would not go with what the owner knows.

    The shares and steps here are the owner's defaults; 1.38 bar (20 psi) from start to stop and 0.14 bar (2 psi) of
    air below the start: common practice, no source.
    """
    found: Fields = {name: getattr(stage, name) for name in stage.__struct_fields__ if name in STAGE_LABELS}
    found.update(known)
    rules: tuple[tuple[str, Callable[[], float]], ...] = (
        ("cut_out_bar", lambda: max(_num(found, "cut_out_bar"), _num(found, "cut_in_bar") + 1.37)),
        ("cut_in_bar", lambda: min(_num(found, "cut_in_bar"), _num(found, "cut_out_bar") * 2.0 / 3.0)),
        ("precharge_bar", lambda: round(max(_num(found, "cut_in_bar") - 0.14, 0.0), 4)),
        ("minimum_bed_cm", lambda: min(_num(found, "minimum_bed_cm"), 0.9 * _num(found, "full_bed_cm"))),
        ("full_bed_cm", lambda: max(_num(found, "full_bed_cm"), 1.4 * _num(found, "minimum_bed_cm"))),
        ("salt_low_cm", lambda: min(_num(found, "salt_low_cm"), 0.33 * _num(found, "salt_full_cm"))),
        ("salt_full_cm", lambda: max(_num(found, "salt_full_cm"), 1.2 * _num(found, "salt_low_cm"))),
        ("brine_tank_height_cm", lambda: max(_num(found, "brine_tank_height_cm"), 1.2 * _num(found, "salt_full_cm"))),
        ("anion_resin_l", lambda: 0.0 if found["anion_type"] == "none" else 0.5 * _num(found, "cation_resin_l")),
    )
    for name, rule in rules:
        if name in found and name not in known:
            found[name] = min(rule(), STAGE_LABELS[name].high)
    return found


def _num(fields: Fields, name: str) -> float:
    return _at(fields, name) or 0.0


def _at(fields: Fields, name: str) -> float | None:
    value = fields.get(name)
    return float(value) if isinstance(value, int | float) else None


def _with_supplies(stages: tuple[AnyStage, ...]) -> tuple[tuple[Supply, ...], tuple[AnyStage, ...]]:
    """A supply for every part that the stages' jobs use, and the stages linked to them. Prices are not known yet."""
    supplies: dict[str, Supply] = {}
    linked: list[AnyStage] = []
    for stage in stages:
        roles = dict.fromkeys(role for job in KINDS[stage.id].all_jobs for role in job.parts)
        for role in roles:
            title, unit, pack = PARTS.get(role, (role.replace("_", " ").capitalize(), "each", 1.0))
            supplies.setdefault(role, Supply(id=role, title=title, unit=unit, pack=pack))
        linked.append(msgspec.structs.replace(stage, supplies={role: role for role in roles}))
    return tuple(supplies.values()), tuple(linked)


def _assumed(question: Question, house: House, today: date) -> Setting | None:
    """The mark of a setting that nobody knew; none where it is empty, for then it is worked out."""
    stages = {stage.id: stage for stage in house.stages}
    of = stages[question.stage] if question.stage else house
    value: float | str | bool | None = getattr(of, question.field)
    if value is None:
        return None
    path = f"stages.{question.id}" if question.stage else question.id
    return Setting(on=today, path=path, value=value, was=value, note=ASSUMED)


def _taken(question: Question, answers: Answers, house: House, point: str | None = None) -> Taken:
    of = point or (question.stage if question.stage != "house" else None)
    return take(house, question.field, answers[question.id], None, of)


def _lab(asked: tuple[Question, ...], answers: Answers, house: House, today: date) -> Iterator[LabReport]:
    found = tuple(
        _taken(one, answers, house, "source")
        for one in asked
        if one.id.startswith("lab.") and one.kind == "reading" and _said(one, answers)
    )
    day = next((_day(one, answers, today) for one in asked if one.id == "lab.on"), "")
    on, known = date.fromisoformat(day) if day else today, bool(day)
    if found:
        note = "" if known else "The day of the sample is not known: the day of set-up is taken."
        yield LabReport(on=on, point="source", taken=found, note=note)
