"""What House lists besides the stages: where the valve handles stand, the local rules, and whom to call."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model.forecast.handle_list import handle_rows
from model.records.contacts import ROLES, current_contacts, role_title
from model.records.rules import TOPICS, current_rules, rule_in_words
from tui.key_words import key
from tui.widgets.house_parts import Part

if TYPE_CHECKING:
    from model.records.events import Contact
    from tui.view import View

HANDLES, RULES, CONTACTS = "handles", "rules", "contacts"


def kept_parts(view: View) -> list[Part]:
    """The three sections, nothing for a house without stages."""
    if not view.house.stages:
        return []
    rows = tuple((row.title, row.in_words(view.today)) for row in handle_rows(view.situation))
    known = current_rules(view.history)
    rules = tuple(
        (topic.capitalize(), rule_in_words(known[topic]) if topic in known else _NONE) for topic in topics(view)
    )
    called = current_contacts(view.history)
    contacts = tuple((role_title(role), _number(called[role]) if role in called else _NONE) for role in roles(view))
    return [
        Part(id="", title="Handles, rules, contacts"),
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
        Part(
            id=CONTACTS,
            title="Contacts",
            indent="  ",
            about=f"{key('house.edit')} on a line writes down whom to call.",
            shown=contacts,
        ),
    ]


_NONE = "not written down"


def _number(one: Contact) -> str:
    """ "555-0142, Hill Well Service": the number first, where there is little room."""
    return ", ".join(part for part in (one.phone, one.name) if part)


def topics(view: View) -> list[str]:
    """The topics in the order of the list: those to ask about, then the owner's own."""
    return list(dict.fromkeys((*TOPICS, *current_rules(view.history))))


def roles(view: View) -> list[str]:
    """The roles in the order of the list: those to have at hand, then the owner's own."""
    return list(dict.fromkeys((*ROLES, *current_contacts(view.history))))
