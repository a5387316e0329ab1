"""The keys of the monthly round, a part of the one table of commands."""

from __future__ import annotations

from tui.command import Command

OF_ROUND: tuple[Command, ...] = (
    Command(
        id="round.save",
        key="ctrl+s",
        label="Save",
        tells="Record all that is filled in, in one go",
        action="save_round",
        area="round",
        typing=True,
    ),
    Command(
        id="round.back",
        key="escape",
        label="Leave",
        tells="Leave the round; what is typed is kept",
        action="back",
        area="round",
    ),
    Command(
        id="round.drop",
        key="ctrl+r",
        label="Empty",
        tells="Empty every row, after asking",
        action="drop",
        area="round",
        typing=True,
    ),
    Command(id="round.next", key="down", label="Next", tells="Next row", action="next", area="round", footer=False),
    Command(
        id="round.previous",
        key="up",
        label="Previous",
        tells="Last row",
        action="previous",
        area="round",
        footer=False,
    ),
)
