"""The form for a purchase."""

from __future__ import annotations

from datetime import date

from model.errors import BadInput
from model.home import House
from model.plan_types import Shelf
from model.records.events import Purchase
from model.records.typed import PACK_WORDS, check_date, parse_amount, parse_date, parse_price, split_unit
from model.units import money
from tui.dialogs.edit_setting import date_entry
from tui.dialogs.form import Entry, Form
from tui.widgets.amounts import amount_words


def purchase_form(row: Shelf, house: House, today: date) -> Form[Purchase]:
    """A form that answers with the purchase of one supply."""
    entries = (
        Entry(id="quantity", label="How much", value="1", hint=quantity_hint(row, house)),
        Entry(id="price", label="Paid in all", hint=f"{house.currency}, or leave empty"),
        date_entry(today, "Bought on"),
    )

    def take(typed: dict[str, str]) -> Purchase:
        on = parse_date(typed["on"], today)
        check_date(on, today, house.started)
        paid = parse_price(typed["price"], house.currency) if typed["price"].strip() else None
        return Purchase(on=on, supply=row.supply, quantity=read_quantity(typed["quantity"], row), price=paid)

    pack = f"A pack holds {amount_words(row.pack, row.unit, house.units)}. " if packed(row) else ""
    price = f"Price so far: {money(row.price, house.currency)} a pack ({row.price_basis})."
    if row.price <= 0:
        price = "No price yet."
    return Form(f"Buy: {row.title}", entries, take, about=pack + price, key=f"buy {row.supply}")


def packed(row: Shelf) -> bool:
    """Whether a pack is not just one piece."""
    return not (row.unit == "each" and row.pack == 1)


def quantity_hint(row: Shelf, house: House) -> str:
    """How an amount of this supply can be typed."""
    if not packed(row):
        return "pieces"
    example = amount_words(row.pack, row.unit, house.units)
    return f"packs, or like {example}" if row.unit != "each" else f"packs of {example}"


def read_quantity(typed: str, row: Shelf, *, zero_ok: bool = False) -> float:
    """An amount in the supply's unit: a bare number counts packs, anything else says its unit.

    Raises:
        BadInput: no number, not above 0, or a unit that does not fit.
    """
    number, unit = split_unit(typed)
    if not unit or unit.casefold() in PACK_WORDS:
        return parse_amount(number, zero_ok=zero_ok) * row.pack
    if row.unit == "each":
        if unit.casefold() in ("piece", "pieces", "each"):
            return parse_amount(number, zero_ok=zero_ok)
        raise BadInput(f"{row.title} is counted in pieces.", "Leave the unit out.")
    return parse_amount(typed, row.unit, zero_ok=zero_ok)
