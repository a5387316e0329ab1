"""What a question, an answer and a missing reading are."""

from __future__ import annotations

from typing import Annotated

import msgspec

Words = Annotated[str, msgspec.Meta(min_length=1)]


class Question(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """What somebody asks, and what holds in every house.

    `why`: why the answer is so. `then`: what to read or do next. `source`: what the general part rests on. `to`: where
    to go: a screen ("water"), a view of it ("water:mix") or a job by its kind of stage ("softener.break_bridge").
    `health`: it is about drinking, so the laboratory, a doctor or the health authority has the last word.
    """

    number: Annotated[int, msgspec.Meta(ge=1)]
    id: Words
    asks: Words
    why: Words
    then: Words
    source: Words
    to: Words
    health: bool = False
    topic: str = ""


class Missing(msgspec.Struct, frozen=True, kw_only=True):
    """Something that would make an answer better: what, and the command that records it.

    VALUE in a command stands for what is read. A setting has no command: `what` says where it is entered.
    """

    what: str
    command: str = ""


class Said(msgspec.Struct, frozen=True):
    """What this home's numbers say, in one or two sentences, and what is missing to say more."""

    text: str
    missing: tuple[Missing, ...] = ()


class Answer(msgspec.Struct, frozen=True, kw_only=True):
    """A question with its answer for one home. `to` is a screen, a view or a task of this house."""

    question: Question
    said: str
    missing: tuple[Missing, ...]
    to: str
