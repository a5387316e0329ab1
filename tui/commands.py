"""The one table of commands: keys, footer, palette and help all read it."""

from __future__ import annotations

from typing import Literal

import msgspec
from textual.binding import Binding

Area = Literal["", "week", "service", "job", "water", "shelf", "costs", "log", "house"]


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
            id=f"go.{area}",
            key=str(place),
            label=title,
            tells=f"{title}: {about}",
            action=f"go('{area}')",
            footer=False,
        )
        for place, (area, title, about) in enumerate(AREAS, start=1)
    ),
    Command(id="reading", key="r", label="Reading", tells="Write down a reading", action="reading"),
    Command(id="undo", key="u", label="Undo", tells="Take back the last thing recorded", action="undo"),
    Command(
        id="help", key="question_mark,f1", label="Help", tells="What can be done here", action="help", shown_key="?"
    ),
    Command(
        id="commands", key="ctrl+p", label="Find", tells="Find a command, a screen or a job", action="command_palette"
    ),
    Command(
        id="theme", key="ctrl+t", label="Theme", tells="Switch between dark and light", action="theme", footer=False
    ),
    Command(id="quit", key="ctrl+q", label="Quit", tells="Leave the program", action="quit"),
    Command(
        id="week.open",
        key="enter",
        label="Open",
        tells="Open the checklist of the highlighted job",
        action="screen.open_due",
        area="week",
    ),
    Command(
        id="week.water",
        key="w",
        label="Water today",
        tells="Read in full what the house is exposed to",
        action="screen.water_today",
        area="week",
    ),
    Command(
        id="service.open",
        key="enter",
        label="Open",
        tells="Open the checklist of the highlighted job",
        action="screen.open_row",
        area="service",
    ),
    Command(
        id="job.tick",
        key="space,enter",
        label="Tick",
        tells="Tick the step and go to the next",
        action="tick",
        area="job",
    ),
    Command(
        id="job.finish",
        key="f",
        label="Finish",
        tells="Finish the job and record it",
        action="finish",
        area="job",
    ),
    Command(
        id="job.finish_typing",
        key="ctrl+s",
        label="Finish",
        tells="The same, while typing in a field",
        action="finish",
        area="job",
    ),
    Command(
        id="job.back",
        key="escape",
        label="Back, keep",
        tells="Go back; what was begun is kept",
        action="back",
        area="job",
    ),
    Command(id="job.next", key="down", label="Next", tells="Next line", action="next", area="job", footer=False),
    Command(
        id="job.previous",
        key="up",
        label="Previous",
        tells="Previous line",
        action="previous",
        area="job",
        footer=False,
    ),
    Command(
        id="log.take_back",
        key="x",
        label="Take back",
        tells="Take back the highlighted event",
        action="screen.take_back",
        area="log",
    ),
    Command(
        id="log.filter",
        key="slash",
        label="Filter",
        tells="Show only lines with a word",
        action="filter",
        area="log",
        shown_key="/",
    ),
    Command(id="log.more", key="m", label="More", tells="Show 500 older lines", action="more", area="log"),
    Command(
        id="log.back", key="escape", label="All", tells="Show all lines again", action="back", area="log", footer=False
    ),
    Command(
        id="shelf.buy",
        key="b",
        label="Buy",
        tells="Write down a purchase of this supply",
        action="screen.buy",
        area="shelf",
    ),
    Command(
        id="shelf.count",
        key="c",
        label="Count",
        tells="Write down what really lies there",
        action="screen.count",
        area="shelf",
    ),
    Command(
        id="shelf.new",
        key="n",
        label="New supply",
        tells="Put a supply on the list",
        action="screen.new_supply",
        area="shelf",
    ),
    Command(
        id="house.edit",
        key="e",
        label="Change",
        tells="Change this setting",
        action="screen.edit_setting",
        area="house",
    ),
    Command(
        id="house.add",
        key="a",
        label="Add stage",
        tells="Put a stage into the train",
        action="screen.add_stage",
        area="house",
    ),
    Command(
        id="house.remove",
        key="d",
        label="Take out",
        tells="Take this stage out of the train",
        action="screen.remove_stage",
        area="house",
    ),
    Command(
        id="house.back",
        key="escape",
        label="Back",
        tells="Back to the list",
        action="screen.to_parts",
        area="house",
        footer=False,
    ),
    Command(
        id="water.back",
        key="escape",
        label="Top",
        tells="Back to the picture",
        action="screen.to_top",
        area="water",
        footer=False,
    ),
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
