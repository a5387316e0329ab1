"""What one command of the table says."""

from __future__ import annotations

from typing import Literal

import msgspec

Area = Literal[
    "",
    "week",
    "findings",
    "events",
    "visit",
    "service",
    "job",
    "water",
    "valve",
    "salt_out",
    "mix",
    "trends",
    "shelf",
    "costs",
    "ten_years",
    "what_if",
    "log",
    "house",
    "guide",
    "round",
    "setup",
    "form",
    "ask",
    "pick",
    "page",
]

DIALOGS: tuple[Area, ...] = ("form", "ask", "pick", "page")
"""What lies over a screen and lets none of its keys through."""


class Command(msgspec.Struct, frozen=True, kw_only=True):
    """One thing the user can do. `area` is the screen it belongs to, empty for everywhere.

    `by_key` is what its key does where that is not just the action. `anywhere`: Find offers it on other screens too.
    `by_going`: Find offers it on other screens too, and goes to its area first.
    `priority`: the key works in forms and questions as well.
    `typing`: the key works while something is typed.
    """

    id: str
    key: str
    label: str
    tells: str
    action: str
    area: Area = ""
    footer: bool = True
    shown_key: str = ""
    by_key: str = ""
    anywhere: bool = False
    by_going: bool = False
    priority: bool = False
    typing: bool = False
