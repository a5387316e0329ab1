"""Where an answer of the guide leads, in words, and an answer as lines for the shell. Knows no widgets."""

from __future__ import annotations

from textwrap import wrap

from model.forecast.parts import find_task
from model.guide.shape import Answer, Missing
from model.home import House

_WIDTH = 100


def place_words(to: str, house: House) -> str:
    """Where to go: "the Water screen, Mix", or a checklist by its title and task."""
    if "." in to:
        _, job = find_task(house, to)
        return f"the checklist “{job.title}” [{to}]"
    area, _, view = to.partition(":")
    screen = f"the {area.capitalize()} screen"
    return f"{screen}, {view.replace('_', ' ').capitalize()}" if view else screen


def missing_words(one: Missing) -> str:
    """What is missing, and the command that records it."""
    return f"{one.what}: {one.command}" if one.command else one.what


def answer_lines(one: Answer, house: House, *, short: bool) -> list[str]:
    """An answer for the shell; `short`: without what holds in every house. Commands are never broken."""
    asked = one.question
    lines = [f"{asked.number}. {asked.asks}", *_wrapped("", one.said)]
    lines += [f"   Missing: {missing_words(row)}" for row in one.missing]
    if not short:
        lines += (
            _wrapped("Why: ", asked.why) + _wrapped("Next: ", asked.then) + _wrapped("Source: ", asked.source + ".")
        )
        lines.append(f"   See: {place_words(one.to, house)}")
    return lines


def _wrapped(label: str, text: str) -> list[str]:
    return wrap(f"{label}{text}", _WIDTH, initial_indent="   ", subsequent_indent="   ", break_long_words=False)
