"""The command that answers what owners ask."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from model.forecast.situation import Situation
from model.guide.book import answer, matching
from model.guide.own import Own
from tui.cli.home_file import print_json, repository
from tui.guide_words import answer_lines

if TYPE_CHECKING:
    from model.guide.shape import Answer
    from tui.cli.parser import Asked


def guide(asked: Asked) -> int:
    """The questions in which the words occur, with their answers; in short, and all of them, without words."""
    own = Own(Situation(repository(asked).load(), asked.today))
    found = [answer(one, own) for one in matching(" ".join(asked.words))]
    if asked.json:
        print_json([_document(one) for one in found])
    else:
        print("\n".join(_lines(found, own, short=not asked.words)))
    return 0


def _lines(found: list[Answer], own: Own, *, short: bool) -> list[str]:
    if not found:
        return ["No question has all of these words. `wellward guide` lists them all."]
    lines: list[str] = []
    for one in found:
        topic = f"{one.question.topic.upper()}"
        if short and topic not in lines:
            lines += ["", topic] if lines else [topic]
        lines += [*([] if short or not lines else [""]), *answer_lines(one, own.house, short=short)]
    return [*lines, "", "`wellward guide WORDS` says why, what to do next, and the source."] if short else lines


def _document(one: Answer) -> dict[str, object]:
    asked = msgspec.structs.asdict(one.question)
    said = {"answer": one.said, "missing": msgspec.to_builtins(one.missing), "to": one.to}
    kept = {name: asked[name] for name in ("number", "id", "topic", "asks")}
    return kept | said | {name: asked[name] for name in ("why", "then", "source", "health")}
