"""Whom to call: for each role a name and a telephone number, as the owner wrote them down last."""

from __future__ import annotations

from datetime import date

from model.errors import BadInput
from model.records.events import Contact
from model.records.history import History

ROLES: dict[str, str] = {
    "owner": "Owner",
    "neighbour": "Neighbour with a key",
    "contractor": "Well or pump contractor",
    "plumber": "Licensed plumber",
    "electrician": "Licensed electrician",
    "laboratory": "Certified laboratory",
    "health": "Health authority",
    "poison": "Poison line",
    "emergency": "Emergency number here",
}
"""Those to have at hand, in the order of a sheet. Others may be written down. Common practice, no source."""

_LONGEST_ROLE, _LONGEST_NAME, _LONGEST_PHONE = 40, 60, 40
_LEAST_DIGITS = 2
"""The shortest emergency numbers have so many."""


def contact(role: str, phone: str, name: str, today: date) -> Contact:
    """The event of one contact, written down today.

    Raises:
        BadInput: no role, a text that is too long, or a number without digits.
    """
    what, number, who = (" ".join(one.split()) for one in (role, phone, name))
    if not what or len(what) > _LONGEST_ROLE:
        raise BadInput("Whom is it about?", f"Say one of {', '.join(ROLES)}, or a few words.")
    if sum(one.isdigit() for one in number) < _LEAST_DIGITS or len(number) > _LONGEST_PHONE:
        raise BadInput(f"{number[:_LONGEST_PHONE]!r} is no telephone number.", "Write it as you would dial it.")
    if len(who) > _LONGEST_NAME:
        raise BadInput("That name is too long.", f"{_LONGEST_NAME} letters at most.")
    return Contact(on=today, role=_role(what), phone=number, name=who)


def no_contact(history: History, role: str, today: date) -> Contact:
    """The event that takes a role off the list.

    Raises:
        BadInput: nobody is written down for it.
    """
    kept = _role(" ".join(role.split()))
    if kept not in current_contacts(history):
        raise BadInput(f"Nobody is written down for {role[:_LONGEST_ROLE]!r}.", "`wellward contact` lists them.")
    return Contact(on=today, role=kept)


def current_contacts(history: History) -> dict[str, Contact]:
    """The contact of each role that was written down last and not taken off since; the known roles first."""
    last = {one.role: one for one in sorted(history.of(Contact), key=lambda one: (one.on, one.id))}
    found = {role: one for role, one in last.items() if one.phone}
    return {role: found[role] for role in (*ROLES, *sorted(found)) if role in found}


def role_title(role: str) -> str:
    """What a role is called on a sheet."""
    return ROLES.get(role, role[:1].upper() + role[1:])


def contact_in_words(one: Contact) -> str:
    """ "Hill Well Service, 555-0142"; the number alone where there is no name."""
    return ", ".join(part for part in (one.name, one.phone) if part)


def _role(typed: str) -> str:
    """A role as it is kept: a known one by its name or title."""
    titles = {title.casefold(): role for role, title in ROLES.items()}
    return titles.get(typed.casefold(), typed.casefold())
