"""What a command is, and the areas of the program. Knows no widgets."""

from __future__ import annotations

from typing import Literal

import msgspec

Area = Literal[
    "",
    "week",
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
    "log",
    "house",
    "guide",
]


class Command(msgspec.Struct, frozen=True, kw_only=True):
    """One thing the user can do. `area` is the screen it belongs to, empty for everywhere.

    `by_key` is what its key does where that is not just the action. `anywhere`: Find offers it on other screens too.
    `priority`: the key works in forms and questions as well.
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
    priority: bool = False


AREAS: tuple[tuple[Area, str, str], ...] = (
    ("week", "Week", "what is due, why, and what the house drinks today"),
    ("service", "Service", "one job with its checklist, done and recorded"),
    ("water", "Water", "the train and the water at each point"),
    ("shelf", "Shelf", "what is in stock, what to order by when"),
    ("costs", "Costs", "the year by month and by consumable"),
    ("log", "Log", "all that happened"),
    ("house", "House", "what stands here, and its settings"),
)
