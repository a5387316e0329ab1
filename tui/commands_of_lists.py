"""The keys of lists that are filtered by words, a part of the one table of commands: alike on every screen."""

from __future__ import annotations

from tui.command import Area, Command


def filter_command(area: Area, what: str) -> Command:
    """The key that filters the list of a screen; `what` it lists."""
    return Command(
        id=f"{area}.filter",
        key="slash",
        label="Filter",
        tells=f"Show only {what} with a word",
        action="screen.filter",
        area=area,
        shown_key="/",
    )


def all_command(area: Area, what: str) -> Command:
    """The key that shows all again, on a screen that Escape does not leave."""
    return Command(
        id=f"{area}.back",
        key="escape",
        label="All",
        tells=f"Show all {what} again",
        action="screen.show_all",
        area=area,
    )
