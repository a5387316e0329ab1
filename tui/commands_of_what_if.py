"""The keys of what-if, a part of the one table of commands."""

from __future__ import annotations

from tui.command import Command
from tui.commands_of_lists import filter_command

OF_WHAT_IF: tuple[Command, ...] = (
    Command(
        id="costs.what_if",
        key="w",
        label="What if",
        tells="What if: try other settings beside today's; cost, salt, sodium, runs, media, waste, dates",
        action="app.what_if",
        area="costs",
        anywhere=True,
    ),
    Command(
        id="what_if.change",
        key="e",
        label="Try",
        tells="Type another value for the highlighted setting",
        action="screen.change",
        area="what_if",
    ),
    Command(
        id="what_if.put_back",
        key="x",
        label="Put back",
        tells="Take the highlighted setting as it is today",
        action="screen.put_back",
        area="what_if",
    ),
    Command(
        id="what_if.keep",
        key="k",
        label="Keep",
        tells="Write down the changes as settings from today on, after asking",
        action="screen.keep",
        area="what_if",
    ),
    filter_command("what_if", "settings"),
    Command(
        id="what_if.drop",
        key="d",
        label="Drop",
        tells="Drop all that is tried, after asking",
        action="screen.drop",
        area="what_if",
    ),
    Command(
        id="what_if.back",
        key="escape",
        label="Back",
        tells="Show all settings again, then back to Costs; what is tried is kept, nothing is written down",
        action="screen.close",
        area="what_if",
    ),
)
