"""A question with its answer, as the guide shows it."""

from __future__ import annotations

from textual.content import Content

from model.guide.shape import Answer, Missing, Question
from model.home import House
from tui.guide_words import place_words
from tui.widgets.cells import fit
from tui.widgets.sections import heading, lines, quiet


def answer_words(one: Answer, house: House) -> Content:
    """The answer first, what is missing, then why, what next, the source, and where Enter leads."""
    asked = one.question
    parts = [
        heading(asked.asks),
        Content(one.said),
        *(_missing(row) for row in one.missing),
        Content(""),
        _labelled("Why", asked.why),
        _labelled("Next", asked.then),
        quiet(f"Source: {asked.source}."),
        Content.assemble(("Enter", "bold $text-accent"), f" goes to {place_words(one.to, house)}."),
    ]
    return lines(parts)


def _labelled(label: str, text: str) -> Content:
    return Content.assemble((f"{label}: ", "bold $text-primary"), text)


def _missing(one: Missing) -> Content:
    command = f"\n  {one.command}" if one.command else ""
    return Content.assemble(("Missing: ", "$text-warning"), one.what, (command, "$text-accent"))


def question_line(one: Question, width: int) -> Content:
    """A question on one line of the list."""
    return Content.assemble((f"{one.number:>3} ", "$foreground-muted"), fit(one.asks, max(width - 4, 8)))
