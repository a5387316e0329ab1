"""The rows of the command table for what lies on Week: playbooks, visits and notes."""

from __future__ import annotations

from tui.command import Command

EVENTS_FIRST: tuple[Command, ...] = (
    Command(
        id="week.playbooks",
        key="p",
        label="Events",
        tells="When something happens: begin a playbook, answer its steps",
        action="app.lay_on_week('events')",
        area="week",
        anywhere=True,
    ),
)
"""What cannot wait stands before what is planned: a power cut before days away."""

ON_WEEK: tuple[Command, ...] = (
    Command(
        id="week.visit",
        key="v",
        label="Visit",
        tells="The coming jobs with the water off, put together for one day",
        action="app.lay_on_week('visit')",
        area="week",
        anywhere=True,
    ),
    Command(
        id="week.note",
        key="n",
        label="Note",
        tells="Write down what happened: manure, rain, a power cut",
        action="app.note",
        area="week",
        footer=False,
        anywhere=True,
    ),
    Command(
        id="events.do",
        key="enter",
        label="Do",
        tells="Tick the step or open its checklist; begin the playbook",
        action="screen.do_row",
        area="events",
    ),
    Command(
        id="events.skip",
        key="s",
        label="Leave out",
        tells="Leave the step out, with a reason",
        action="screen.skip",
        area="events",
    ),
    Command(id="events.back", key="escape", label="Back", tells="Back to Week", action="screen.close", area="events"),
    Command(
        id="visit.days",
        key="d",
        label="Days",
        tells="Look further ahead: 14, 30, 60 or 7 days",
        action="screen.days",
        area="visit",
    ),
    Command(id="visit.back", key="escape", label="Back", tells="Back to Week", action="screen.close", area="visit"),
)
"""Read by `tui.commands`, which is the one table."""
