"""The part of the one table of commands that belongs to the views lying on Water."""

from __future__ import annotations

from tui.command import Command

VIEW_COMMANDS: tuple[Command, ...] = (
    Command(
        id="valve.less",
        key="left",
        label="Less",
        tells="1 % less goes round the bed",
        action="screen.move_valve(-1)",
        area="valve",
    ),
    Command(
        id="valve.more",
        key="right",
        label="More",
        tells="1 % more goes round the bed",
        action="screen.move_valve(1)",
        area="valve",
    ),
    Command(
        id="valve.less_5",
        key="shift+left",
        label="5 less",
        tells="5 % less",
        action="screen.move_valve(-5)",
        area="valve",
        footer=False,
    ),
    Command(
        id="valve.more_5",
        key="shift+right",
        label="5 more",
        tells="5 % more",
        action="screen.move_valve(5)",
        area="valve",
        footer=False,
    ),
    Command(
        id="valve.wanted",
        key="w",
        label="Wanted pH",
        tells="Find the setting for a wanted pH",
        action="screen.wanted_ph",
        area="valve",
    ),
    Command(
        id="valve.keep",
        key="s",
        label="Set",
        tells="Write down that the valve now stands here",
        action="screen.keep",
        area="valve",
    ),
    Command(id="valve.back", key="escape", label="Back", tells="Back to Water", action="screen.close", area="valve"),
    Command(
        id="salt_out.back", key="escape", label="Back", tells="Back to Water", action="screen.close", area="salt_out"
    ),
    Command(
        id="mix.less",
        key="left",
        label="Less",
        tells="One part less of this water",
        action="screen.pour(-1)",
        area="mix",
    ),
    Command(
        id="mix.more",
        key="right",
        label="More",
        tells="One part more of this water",
        action="screen.pour(1)",
        area="mix",
    ),
    Command(
        id="mix.less_5",
        key="shift+left",
        label="5 less",
        tells="Five parts less",
        action="screen.pour(-5)",
        area="mix",
        footer=False,
    ),
    Command(
        id="mix.more_5",
        key="shift+right",
        label="5 more",
        tells="Five parts more",
        action="screen.pour(5)",
        area="mix",
        footer=False,
    ),
    Command(
        id="mix.up", key="up", label="Up", tells="The water above", action="screen.choose(-1)", area="mix", footer=False
    ),
    Command(
        id="mix.down",
        key="down",
        label="Down",
        tells="The water below",
        action="screen.choose(1)",
        area="mix",
        footer=False,
    ),
    Command(
        id="mix.hardness",
        key="h",
        label="Hardness",
        tells="Find the mix of two waters that has a wanted hardness",
        action="screen.wanted_hardness",
        area="mix",
    ),
    Command(id="mix.back", key="escape", label="Back", tells="Back to Water", action="screen.close", area="mix"),
    Command(
        id="trends.previous",
        key="left",
        label="Previous",
        tells="The plot before",
        action="screen.choose(-1)",
        area="trends",
    ),
    Command(
        id="trends.next",
        key="right",
        label="Next",
        tells="The next plot",
        action="screen.choose(1)",
        area="trends",
    ),
    Command(id="trends.back", key="escape", label="Back", tells="Back to Water", action="screen.close", area="trends"),
)
