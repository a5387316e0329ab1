"""The forms that begin a playbook and leave a step out."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

from model.forecast.playbook_events import answer, begin, offered_for
from model.records.events import Absence
from model.records.typed import parse_date
from model.upkeep.playbook import load_playbook
from tui.dialogs.form import Entry, Form

if TYPE_CHECKING:
    from model.plan_types import EventStep
    from model.records.events import PlaybookStarted, PlaybookStep
    from model.upkeep.playbook import Playbook
    from tui.view import View

_RECENT = timedelta(days=14)


def begin_form(playbook: Playbook, view: View) -> Form[PlaybookStarted]:
    """A form that answers with the playbook begun."""
    entries = (
        Entry(
            id="on",
            label="Counts from",
            value=usual_day(view, playbook.id).isoformat(),
            hint="YYYY-MM-DD, past or to come",
        ),
        Entry(id="note", label="Note"),
    )

    def take(typed: dict[str, str]) -> PlaybookStarted:
        return begin(view.situation, playbook.id, parse_date(typed["on"], view.today), typed["note"])

    return Form(f"Begin: {playbook.title}", entries, take, about=f"! {playbook.cautions[0]}", save="Begin")


def skip_form(step: EventStep, view: View) -> Form[PlaybookStep]:
    """A form that answers with the step left out, for a reason."""
    entries = (Entry(id="reason", label="Why is it left out?"),)
    health = " It protects health." if step.health else ""

    def take(typed: dict[str, str]) -> PlaybookStep:
        return answer(view.situation, step.key, "skipped", view.today, typed["reason"])

    return Form("Leave this step out?", entries, take, about=f"{step.text}{health}", save="Leave out")


def playbook_for(absence: Absence, view: View) -> str:
    """The title of the playbook that goes with an absence; it is offered, never begun by itself."""
    return load_playbook(offered_for(absence, view.today)[0]).title


def usual_day(view: View, playbook: str) -> date:
    """The day from which a playbook is most likely to count: that of an absence it goes with, else today."""
    for absence in reversed(view.history.of(Absence)):
        name, on = offered_for(absence, view.today)
        if name == playbook and absence.until >= view.today - _RECENT:
            return on
    return view.today
