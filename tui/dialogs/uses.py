"""The forms for a named use of water that begins, and for one that ends."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from model.forecast.present import check_fits, present
from model.home import Use
from model.records.events import UseAdded, UseEnded
from model.records.points import points_of
from model.records.typed import parse_date
from model.records.uses import USE_POINTS, make_use
from model.units import display_unit
from tui.dialogs.edit_setting import date_entry
from tui.dialogs.form import Entry, Form
from tui.key_words import key

if TYPE_CHECKING:
    from tui.view import View

_PLACES = {"tap": "the taps", "ro": "the RO tap", "hose": "the hose, before the train"}
_AHEAD = "YYYY-MM-DD, past or to come"


def add_use_form(view: View) -> Form[UseAdded]:
    """A form that answers with the new use."""
    there = dict(points_of(view.house))
    unit = display_unit("volume", view.house.units)
    entries = (
        Entry(id="title", label="Name", hint="like: Pool"),
        Entry(id="amount", label="Water a week", hint=f"{unit} unless said, in a month in which it counts"),
        Entry(
            id="point",
            label="Drawn at",
            value="tap",
            choices=tuple((one, _PLACES[one]) for one in USE_POINTS if one in there),
        ),
        Entry(id="months", label="Months", hint="5-9, or empty: all year"),
        date_entry(view.today, "Counts from", _AHEAD),
    )

    def take(typed: dict[str, str]) -> UseAdded:
        begins = parse_date(typed["on"], view.today)
        house = present(view.home, begins)
        use = make_use(house, typed["title"], typed["amount"], "", typed["point"], typed["months"])
        added = UseAdded(on=begins, use=msgspec.to_builtins(use))
        check_fits(view.home, view.today, added)
        return added

    about = "Water beyond what people use: a garden, a pool, a trough. The forecast counts it from that day."
    return Form("New use of water", entries, take, about=about)


def end_use_form(use: Use, view: View) -> Form[UseEnded]:
    """A form that asks before a use ends, and on which day."""

    def take(typed: dict[str, str]) -> UseEnded:
        ended = UseEnded(on=parse_date(typed["on"], view.today), title=use.title)
        check_fits(view.home, view.today, ended)
        return ended

    about = f"From that day on it no longer counts; what it took before stays. {key('undo')} takes this back."
    entries = (date_entry(view.today, "Ends on", _AHEAD),)
    return Form(f"End: {use.title}?", entries, take, about=about, save="End it")
