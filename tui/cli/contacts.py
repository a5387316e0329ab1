"""The command for contacts: records one where it is given, and lists them otherwise."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model.errors import BadInput
from model.records.contacts import ROLES, contact, contact_in_words, current_contacts, no_contact, role_title
from model.records.history import History
from tui.cli.home_file import print_json, repository
from tui.cli.recording import record_event

if TYPE_CHECKING:
    from tui.cli.parser import Asked


def contacts(asked: Asked) -> int:
    """Record whom to call for something, take a role off the list, or list all."""
    store = repository(asked)
    history = History(store.load().events, asked.today)
    if asked.role is None:
        return _list_contacts(history, asked)
    if asked.remove:
        return record_event(asked, store, no_contact(history, asked.role, asked.today))
    if asked.phone is None:
        raise BadInput(f"What is the number of {asked.role}?", "Write wellward contact ROLE PHONE [NAME].")
    return record_event(asked, store, contact(asked.role, asked.phone, " ".join(asked.name), asked.today))


def _list_contacts(history: History, asked: Asked) -> int:
    known = current_contacts(history)
    if asked.json:
        rows = [
            {"role": one.role, "title": role_title(one.role), "name": one.name, "phone": one.phone}
            for one in known.values()
        ]
        print_json({"contacts": rows})
        return 0
    for role in (*ROLES, *(one for one in known if one not in ROLES)):
        print(f"{role}: {contact_in_words(known[role]) if role in known else f'not written down ({ROLES[role]})'}")
    return 0
