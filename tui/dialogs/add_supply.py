"""The form for a new supply on the shelf list."""

from __future__ import annotations

from datetime import date

import msgspec

from model.errors import BadInput
from model.forecast.present import changed
from model.home import House, Supply
from model.records.events import SupplyAdded
from model.records.typed import parse_amount, parse_date, parse_number, parse_price
from tui.dialogs.edit_setting import date_entry
from tui.dialogs.form import Entry, Form
from tui.widgets.cells import tidy

_COUNTED = {"each": ("each", "pieces"), "lb": ("kg", "weight, in lb"), "kg": ("kg", "weight, in kg")}
_COUNTED |= {"gal": ("L", "volume, in gal"), "L": ("L", "volume, in L")}


def add_supply_form(house: House, today: date) -> Form[SupplyAdded]:
    """A form that answers with the new supply."""
    units = ("each", "lb", "gal") if house.units == "us" else ("each", "kg", "L")
    entries = (
        Entry(id="title", label="Name", hint="like: Softener salt"),
        Entry(id="unit", label="Counted in", value="each", choices=tuple((unit, _COUNTED[unit][1]) for unit in units)),
        Entry(id="pack", label="One pack holds", value="1", hint="pieces, or that unit"),
        Entry(id="price", label="Price of a pack", hint=f"{house.currency}, or empty"),
        Entry(id="packs", label="Packs on the shelf", value="0"),
        Entry(id="lead", label="Days, order to shelf", value="7", hint="default 7"),
        date_entry(today, "Listed from"),
    )

    def take(typed: dict[str, str]) -> SupplyAdded:
        supply = _supply(typed, house)
        added = SupplyAdded(on=parse_date(typed["on"], today), supply=msgspec.to_builtins(supply))
        changed(house, added)
        return added

    about = "Something that is bought and kept: a stage uses it where it was named when the stage was added."
    return Form("New supply", entries, take, about=about)


def _supply(typed: dict[str, str], house: House) -> Supply:
    title = tidy(typed["title"])
    if not title:
        raise BadInput("The name is empty.", "Say what it is.")
    unit = _COUNTED[typed["unit"]][0]
    pack = parse_amount(f"{typed['pack']} {typed['unit']}" if typed["unit"] != "each" else typed["pack"], unit)
    lead = parse_number(typed["lead"])
    if not 0 <= lead <= 730 or lead != int(lead):
        raise BadInput("The days from order to shelf are a whole number from 0 to 730.")
    return Supply(
        id=new_id(title, house),
        title=title,
        unit=unit,
        pack=pack,
        price=parse_price(typed["price"], house.currency) if typed["price"].strip() else 0.0,
        on_shelf=parse_amount(typed["packs"], zero_ok=True) * pack,
        lead_days=int(lead),
    )


def new_id(name: str, house: House) -> str:
    """An id for a new supply from its name, not yet used in this house."""
    base = "_".join("".join(mark if mark.isascii() and mark.isalnum() else " " for mark in name.casefold()).split())
    base = base[:40] or "supply"
    used = {supply.id for supply in house.supplies}
    return next(name for name in (base, *(f"{base}_{count}" for count in range(2, 10_000))) if name not in used)
