"""The form for what happened near the well or in the house."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model.equipment.ultraviolet import Ultraviolet
from model.forecast.exposed.dark import playbook_of
from model.records.events import Incident
from model.records.incidents import incident
from model.records.typed import check_date, parse_date
from tui.dialogs.edit_setting import date_entry
from tui.dialogs.form import Entry, Form
from tui.key_words import keyed
from tui.words import day_words

if TYPE_CHECKING:
    from tui.view import View

_ABOUT = (
    "Manure, hay, heavy rain, drought, dug ground or tile work near the well, a power cut. The log shows it as you "
    "write it, beside the readings. A power cut or a UV alarm also stands on Week until it is seen to."
)


def note_form(view: View) -> Form[Incident]:
    """A form that answers with what happened."""
    entries = (Entry(id="what", label="What happened"), date_entry(view.today, "On"))

    def take(typed: dict[str, str]) -> Incident:
        on = parse_date(typed["on"], view.today)
        check_date(on, view.today)
        return incident(typed["what"], on)

    return Form("Write down what happened", entries, take, about=_ABOUT, save="Record")


def note_words(note: Incident, view: View) -> str:
    """What is said once it is recorded, and which playbook goes with it."""
    there = any(isinstance(one, Ultraviolet) for one in view.house.stages)
    playbook = playbook_of(note.what) if there else ""
    steps = " It counts as untreated water past a dark lamp: {week.playbooks} has the steps, {undo} takes it back."
    more = keyed(steps) if playbook else ""
    return f"Written down for {day_words(note.on, view.today)}: {note.what}.{more}"
