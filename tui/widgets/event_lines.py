"""The steps of playbooks as lines, and what is told beside them: cautions first."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from rich.console import Group, RenderableType
from rich.text import Text
from textual.content import Content
from textual.widgets.option_list import Option

from tui.key_words import key
from tui.widgets.cells import fit
from tui.widgets.hanging import bullets, hanging, spaced
from tui.words import day_words, from_now

if TYPE_CHECKING:
    from model.forecast.playbooks import Running
    from model.plan_types import EventStep
    from model.upkeep.playbook import Playbook
    from tui.view import View

STEP, BOOK = "step:", "book:"
"""How the lines of steps and of playbooks are told from those of jobs."""

_MARKS = {"open": "[ ]", "done": "[x]", "skipped": "[-]"}
_DAY = 12
_NEAR_DAYS = 6
_MOST = 4
"""So many steps of one playbook stand on Week, so that the jobs below are seen."""


def week_options(view: View, width: int) -> Iterator[Option]:
    """For Week: every playbook that has open steps, with those overdue or due this week."""
    for one in view.begun:
        if one.open:
            near = [step for step in one.open if (step.on - view.today).days <= _NEAR_DAYS][:_MOST]
            words = (
                f"* {one.title}, from {day_words(one.on, view.today)}: {_count(one)}, {key('week.playbooks')} shows all"
            )
            yield Option(Content.styled(fit(words, width), "bold $text-accent"), disabled=True)
            yield from (step_option(step, view, width, brief=True) for step in near)


def _count(begun: Running) -> str:
    return f"{len(begun.open)} of {len(begun.steps)} step{'' if len(begun.steps) == 1 else 's'} open"


def step_option(step: EventStep, view: View, width: int, *, brief: bool = False) -> Option:
    """One step on one line of `width` cells."""
    mark = fit("*", 2) if brief else f"{_MARKS[step.outcome]} "
    late = step.outcome == "open" and step.on < view.today
    style = "$text-error" if late else "" if step.outcome == "open" else "$foreground-muted"
    words = f"{step.text} ({step.stage_title})" if step.stage_title else step.text
    day = fit(day_words(step.on, view.today), _DAY)
    line = fit(f"{mark}{day}{words}", width)
    return Option(Content.styled(line, style) if style else Content(line), id=f"{STEP}{step.key}")


def step_reasons(step: EventStep, begun: Running, view: View, *, compact: bool = False, on_week: bool = False) -> Group:
    """What is known of one step: what it is, its cautions, when and how; on Week, Enter only goes to it."""
    head = Text.assemble((step.text, "bold"))
    facts = hanging(((label, text) for label, text in _facts(step, view, on_week) if text), 9)
    cautions = bullets(begun.cautions, "!")
    parts: list[RenderableType] = [head, cautions, facts, Text(f"{begun.title}: {begun.why}")]
    return Group(*parts) if compact else spaced(parts)


def _facts(step: EventStep, view: View, on_week: bool) -> list[tuple[str, str]]:
    enter = key("week.open") if on_week else key("events.do")
    here = f"{enter} shows all its steps, to tick this one" if on_week else f"{enter} ticks it as done today"
    opens = f"{step.stage_title}: {enter} opens its checklist; recording it closes this step"
    how = opens if step.task else here
    return [
        ("Act on", f"{day_words(step.on, view.today)}, {from_now(step.on, view.today)}"),
        ("How", how if step.outcome == "open" else ""),
        ("Counts", f"what is done from {day_words(step.opens, view.today)} on" if step.task else ""),
        ("Health", "yes: its day is fixed, no reading moves it" if step.health else ""),
        ("Closed", f"{step.outcome} on {day_words(step.closed_on, view.today)}" if step.closed_on else ""),
        ("Reason", step.reason),
    ]


def playbook_words(playbook: Playbook, rows: list[str]) -> Group:
    """A playbook before it is begun: cautions, why, and its steps by day."""
    return spaced(
        [
            Text(playbook.title, "bold"),
            bullets(playbook.cautions, "!"),
            Text(playbook.why),
            bullets(rows),
            Text("; ".join(f"{one.text} ({one.tag})" for one in playbook.sources), "dim"),
        ]
    )


def step_rows(view: View, playbook: Playbook) -> list[str]:
    """The steps that this home has to do, each with its days from the start."""
    from model.forecast.playbooks import applicable

    return [
        f"day {', '.join(str(day) for day in step.days)}: {step.text}"
        for step, _ in applicable(view.situation, playbook)
    ]
