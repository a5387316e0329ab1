"""The form for a contact: whom to call for something, and the number."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model.records.contacts import ROLES, contact, contact_in_words, current_contacts, no_contact, role_title
from model.records.events import Contact
from tui.dialogs.form import Entry, Form

if TYPE_CHECKING:
    from tui.view import View


def contact_form(view: View, role: str = "") -> Form[Contact]:
    """A form that answers with one contact; `role` stands in it to begin with, and what is known of it: with that taken
    away, the role is taken off the list."""
    known = current_contacts(view.history).get(role)
    entries = (
        Entry(id="role", label="For", value=role, hint=f"{', '.join(ROLES)} or another"),
        Entry(id="name", label="Name", value=known.name if known else ""),
        Entry(
            id="phone",
            label="Telephone",
            value=known.phone if known else "",
            hint="both empty: nobody any more" if known else "as it is dialled",
        ),
    )

    def take(typed: dict[str, str]) -> Contact:
        if known and not typed["phone"].strip() and not typed["name"].strip():
            return no_contact(view.history, typed["role"], view.today)
        return contact(typed["role"], typed["phone"], typed["name"], view.today)

    now = f"Now: {contact_in_words(known)}. " if known else ""
    return Form("Contact", entries, take, about=f"{now}It stands on the sheets for a sitter and for the next owner.")


def contact_words(one: Contact) -> str:
    """What is said once it is recorded."""
    return f"{role_title(one.role)}: {contact_in_words(one) or 'nobody any more'}."
