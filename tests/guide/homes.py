"""Homes to ask questions of."""

from __future__ import annotations

import msgspec

from model.equipment.registry import AnyStage
from model.forecast.situation import Situation
from model.guide.book import answer, questions
from model.guide.own import Own
from model.guide.shape import Answer
from model.home import Home
from model.records.events import AnyEvent
from model.redate import redated
from model.store.repository import Repository
from sample_data import SAMPLE
from tests.forecast.homes import STAGES, TODAY, home


def own_of(asked: Home) -> Own:
    """The numbers of a home on the day of the tests."""
    return Own(Situation(asked, TODAY))


def ask(name: str, asked: Home | Own) -> Answer:
    """One question answered."""
    (one,) = (one for one in questions() if one.id == name)
    return answer(one, asked if isinstance(asked, Own) else own_of(asked))


def with_stage(kind: str, *events: AnyEvent, **changed: object) -> Home:
    """A home with one stage, changed, and what happened there."""
    (stage,) = (one for one in STAGES if one.id == kind)
    return home(*events, stages=(changed_stage(stage, **changed),), units="us", hose=False)


def changed_stage(stage: AnyStage, **changed: object) -> AnyStage:
    """The stage with other settings."""
    return msgspec.structs.replace(stage, **changed)


def sample() -> Home:
    """The sample home, its story ending on the day of the tests."""
    return redated(Repository(SAMPLE).load(), TODAY)
