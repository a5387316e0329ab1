"""The one table of commands: keys, footer, palette and help all read it."""

from __future__ import annotations

from typing import Literal

import msgspec
from textual.binding import Binding

Area = Literal["", "week", "service", "water", "shelf", "costs", "log", "house"]


class Command(msgspec.Struct, frozen=True, kw_only=True):
    """One thing the user can do. `area` is the screen it belongs to, empty for everywhere."""

    id: str
    key: str
    label: str
    tells: str
    action: str
    area: Area = ""
    footer: bool = True
    shown_key: str = ""


AREAS: tuple[tuple[Area, str, str], ...] = (
    ("week", "Week", "what is due, why, and what the house drinks today"),
    ("service", "Service", "one job with its checklist, done and recorded"),
    ("water", "Water", "the train and the water at each point"),
    ("shelf", "Shelf", "what is in stock, what to order by when"),
    ("costs", "Costs", "the year by month and by consumable"),
    ("log", "Log", "all that happened"),
    ("house", "House", "what stands here, and its settings"),
)

COMMANDS: tuple[Command, ...] = (
    *(
        Command(
            id=f"go.{area}", key=str(place), label=title, tells=f"{title}: {about}", action=f"go('{area}')", footer=True
        )
        for place, (area, title, about) in enumerate(AREAS, start=1)
    ),
    Command(id="reading", key="r", label="Reading", tells="Write down a reading", action="reading"),
    Command(id="undo", key="u", label="Undo", tells="Take back the last thing recorded", action="undo"),
    Command(
        id="help", key="question_mark,f1", label="Help", tells="What can be done here", action="help", shown_key="?"
    ),
    Command(id="quit", key="ctrl+q", label="Quit", tells="Leave the program", action="quit"),
)


def bindings(area: Area) -> list[Binding]:
    """The keys of one area, or of everywhere for the empty area."""
    return [
        Binding(
            one.key,
            one.action,
            one.label,
            id=one.id,
            tooltip=one.tells,
            show=one.footer,
            key_display=one.shown_key or None,
        )
        for one in COMMANDS
        if one.area == area
    ]
