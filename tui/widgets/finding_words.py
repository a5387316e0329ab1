"""What readings show, as Week and the list of findings say it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from rich.console import Group
from rich.text import Text
from textual.content import Content

from model.findings.words import aim, hidden_words, next_words, place_of
from model.plan_types import Finding
from model.records.points import points_of
from tui.key_words import key
from tui.widgets.hanging import bullets, hanging, spaced
from tui.widgets.sections import LEVELS
from tui.words import day_words

if TYPE_CHECKING:
    from tui.view import View

_WORDS = {"danger": "!! Finding", "warning": "! Finding", "note": "Finding"}
STATES = {"": "", "accepted": "task", "dismissed": "put away", "snoozed": "put off", "done": "done"}
"""What the owner said to a finding, in a word."""


def week_lines(view: View) -> list[Content]:
    """The gravest finding with how many more there are, and what was taken on without a job of its own."""
    findings = view.plan.findings
    told = [one for one in findings if not one.hidden and one.answer != "accepted"]
    tasks = [one for one in findings if one.answer == "accepted"]
    loose = [Content(f"Task ({key('week.findings')}): {one.title}: {aim(one)}.") for one in tasks if not one.task]
    more = [f"{len(told) - 1} more"] if len(told) > 1 else []
    more += [f"{len(tasks)} taken on"] if tasks else []
    more += [hidden] if (hidden := hidden_words(findings)) else []
    tail = f" ({', '.join(more)})" if more else ""
    if not told:
        return [*([Content(f"Findings ({key('week.findings')}):{tail}")] if tail else []), *loose]
    first = told[0]
    said = f" ({key('week.findings')}), {first.stage_title}: {first.title}{tail}"
    return [Content.assemble((_WORDS[first.level], LEVELS[first.level][1]), said), *loose]


def finding_line(found: Finding) -> Content:
    """One finding on one line: how grave, where, what, and what was said to it."""
    word, style = LEVELS[found.level]
    state = STATES[found.answer]
    said = f"  ({state})" if state else ""
    return Content.assemble((word, style if not found.hidden else ""), f", {found.stage_title}: {found.title}{said}")


def finding_page(found: Finding, view: View) -> Group:
    """One finding in full: what it rests on, likely causes with what to do, and what comes next."""
    points = dict(points_of(view.house))
    rows = [
        (day_words(one.on, view.today), f"{one.what} {one.value}, {place_of(found, one, points)}")
        for one in found.rests_on
    ]
    causes = [
        (f"{number}.", f"{one.text} {one.do}{f' [{one.task}]' if one.task else ''}")
        for number, one in enumerate(found.causes, 1)
    ]
    parts = [Group(Text(found.title, "bold"), Text(found.text))]
    parts += [Group(Text("Rests on", "bold"), hanging(rows, 12))] if rows else []
    parts.append(Group(Text("Likely causes, the likeliest first", "bold"), hanging(causes, 2)))
    return spaced([*parts, bullets([next_words(found)])])
