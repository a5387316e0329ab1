"""The parts of a checklist that are only read, as text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.console import Group, RenderableType

from model.records.quantities import QUANTITIES, show_taken
from model.units import show
from model.upkeep.checklist import Checklist, ReadingAsk
from tui.widgets.hanging import hanging, spaced, titled
from tui.widgets.steps import wait_words
from tui.words import day_words

if TYPE_CHECKING:
    from tui.view import View

_COUNTERS = ("meter", "regenerations", "lamp_hours")


def needs(checklist: Checklist) -> Group:
    """Why, time, tools, parts, and what must be so before starting."""
    parts: list[RenderableType] = [
        hanging((("Why", checklist.why), ("Time", f"about {wait_words(checklist.minutes)}")), 4, "bold")
    ]
    parts += [
        titled(title, lines)
        for title, lines in (
            ("Tools", checklist.tools),
            ("Parts", checklist.parts),
            ("Before you start", checklist.before),
            ("Must be off", checklist.off),
        )
        if lines
    ]
    return spaced(parts)


def afterwards(checklist: Checklist) -> Group:
    """What is to be done later, which the plan dates where it names a job, and what all this rests on."""
    later = [f"{_later(one.days)}{one.text}" for one in checklist.follow_ups]
    sources = [f"{one.text} ({one.tag})" if one.tag != one.text else one.text for one in checklist.sources]
    parts = [titled("Afterwards", later)] if later else []
    return spaced([*parts, titled("What this rests on", sources)])


def _later(days: int) -> str:
    return f"in {days} day{'' if days == 1 else 's'}: " if days else ""


def expected(ask: ReadingAsk, view: View) -> str:
    """The range to expect in the owner's units, or for a counter what it showed last."""
    units = view.house.units
    if ask.quantity in _COUNTERS:
        seen = view.history.taken(ask.quantity)
        return f"last {show_taken(seen[-1].taken, units)}, {day_words(seen[-1].on, view.today)}" if seen else ""
    low, high = (show(value, QUANTITIES[ask.quantity].dimension, units) for value in ask.sane)
    return f"expect {low} to {high}"
