"""The keys of forms, questions, short lists and pages, a part of the one table of commands."""

from __future__ import annotations

from tui.command import Command

OF_DIALOGS: tuple[Command, ...] = (
    Command(id="form.save", key="ctrl+s", label="Save", tells="Save", action="save", area="form", typing=True),
    Command(
        id="form.afresh",
        key="ctrl+r",
        label="Afresh",
        tells="Empty the form and start afresh",
        action="afresh",
        area="form",
        typing=True,
    ),
    Command(
        id="form.back",
        key="escape",
        label="Back",
        tells="Leave; what was typed is kept for the next time",
        action="back",
        area="form",
        typing=True,
    ),
    Command(id="ask.yes", key="y", label="Yes", tells="Yes, do it", action="answer(True)", area="ask"),
    Command(id="ask.no", key="n,escape", label="No", tells="No; nothing is done", action="answer(False)", area="ask"),
    Command(
        id="ask.other",
        key="left,right",
        label="Other",
        tells="The other answer",
        action="other",
        area="ask",
        footer=False,
    ),
    Command(
        id="pick.choose",
        key="enter",
        label="Choose",
        tells="Take the highlighted line",
        action="screen.choose",
        area="pick",
    ),
    Command(
        id="pick.back", key="escape", label="Back", tells="Leave without choosing", action="screen.back", area="pick"
    ),
    Command(
        id="page.back", key="escape,enter,q", label="Back", tells="Back to where you were", action="back", area="page"
    ),
)
