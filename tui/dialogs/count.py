"""The form for what really lies on the shelf."""

from __future__ import annotations

from datetime import date

from model.home import House
from model.plan_types import Shelf
from model.records.events import ShelfCount
from model.records.typed import check_date, parse_date
from tui.dialogs.edit_setting import date_entry
from tui.dialogs.form import Entry, Form
from tui.dialogs.purchase import packed, quantity_hint, read_quantity
from tui.widgets.amounts import amount_words


def count_form(row: Shelf, house: House, today: date) -> Form[ShelfCount]:
    """A form that answers with the count of one supply."""
    expected = amount_words(row.on_shelf, row.unit, house.units)
    entries = (
        Entry(id="quantity", label="Lies there", hint=quantity_hint(row, house)),
        date_entry(today, "Counted on"),
    )

    def take(typed: dict[str, str]) -> ShelfCount:
        on = parse_date(typed["on"], today)
        check_date(on, today, house.started)
        return ShelfCount(on=on, supply=row.supply, quantity=read_quantity(typed["quantity"], row, zero_ok=True))

    pack = f" A pack holds {amount_words(row.pack, row.unit, house.units)}." if packed(row) else ""
    about = f"By the records there should be {expected}.{pack}"
    return Form(f"Count: {row.title}", entries, take, about=about, key=f"count {row.supply}")
