"""The form for days when nobody is at home, and how they are said."""

from __future__ import annotations

from datetime import date, timedelta
from typing import TYPE_CHECKING

from model.errors import BadInput
from model.records.events import Absence
from model.records.typed import parse_date
from tui.dialogs.form import Entry, Form
from tui.words import day_words, from_now

if TYPE_CHECKING:
    from tui.view import View

_LONGEST = timedelta(days=3650)


def away_form(view: View) -> Form[Absence]:
    """A form that answers with the days away."""
    today = view.today.isoformat()
    entries = (
        Entry(id="first", label="First day away", value=today, hint="YYYY-MM-DD, past or to come"),
        Entry(id="last", label="Last day away", value=today, hint="YYYY-MM-DD, counted too"),
        Entry(id="note", label="Note"),
    )
    about = "On days away the house draws no water, and dates that follow the water used move back. u takes this back."
    return Form("Days away", entries, lambda typed: _absence(typed, view), about=about)


def _absence(typed: dict[str, str], view: View) -> Absence:
    first, last = parse_date(typed["first"], view.today), parse_date(typed["last"], view.today)
    if last < first:
        raise BadInput(f"The last day, {last}, is before the first, {first}.", "Change one of them.")
    if last - first > _LONGEST:
        raise BadInput("An absence of more than ten years is not an absence.", "Check the years.")
    if any((one.on, one.until) == (first, last) for one in _absences(view)):
        raise BadInput("These days are written down already.", "Change them, or go back with Escape.")
    return Absence(on=first, until=last, note=typed["note"].strip())


def _absences(view: View) -> list[Absence]:
    return view.history.of(Absence)


def coming(view: View) -> list[str]:
    """Every absence that is now or to come, in words."""
    return [away_words(one, view.today) for one in _absences(view) if one.until >= view.today]


def away_words(absence: Absence, today: date) -> str:
    """Days away in a sentence: "Away from Wed 2 Dec to Wed 9 Dec, in 7 days"."""
    first, last = day_words(absence.on, today), day_words(absence.until, today)
    days = f"on {first}" if absence.on == absence.until else f"from {first} to {last}"
    now = f", {from_now(absence.on, today)}" if absence.on > today else ", now" if absence.until >= today else ""
    return f"Away {days}{now}"
