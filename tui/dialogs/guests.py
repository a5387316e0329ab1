"""The form for days with more people in the house."""

from __future__ import annotations

from typing import TYPE_CHECKING

from model.errors import BadInput
from model.records.events import Guests
from model.records.stays import parse_guests
from tui.dialogs.away import stay_entries, typed_stay
from tui.dialogs.form import Entry, Form
from tui.key_words import key

if TYPE_CHECKING:
    from tui.view import View


def guests_form(view: View) -> Form[Guests]:
    """A form that answers with the guests and their days."""
    entries = (
        Entry(
            id="people", label="How many guests", value="2", hint="besides those who live here; 0.5: half of each day"
        ),
        *stay_entries(view.today, "First day", "Last day"),
        Entry(id="note", label="Note"),
    )
    about = (
        f"With guests the house draws more, and dates that follow the water used come sooner. {key('undo')} takes "
        "this back."
    )
    return Form("Guests", entries, lambda typed: _guests(typed, view), about=about)


def _guests(typed: dict[str, str], view: View) -> Guests:
    people = parse_guests(typed["people"])
    first, last = typed_stay(typed, "visit", view.today)
    if any((one.on, one.until, one.people) == (first, last, people) for one in view.history.of(Guests)):
        raise BadInput("This visit is written down already.", "Change it, or go back with Escape.")
    return Guests(on=first, until=last, people=people, note=typed["note"].strip())
