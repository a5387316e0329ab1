"""The form for days when nobody is at home."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from model.errors import BadInput
from model.records.events import Absence
from model.records.stays import check_stay
from model.records.typed import parse_date
from tui.dialogs.form import Entry, Form
from tui.key_words import key

if TYPE_CHECKING:
    from tui.view import View


def away_form(view: View) -> Form[Absence]:
    """A form that answers with the days away."""
    entries = (*stay_entries(view.today, "First day away", "Last day away"), Entry(id="note", label="Note"))
    about = (
        f"On days away the house draws no water, and dates that follow the water used move back. {key('undo')} "
        "takes this back."
    )
    return Form("Days away", entries, lambda typed: _absence(typed, view), about=about)


def stay_entries(today: date, first: str, last: str) -> tuple[Entry, Entry]:
    """The two lines of a form in which a span of days is typed."""
    return (
        Entry(id="first", label=first, value=today.isoformat(), hint="YYYY-MM-DD, past or to come"),
        Entry(id="last", label=last, value=today.isoformat(), hint="YYYY-MM-DD, counted too"),
    )


def typed_stay(typed: dict[str, str], what: str, today: date) -> tuple[date, date]:
    """The span of days typed. Raises BadInput where it is none."""
    first, last = parse_date(typed["first"], today), parse_date(typed["last"], today)
    check_stay(what, first, last, today)
    return first, last


def _absence(typed: dict[str, str], view: View) -> Absence:
    first, last = typed_stay(typed, "absence", view.today)
    if any((one.on, one.until) == (first, last) for one in view.history.of(Absence)):
        raise BadInput("These days are written down already.", "Change them, or go back with Escape.")
    return Absence(on=first, until=last, note=typed["note"].strip())
