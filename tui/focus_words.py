"""What has the focus on a screen, in three sentences at most: what it is, at which line, which keys act on it now."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar, cast

import msgspec
from textual.content import Content
from textual.screen import Screen
from textual.widget import Widget
from textual.widgets import Button, DataTable, Input, OptionList

from model.equipment.registry import title_of
from tui.commands import COMMANDS
from tui.jobs import find_job
from tui.key_words import key
from tui.widgets.cells import tidy
from tui.widgets.frame import works
from tui.widgets.steps import AskLine, StepLine

if TYPE_CHECKING:
    from tui.app import WellwardApp

_COMMANDS = {one.id: one for one in COMMANDS}
_LONGEST = 70

T = TypeVar("T")


class Focus(msgspec.Struct, frozen=True):
    """What a part of a screen is, and the commands that act on it or on its highlighted line."""

    what: str
    keys: tuple[str, ...] = ()


_SCROLL = "Up, Down and Page down scroll"
_FOCUS: dict[str, Focus] = {
    "due": Focus(
        "The list of what is due, the day to act first; Up and Down go from line to line.", ("week.open", "week.trend")
    ),
    "why": Focus(f"The reasons of the highlighted job. {_SCROLL} them; Tab goes back to the list."),
    "finding_list": Focus(
        "The list of findings, the gravest first; below it the highlighted one in full.",
        ("findings.open", "findings.accept", "findings.done", "findings.dismiss", "findings.snooze"),
    ),
    "finding_words": Focus(f"The highlighted finding in full. {_SCROLL} it; Tab goes back to the list."),
    "event_list": Focus(
        "The steps of what was begun, then what can be begun; Up and Down go from line to line.",
        ("events.do", "events.skip"),
    ),
    "event_tells": Focus(f"The highlighted line in full. {_SCROLL} it; Tab goes back to the list."),
    "visit": Focus(f"The jobs that need the water off, in their order. {_SCROLL} them.", ("visit.days",)),
    "jobs": Focus("The list of all jobs, by stage from the well to the tap.", ("service.open", "service.trend")),
    "job": Focus(f"This job has no checklist to go through. {_SCROLL} it.", ("job.finish",)),
    "water": Focus(
        f"The picture of the train with what is known below it. {_SCROLL}; Tab goes to the table of quantities."
    ),
    "quantities": Focus("The table of all quantities by point; the arrow keys go from number to number."),
    "board": Focus(
        "The blend valve and what it does; a click on a chart moves it too.",
        ("valve.less", "valve.more", "valve.wanted", "valve.keep"),
    ),
    "salt_out": Focus(f"What happens if the salt runs out, in the order of the days. {_SCROLL} it."),
    "mix_waters": Focus("The waters that are mixed, with their parts.", ("mix.up", "mix.down", "mix.less", "mix.more")),
    "trends": Focus(
        f"The plot that is shown, with its numbers below it. {_SCROLL}.", ("trends.previous", "trends.next")
    ),
    "shelf": Focus(
        "The list of supplies, those to order now first; below it more on the highlighted one.",
        ("shelf.buy", "shelf.count"),
    ),
    "costs": Focus(f"The costs of the coming year, by month and by consumable. {_SCROLL} them."),
    "ten_years": Focus(f"The slow parts over ten years. {_SCROLL} them."),
    "tried": Focus("The settings that can be tried, today and then.", ("what_if.change", "what_if.put_back")),
    "beside": Focus(f"The figures of today and then. {_SCROLL} them; Tab goes back to the list."),
    "log": Focus("The table of all that happened, newest first; below it the line in full.", ("log.take_back",)),
    "parts": Focus(
        "The list of what stands here; Enter goes to the settings of the highlighted line.",
        ("house.remove", "house.move", "house.replace"),
    ),
    "settings": Focus("The settings of one part; below them what the highlighted one means.", ("house.edit",)),
    "questions": Focus("The questions that owners ask; beside or below them the answer.", ("guide.open", "guide.more")),
    "answer": Focus(f"The answer to the highlighted question. {_SCROLL} it; Tab goes back to the list."),
    "filter": Focus("The words to look for: only lines that have all of them are listed. Enter goes to the list."),
    "setup_typed": Focus("The field for the answer; empty means: I don't know.", ("setup.next", "setup.unknown")),
    "form_choices": Focus("A list to choose one line from; Up and Down go to it.", ("pick.choose",)),
    "page_words": Focus(f"A page to read. {_SCROLL} it.", ("page.back",)),
    "setup_list": Focus("The answers to choose from.", ("setup.tick", "setup.next", "setup.unknown")),
}
_STEP = Focus("A step of the job; a click ticks it too.", ("job.tick", "job.wait", "job.drop_wait", "job.finish"))
_READING = Focus("A field to fill in; empty is allowed.", ("job.next", "job.finish_typing", "round.next", "round.save"))
_BUTTON = Focus("A button; Enter or a click presses it.")


def focus_words(shown: Screen[T]) -> Content:
    """The words for what has the focus; nothing where nothing has it. What a user wrote is never read as markup."""
    widget = shown.focused
    if widget is None or (focus := focus_of(widget)) is None:
        return Content("")
    line = _line_of(widget)
    at = f" Now at: {line}." if line else ""
    return Content.assemble(("In focus: ", "bold $text-primary"), f"{focus.what}{at}{_keys_of(shown, focus)}")


def focus_of(widget: Widget) -> Focus | None:
    """What a part of a screen is, None where nothing is known of it."""
    if isinstance(widget, StepLine):
        return _STEP
    if isinstance(widget.parent, AskLine):
        return _READING
    return _BUTTON if isinstance(widget, Button) else _FOCUS.get(widget.id or "")


def _line_of(widget: Widget) -> str:
    """The highlighted line, or what the field or button in focus is called."""
    said, task = "", getattr(widget, "task_id", "")
    row = find_job(cast("WellwardApp", widget.app).session.view, task) if task else None
    if row is not None:
        said = f"{row.title}, {title_of(row.stage)}"  # in full: in the list it may be cut
    elif isinstance(widget, OptionList) and widget.highlighted_option is not None:
        said = str(widget.highlighted_option.prompt)
    elif isinstance(widget, DataTable) and widget.cursor_type == "row" and widget.is_valid_row_index(widget.cursor_row):
        said = " ".join(str(cell) for cell in widget.get_row_at(widget.cursor_row)[:2])
    elif isinstance(widget, StepLine):
        said = f"{widget.place + 1}. {widget.text}"
    elif isinstance(widget, Input) and isinstance(widget.parent, AskLine):
        said = widget.parent.ask
    elif isinstance(widget, Button):
        said = str(widget.label)
    told = tidy(said).rstrip(".:?")
    return f"{told[:_LONGEST].rstrip()}…" if len(told) > _LONGEST else told


def _keys_of(shown: Screen[T], focus: Focus) -> str:
    """The keys that act on it now, with what they do."""
    active = {one.binding.id for one in shown.active_bindings.values() if one.enabled}
    there = [_COMMANDS[name] for name in focus.keys if name in active and works(shown, _COMMANDS[name].action)]
    if not there:
        return ""
    return f" Keys here: {'; '.join(f'{key(one.id)}: {one.tells[:1].lower()}{one.tells[1:]}' for one in there)}."
