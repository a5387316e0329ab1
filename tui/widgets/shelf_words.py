"""The shelf in words and rows: what to order by when, and what it costs."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from typing import TYPE_CHECKING

from textual.content import Content

from model.plan_types import Shelf
from model.units import money
from tui.key_words import key, keyed
from tui.widgets.amounts import amount_words
from tui.widgets.cells import tidy, wrap
from tui.widgets.sections import heading, lines
from tui.widgets.tables import Column, Row
from tui.words import day_words, short_day

if TYPE_CHECKING:
    from tui.view import View

EMPTY = "Nothing is on the shelf list yet. Press {shelf.new} to add a supply: salt, cartridges, a lamp."


_WIDE_FROM, _NARROW_FROM = 112, 80
_PRICE, _LONG_PRICE = 2, 14
"""The cell of the price where there is no column for a pack, and what a price takes at most."""


def columns(currency: str, width: int, rows: Sequence[Row] = ()) -> list[Column]:
    """The columns for a terminal of so many cells; the price takes what these rows need, the supply what is left."""
    price = max((len(row.cells[_PRICE if width < _WIDE_FROM else _PRICE + 1]) for row in rows), default=_LONG_PRICE)
    price = max(price, len(f"Price, {currency}"))
    if width < _NARROW_FROM:
        return [
            Column("Supply", max(15, width - 31 - price)),
            Column("On shelf", 8, "right"),
            Column(f"Price, {currency}", price, "right"),
            Column("Order by", 12),
        ]
    if width < _WIDE_FROM:
        return [
            Column("Supply", max(16, width - 51 - price)),
            Column("On shelf", 8, "right"),
            Column(f"Price, {currency}", price, "right"),
            Column("A year", 8, "right"),
            Column("Needed", 8),
            Column("Order by", 12),
        ]
    return [
        Column("Supply", max(28, min(width - 87, 48))),
        Column("On the shelf", 12, "right"),
        Column("A pack", 9, "right"),
        Column(f"Price, {currency}", 14, "right"),
        Column("A year takes", 12, "right"),
        Column("Needed on", 10),
        Column("Order by", 12),
    ]


def ordered(shelf: tuple[Shelf, ...]) -> list[Shelf]:
    """The supplies by the day to order, those without one last."""
    return sorted(shelf, key=lambda row: (row.order_by is None, row.order_by or date.max, row.title.casefold()))


def order_words(rows: list[Shelf], view: View, width: int = 78) -> Content:
    """What to order now, in words of at most `width` cells a line; otherwise when the next order is due."""
    if not rows:
        return Content(keyed(EMPTY))
    late = [row for row in rows if row.order_by is not None and row.order_by <= view.today]
    if not late:
        return _next_order(rows, view)
    told = [_order_line(row, view, width) for row in late[:4]]
    more = [Content(f"  and {len(late) - 4} more, first in the table")] if len(late) > 4 else []
    return lines([Content.styled("! Order now", "bold $text-warning"), *told, *more])


def _order_line(row: Shelf, view: View, width: int) -> Content:
    needed = f", {_needed_words(row.needed_on, view.today)}" if row.needed_on else ""
    there = amount_words(row.on_shelf, row.unit, view.house.units)
    lacking = packs_words(row, row.needed)
    buy = f"; buy {lacking}" if lacking else ""
    title = tidy(row.title)
    first, *others = wrap(f"{title}: {there} on the shelf{needed}{buy}", max(width - 4, 20), 9)
    head = Content(f"  {first}").stylize("bold", 2, min(2 + len(title), 2 + len(first)))
    return lines([head, *(f"    {one}" for one in others)])


def _needed_words(day: date, today: date) -> str:
    """When it is needed, and plainly so where that day is past."""
    return f"{'needed on' if day >= today else 'was needed on'} {day_words(day, today)}"


def _next_order(rows: list[Shelf], view: View) -> Content:
    first = rows[0]
    if first.order_by is None:
        return Content("Nothing needs ordering within the forecast.")
    return Content(f"Nothing to order now. The next is {first.title}, by {day_words(first.order_by, view.today)}.")


def packs_words(row: Shelf, amount: float) -> str:
    """An amount as whole packs, rounded up: "2 packs"; "" for nothing."""
    packs = -int(-amount / row.pack // 1) if row.pack > 0 else 0
    if packs <= 0:
        return ""
    return f"{packs} pack{'s' if packs != 1 else ''}"


def shelf_row(row: Shelf, view: View, width: int) -> Row:
    """A supply as a row for the columns of that width; what must be ordered now is bold and says NOW."""
    system, today = view.house.units, view.today
    mark = "default " if "default" in row.price_basis else ""
    cells = {
        "shelf": amount_words(row.on_shelf, row.unit, system),
        "pack": amount_words(row.pack, row.unit, system),
        "price": f"{mark}{row.price:,.2f}" if row.price > 0 else "no price yet",
        "year": amount_words(row.per_year, row.unit, system),
        "needed": short_day(row.needed_on, today) if row.needed_on else "-",
        "order": _order_word(row.order_by, today),
    }
    left_out = {"pack"} if width < _WIDE_FROM else set()
    left_out |= {"year", "needed"} if width < _NARROW_FROM else set()
    late = row.order_by is not None and row.order_by <= today
    kept = (cell for name, cell in cells.items() if name not in left_out)
    return Row(row.supply, (row.title, *kept), "bold" if late else "")


def _order_word(order_by: date | None, today: date) -> str:
    if order_by is None:
        return "-"
    return f"NOW {short_day(order_by, today)}" if order_by <= today else short_day(order_by, today)


def _order_by_words(order_by: date, today: date) -> str:
    said = day_words(order_by, today)
    return f"the day to order was {said}: order now" if order_by < today else f"order by {said}"


def supply_words(row: Shelf, view: View) -> Content:
    """More on one supply, in sentences."""
    system, today = view.house.units, view.today
    pack = amount_words(row.pack, row.unit, system)
    one = "One" if pack == "1" else f"A pack holds {pack} and"
    basis = f" ({row.price_basis})" if row.price_basis else ""
    price = f"{one} costs {money(row.price, view.house.currency)}{basis}."
    if row.price <= 0:
        price = (
            f"{'' if pack == '1' else f'A pack holds {pack}. '}No price yet: {key('shelf.buy')} writes down what a "
            "purchase cost."
        )
    when = "Not needed within the forecast."
    if row.needed_on:
        when = f"Short by {amount_words(row.needed, row.unit, system)}: {_needed_words(row.needed_on, today)}"
        when += f"; {_order_by_words(row.order_by, today)}." if row.order_by else "."
    return lines([heading(row.title), Content(price), Content(when)])
