"""What House lists besides the stages: where the valve handles stand, and the local rules."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model.forecast.handle_list import handle_rows
from model.records.rules import TOPICS, current_rules, rule_in_words
from tui.key_words import key
from tui.widgets.house_parts import Part

if TYPE_CHECKING:
    from tui.view import View

HANDLES, RULES = "handles", "rules"


def kept_parts(view: View) -> list[Part]:
    """The two sections, nothing for a house without stages."""
    if not view.house.stages:
        return []
    rows = tuple((row.title, row.in_words(view.today)) for row in handle_rows(view.situation))
    known = current_rules(view.history)
    rules = tuple(
        (topic.capitalize(), rule_in_words(known[topic]) if topic in known else _NONE) for topic in topics(view)
    )
    return [
        Part(id="", title="Handles and rules"),
        Part(
            id=HANDLES,
            title="Valve handles",
            indent="  ",
            about=f"{key('house.edit')} on a line moves that handle.",
            shown=rows,
        ),
        Part(
            id=RULES,
            title="Local rules",
            indent="  ",
            about=f"{key('house.edit')} on a line writes down what was said.",
            shown=rules,
        ),
    ]


_NONE = "not written down"


def topics(view: View) -> list[str]:
    """The topics in the order of the list: those to ask about, then the owner's own."""
    return list(dict.fromkeys((*TOPICS, *current_rules(view.history))))
