"""The one table of commands: keys, footer, palette and help all read it."""

from __future__ import annotations

from textual.binding import Binding

from tui.command import Area, Command
from tui.commands_of_findings import FINDING_COMMANDS
from tui.commands_of_round import OF_ROUND
from tui.commands_of_views import OF_VIEWS
from tui.commands_of_what_if import OF_WHAT_IF
from tui.commands_on_week import ON_WEEK

__all__ = ["AREAS", "COMMANDS", "Area", "Command", "bindings"]

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
            by_key=f"jump('{area}')",
            footer=False,
        )
        for place, (area, title, about) in enumerate(AREAS, start=1)
    ),
    Command(id="reading", key="r", label="Reading", tells="Write down a reading", action="reading"),
    Command(
        id="lab_result",
        key="l",
        label="Lab",
        tells="Type in what a laboratory found",
        action="lab_result",
        footer=False,
    ),
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
    Command(
        id="guide",
        key="i",
        label="Guide",
        tells="Guide: what owners ask, answered from your own numbers",
        action="guide",
        footer=False,
    ),
    Command(id="quit", key="ctrl+q", label="Quit", tells="Leave the program", action="quit", priority=True),
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
        label="Today",
        tells="Read in full what the house is exposed to",
        action="screen.water_today",
        area="week",
    ),
    Command(
        id="week.away",
        key="a",
        label="Away",
        tells="Write down days when nobody is at home",
        action="app.away",
        area="week",
        anywhere=True,
    ),
    Command(
        id="week.guests",
        key="g",
        label="Guests",
        tells="Write down days with more people in the house",
        action="app.guests",
        area="week",
        anywhere=True,
    ),
    Command(
        id="week.round",
        key="m",
        label="Round",
        tells="Monthly round: take all readings from the well to the tap",
        action="app.round",
        area="week",
        anywhere=True,
    ),
    Command(
        id="week.explain",
        key="e",
        label="Explain",
        tells="Say why the meter counted much more or less than expected",
        action="screen.explain",
        area="week",
    ),
    *ON_WEEK,
    Command(
        id="week.findings",
        key="f",
        label="Findings",
        tells="What readings show, with likely causes",
        action="screen.findings",
        area="week",
        footer=False,
    ),
    *FINDING_COMMANDS,
    Command(
        id="week.trend",
        key="t",
        label="Trend",
        tells="Show the plot that belongs to the highlighted job",
        action="screen.trend",
        area="week",
        footer=False,
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
        id="service.trend",
        key="t",
        label="Trend",
        tells="Show the plot that belongs to the highlighted job",
        action="screen.trend",
        area="service",
        footer=False,
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
        id="job.back",
        key="escape",
        label="Leave",
        tells="Leave this job; what is ticked and typed is kept",
        action="back",
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
        id="job.drop",
        key="d",
        label="Drop",
        tells="Untick all and forget what was typed, after asking",
        action="drop",
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
        id="costs.ten_years",
        key="t",
        label="Ten years",
        tells="The slow parts over ten years: membrane, resin, tank, pump, ballast, sleeve",
        action="screen.ten_years",
        area="costs",
    ),
    *OF_WHAT_IF,
    Command(
        id="ten_years.back",
        key="escape,t",
        label="Back",
        tells="Back to the year",
        action="screen.close",
        area="ten_years",
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
        id="house.use",
        key="n",
        label="New use",
        tells="Name a use of water that begins: a garden, a pool",
        action="screen.add_use",
        area="house",
    ),
    Command(
        id="house.remove",
        key="d",
        label="Take out",
        tells="Take this stage out of the train, or end this use of water",
        action="screen.take_out",
        area="house",
    ),
    Command(
        id="house.rule",
        key="b",
        label="Local rule",
        tells="Write down what a local rule says: brine, backflow, discharge",
        action="app.local_rule",
        area="house",
        footer=False,
        anywhere=True,
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
        id="water.valve",
        key="v",
        label="Valve",
        tells="What the blend valve of the neutralizer does",
        action="screen.open_view('valve')",
        area="water",
    ),
    Command(
        id="water.salt_out",
        key="o",
        label="Salt out",
        tells="What happens if the salt runs out",
        action="screen.open_view('salt_out')",
        area="water",
    ),
    Command(
        id="water.mix",
        key="m",
        label="Mix",
        tells="Mix waters of several taps",
        action="screen.open_view('mix')",
        area="water",
    ),
    Command(
        id="water.trends",
        key="t",
        label="Trends",
        tells="Plots of use, salt, pressure drop, RO, nitrate and the bed",
        action="screen.open_view('trends')",
        area="water",
    ),
    Command(
        id="water.handles",
        key="h",
        label="Handles",
        tells="See where the valve handles stand, and write down one that was moved",
        action="app.handles",
        area="water",
        anywhere=True,
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
    *OF_VIEWS,
    *OF_ROUND,
)


def bindings(area: Area) -> list[Binding]:
    """The keys of one area, or of everywhere for the empty area."""
    return [
        Binding(
            one.key,
            one.by_key or one.action,
            one.label,
            id=one.id,
            tooltip=one.tells,
            show=one.footer,
            key_display=one.shown_key or None,
            priority=one.priority,
        )
        for one in COMMANDS
        if one.area == area
    ]
