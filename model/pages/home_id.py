"""One name for a home that never changes, for the ids in files that leave the program."""

from __future__ import annotations

from uuid import NAMESPACE_URL, UUID, uuid5

from model.home import Home


def home_id(home: Home) -> UUID:
    """The home's id: from its first name and the day its record began, which no later event changes."""
    return uuid5(NAMESPACE_URL, f"wellward:{home.house.started}:{home.house.name}")


def id_in(home: Home, what: str) -> str:
    """The id of something in a home, such as a task; the same in every file that is made of it."""
    return f"{uuid5(home_id(home), what)}@wellward"
