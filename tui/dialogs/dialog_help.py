"""Help in a dialog: the field in focus first, then the other fields, then the keys. Nothing is read as markup."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import TypeVar

from textual.content import Content
from textual.screen import Screen

from model.home import House
from model.records.quantities import Quantity
from model.units import show
from tui.dialogs.page import HelpPage, Page
from tui.focus_words import focus_words
from tui.key_words import name_of
from tui.widgets.sections import heading

T = TypeVar("T")

_ALWAYS = (("Tab", "Next field or button; Shift+Tab the one before"), ("Enter", "Save, open a list, or press a button"))


def dialog_help(dialog: Screen[T], title: str, parts: Iterable[Content]) -> Page:
    """A page of help for a dialog: what has the focus, its parts, then the keys that work in it."""
    keys: dict[str, tuple[str, str]] = {}
    for active in dialog.active_bindings.values():
        one = active.binding
        if active.node is dialog and one.tooltip:
            name = name_of(one.key)
            keys[one.action] = (f"{keys[one.action][0]}, {name}" if one.action in keys else name, one.tooltip)
    there = [part for part in (focus_words(dialog), *parts) if part.plain]
    return HelpPage(
        f"Help: {title}",
        Content("\n\n").join(
            [*there, key_table("Keys", [*(_ALWAYS if dialog.focus_chain[1:] else ()), *keys.values()])]
        ),
    )


def key_table(title: str, rows: Sequence[tuple[str, str]]) -> Content:
    """Keys with what they do under a title; nothing where there are none."""
    if not rows:
        return Content("")
    wide = max(len(name) for name, _ in rows) + 2
    told = [Content.assemble((f"  {name:<{wide}}", "bold $text-accent"), tells) for name, tells in rows]
    return Content("\n").join([heading(title), *told])


def field_words(label: str, words: str, choices: Iterable[str] = ()) -> Content:
    """A field with what it means and what can be chosen in it."""
    offered = [one for one in choices if one]
    told = [words, f"To choose from: {'; '.join(offered)}." if offered else ""]
    said = " ".join(one for one in told if one) or "As you like."
    return Content.assemble((f"{label}: ", "bold $text-primary"), said)


def quantity_words(known: Quantity, house: House) -> str:
    """What a quantity is, and what it usually and at all can be, in the owner's units."""
    told = [f"{known.title}: {known.help}." if known.help else f"{known.title}."]
    for words, low, high in (
        ("Usual: {}; otherwise it is asked about.", known.unlikely_below, known.unlikely_above),
        ("Can be at all: {}.", known.impossible_below, known.impossible_above),
    ):
        if span := _span(low, high, known.dimension, house):
            told.append(words.format(span))
    told.append("A < before it means: less than that.")
    return " ".join(told)


def _span(low: float | None, high: float | None, dimension: str, house: House) -> str:
    least, most = (show(one, dimension, house.units) if one is not None else "" for one in (low, high))
    if least and most:
        return f"{least} to {most}"
    return f"from {least}" if least else f"up to {most}" if most else ""
