"""Headings and short lists of words, as the areas show them."""

from __future__ import annotations

from collections.abc import Sequence

from rich.cells import cell_len
from textual.content import Content

from model.plan_types import Alert
from tui.widgets.cells import fit, tidy, wrap

LEVELS = {
    "danger": ("!! DANGER", "bold $text-error"),
    "warning": ("! Warning", "$text-warning"),
    "note": ("Note", "$foreground-muted"),
}
"""Level of an alert -> the word for it and its style."""


def heading(text: str) -> Content:
    """The heading of a part of a screen."""
    return Content.styled(text, "bold $primary")


def quiet(text: str) -> Content:
    """Words that explain rather than tell."""
    return Content.styled(text, "$foreground-muted")


def lines(parts: Sequence[Content | str]) -> Content:
    """One part a line."""
    return Content("\n").join(part if isinstance(part, Content) else Content(part) for part in parts)


def alert_line(alert: Alert, where: str = "") -> Content:
    """An alert with its level as a word, and the point of the train it is about."""
    word, style = LEVELS[alert.level]
    place = f", {tidy(where)}" if where else ""
    return Content.assemble((word, style), f"{place}: {tidy(alert.text)}")


_INDENT = 2
_LABEL = 22
_MANY = 99


def labelled(label: str, text: str, basis: str, width: int) -> Content:
    """A fact in at most `width` cells: its label in a column, beside it its text and, quietly, what it rests on."""
    room = max(width - _INDENT - _LABEL - 1, 10)
    said = [Content(row) for row in wrap(text, room, _MANY)]
    rests = f"({tidy(basis)})" if basis else ""
    if rests and said[-1].cell_length + 2 + cell_len(rests) <= room:
        said[-1] = Content.assemble(said[-1], "  ", (rests, "$foreground-muted"))
    elif rests:
        said += [quiet(row) for row in wrap(rests, room, _MANY)]
    starts = [" " * _INDENT + fit(tidy(label), _LABEL) + " "]
    starts += [" " * (_INDENT + _LABEL + 1)] * (len(said) - 1)
    return lines([Content.assemble(start, row) for start, row in zip(starts, said, strict=True)])


def indented(text: str, width: int, indent: int = _INDENT) -> Content:
    """Words in at most `width` cells, every line set in."""
    return lines([" " * indent + row for row in wrap(text, max(width - indent, 10), _MANY)])
