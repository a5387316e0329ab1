"""How days away and visits are said."""

from __future__ import annotations

from datetime import date

from model.records.events import Absence, Guests
from model.records.stays import guests_in_words
from tui.words import day_words, from_now


def away_words(absence: Absence, today: date) -> str:
    """Days away in a sentence: "Away from Wed 2 Dec to Wed 9 Dec, in 7 days"."""
    return f"Away {stay_words(absence.on, absence.until, today)}"


def stay_words(first: date, last: date, today: date) -> str:
    """A span of days in a sentence: "from Wed 2 Dec to Wed 9 Dec, in 7 days", "on Thu 26 Nov, tomorrow"."""
    days = (
        f"on {day_words(first, today)}"
        if first == last
        else f"from {day_words(first, today)} to {day_words(last, today)}"
    )
    now = f", {from_now(first, today)}" if first > today else ", now" if last >= today else ""
    return f"{days}{now}"


def guests_words(guests: Guests, today: date) -> str:
    """A visit in a sentence: "2 guests from Thu 24 Dec to Sun 27 Dec, in 4 weeks"."""
    return f"{guests_in_words(guests.people)} {stay_words(guests.on, guests.until, today)}"
