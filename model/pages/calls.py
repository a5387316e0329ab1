"""Who to call, on a sheet: what is written down, and lines to fill in by hand for the rest."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from model.forecast.situation import Situation
from model.pages.page import Blanks, Block, Items
from model.records.contacts import ROLES, contact_in_words, current_contacts, role_title


def calls(now: Situation, asked: Iterable[str], titles: Mapping[str, str] = ROLES) -> tuple[Block, ...]:
    """Every contact that is written down, then a blank line for each role asked for that is not.

    `titles`: what some roles are called on this sheet.
    """
    known = current_contacts(now.history)
    lines = (f"{titles.get(role, role_title(role))}: {contact_in_words(one)}" for role, one in known.items())
    blanks = Blanks(tuple(titles.get(role, role_title(role)) for role in asked if role not in known))
    return (*((Items(tuple(lines)),) if known else ()), *((blanks,) if blanks.labels else ()))
