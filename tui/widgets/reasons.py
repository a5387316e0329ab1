"""Why a date: the reasons of one due job as text."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.console import Group
from rich.text import Text

from model.plan_types import Due
from tui.key_words import key
from tui.widgets.hanging import bullets, hanging, spaced
from tui.words import amount_words, day_words, from_now, gauge, span_words

if TYPE_CHECKING:
    from tui.view import View

DRIVERS = {
    "volume": "water used",
    "regenerations": "regenerations",
    "hours": "hours lit",
    "calendar": "the calendar",
    "condition": "its condition",
}
SURE = {
    "measured": "measured",
    "forecast": "forecast from earlier readings",
    "guess": "a guess: no reading supports it yet",
}


def reasons(due: Due, view: View, *, compact: bool = False) -> Group:
    """Everything that is known about one date; compact for a few lines, with the reasons up."""
    if compact:
        return _compact(due, view)
    facts = hanging(((label, text) for label, text in _facts(due, view) if text), 9)
    return spaced(
        [
            Group(Text(due.title, "bold"), Text(due.stage_title, "dim")),
            facts,
            Group(Text("Why this date", "bold"), bullets(due.why)),
        ]
    )


def _compact(due: Due, view: View) -> Group:
    act_on, *others = [(label, text) for label, text in _facts(due, view) if text]
    why = [("Why" if place == 0 else "", reason) for place, reason in enumerate(due.why)]
    return Group(Text.assemble((due.title, "bold"), f"   {due.stage_title}"), hanging([act_on, *why, *others], 9))


def _left(due: Due, view: View) -> str:
    if not due.left_known:
        return "not known: nothing on record says it"
    said = amount_words(due.remaining, view.house.units)
    return f"{said} above the line at which to act" if due.remaining and due.remaining.unit == "kg" else said


def _facts(due: Due, view: View) -> list[tuple[str, str]]:
    today = view.today
    left = f"{gauge(due.share_left, known=due.left_known)} {_left(due, view)}".strip()
    window = span_words(due.earliest, due.latest, today)
    return [
        ("Act on", f"{day_words(due.act_on, today)}, {from_now(due.act_on, today)}"),
        ("Begun", f"yes: {key('week.open')} goes on with it" if due.paused else ""),
        ("Runs out", f"{window} (8 times in 10)" if window else ""),
        ("Left", left),
        ("Driven by", DRIVERS[due.driver]),
        ("How sure", SURE[due.sure]),
        ("Cap", f"{day_words(due.cap_on, today)} by the calendar" if due.cap_on else ""),
        ("Health", "yes: readings may bring it forward, never push it back" if due.health else ""),
    ]
