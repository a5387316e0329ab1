"""The rows of the table of commands that belong to the list of findings."""

from __future__ import annotations

from tui.command import Command

FINDING_COMMANDS: tuple[Command, ...] = (
    Command(
        id="findings.open",
        key="enter",
        label="Open",
        tells="Open the checklist that the highlighted finding leads to",
        action="screen.open_task",
        area="findings",
    ),
    Command(
        id="findings.accept",
        key="a",
        label="Accept",
        tells="Take this finding on as a task",
        action="screen.accept",
        area="findings",
    ),
    Command(
        id="findings.done",
        key="m",
        label="Mark done",
        tells="The task that this finding became is done",
        action="screen.done",
        area="findings",
    ),
    Command(
        id="findings.dismiss",
        key="d",
        label="Dismiss",
        tells="Put this finding away, with a reason",
        action="screen.put_away",
        area="findings",
    ),
    Command(
        id="findings.snooze",
        key="s",
        label="Put off",
        tells="Put this finding off until a day",
        action="screen.snooze",
        area="findings",
    ),
    Command(
        id="findings.back",
        key="escape",
        label="Back",
        tells="Back to Week",
        action="screen.close",
        area="findings",
    ),
)
