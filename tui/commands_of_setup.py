"""The keys of the set-up, a part of the one table of commands."""

from __future__ import annotations

from tui.command import Command

OF_SETUP: tuple[Command, ...] = (
    Command(
        id="setup.next",
        key="enter",
        label="Next",
        tells="Take the answer and go to the next question; empty means: I don't know",
        action="screen.take_answer",
        area="setup",
    ),
    Command(
        id="setup.tick",
        key="space",
        label="Tick",
        tells="Tick what stands there, or take the tick away",
        action="screen.tick",
        area="setup",
    ),
    Command(
        id="setup.unknown",
        key="ctrl+n",
        label="I don't know",
        tells="Take the usual value, marked as not known, and go on",
        action="screen.not_known",
        area="setup",
        typing=True,
    ),
    Command(
        id="setup.leave",
        key="escape",
        label="Leave",
        tells="Leave the set-up from its first page; what was answered is kept, and `wellward` goes on from here",
        action="screen.leave_setup",
        area="setup",
    ),
    Command(
        id="setup.previous",
        key="escape,ctrl+g",
        label="Back one",
        tells="Go back to the question before",
        action="screen.previous",
        area="setup",
    ),
)
