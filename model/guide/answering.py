"""How a question gets its answer, with or without the stage that it is about."""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from model.equipment.base import Stage
from model.equipment.registry import KINDS
from model.guide.own import Own
from model.guide.shape import Missing, Said

S = TypeVar("S", bound=Stage)

Answerer = Callable[[Own], Said]
"""From a home's numbers to what they say."""


def of(kind: type[S]) -> Callable[[Callable[[Own, S], Said]], Answerer]:
    """An answer that is about one kind of stage: asked of the first one, and said to be absent where there is none."""

    def decorate(answer: Callable[[Own, S], Said]) -> Answerer:
        def asked(own: Own) -> Said:
            stage = own.first(kind)
            return answer(own, stage) if stage is not None else absent(kind)

        asked.__doc__ = answer.__doc__
        asked.__name__ = answer.__name__
        return asked

    return decorate


def absent(kind: type[Stage]) -> Said:
    """There is no such stage in this house."""
    title = next((one.title for one in KINDS.values() if one.describes is kind), "stage")
    name = title if title.isupper() or title == "Ultraviolet" else title.lower()
    what = f"the stage itself, if it stands here: House (7), then a, adds it ({title})"
    return Said(f"No {name} is written down for this home; what follows holds in general.", (Missing(what=what),))
