"""All questions: read from their files, found by words, answered for one home."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

import msgspec

from model.equipment.registry import kind_of
from model.errors import WellwardError
from model.guide import fish, keeping, lamp, membrane, neutralizer, salt, softened, well
from model.guide.answering import Answerer
from model.guide.own import Own
from model.guide.shape import Answer, Question, Said

FOLDER = Path(__file__).parent / "questions"

ANSWERS: dict[str, Answerer] = {
    **well.ANSWERS,
    **neutralizer.ANSWERS,
    **salt.ANSWERS,
    **softened.ANSWERS,
    **lamp.ANSWERS,
    **membrane.ANSWERS,
    **fish.ANSWERS,
    **keeping.ANSWERS,
}
"""Question -> its answer."""


class _Topic(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One file of questions."""

    topic: str
    question: tuple[Question, ...]


@lru_cache(maxsize=1)
def questions() -> tuple[Question, ...]:
    """Every question, in order of topic.

    Raises:
        WellwardError: a file is missing, not TOML, or a field of it missing, unknown or of the wrong type.
    """
    return tuple(one for path in sorted(FOLDER.glob("*.toml")) for one in _read(path))


def _read(path: Path) -> list[Question]:
    import tomllib  # slow to import, and only needed here

    try:
        found = msgspec.convert(tomllib.loads(path.read_text(encoding="utf-8")), _Topic)
    except (OSError, ValueError) as error:
        raise WellwardError(f"The questions in {path.name}: {error}.", "Reinstall wellward.") from None
    return [msgspec.structs.replace(one, topic=found.topic) for one in found.question]


def answer(question: Question, own: Own) -> Answer:
    """A question answered for one home. Settings that cannot be reckoned with are said, never raised."""
    try:
        said = ANSWERS[question.id](own)
    except WellwardError as problem:
        said = Said(f"Your numbers cannot be reckoned with here: {problem}")
    return Answer(question=question, said=said.text, missing=said.missing, to=_to(question.to, own))


def _to(to: str, own: Own) -> str:
    """Where to go in this house: the job of its first stage of that kind, House where there is none."""
    kind, dot, job = to.partition(".")
    if not dot:
        return to
    stage = next((one for one in own.house.stages if kind_of(one) == kind), None)
    return f"{stage.id}.{job}" if stage is not None else "house"


def matching(words: str) -> list[Question]:
    """Questions in which every word typed occurs, those that ask about them first; all of them for no words."""
    typed = words.casefold().split()
    rated = [(_rank(typed, one), one) for one in questions()]
    return [one for rank, one in sorted(rated, key=lambda pair: pair[0]) if rank < _NOWHERE]


_NOWHERE = 3


def _rank(typed: list[str], one: Question) -> int:
    texts = (
        f"{one.number} {one.asks}",
        f"{one.asks} {one.topic} {one.id}",
        f"{one.asks} {one.topic} {one.why} {one.then}",
    )
    return next((place for place, text in enumerate(texts) if _holds(typed, text)), _NOWHERE)


def _holds(typed: list[str], text: str) -> bool:
    folded = text.casefold()
    return all(word in folded for word in typed)
