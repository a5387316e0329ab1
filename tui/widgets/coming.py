"""What is known to come: days away, guests, and changes of the house written down for later."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from model.records.events import Absence, Guests, Setting
from model.records.log import describe
from model.records.names import Names, names_of
from tui.widgets.stay_words import away_words, guests_words
from tui.words import day_words

if TYPE_CHECKING:
    from model.forecast.present import Change
    from tui.view import View


def coming(view: View) -> list[str]:
    """Every absence and visit that is now or to come and every change to come, in words, the soonest first."""
    return [words for _, words in sorted([*_stays(view), *_changes(view)], key=lambda one: one[0])]


def _stays(view: View) -> list[tuple[date, str]]:
    away = [(one.on, away_words(one, view.today)) for one in view.history.of(Absence) if one.until >= view.today]
    guests = [(one.on, guests_words(one, view.today)) for one in view.history.of(Guests) if one.until >= view.today]
    return away + guests


def _changes(view: View) -> list[tuple[date, str]]:
    if not view.coming_changes:
        return []
    names = names_of(view.home)
    return [(one.on, f"From {day_words(one.on, view.today)}: {_said(one, names)}") for one in view.coming_changes]


def _said(change: Change, names: Names) -> str:
    what, detail = describe(change, names)
    return detail if isinstance(change, Setting) else f"{what}: {detail}"
