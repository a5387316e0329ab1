"""Costs: the next twelve months, by month and by consumable."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

import msgspec
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.events import Resize
from textual.widgets import DataTable, Static

from model.plan_types import CostItem, CostMonth, Costs, Range
from model.units import money
from tui.commands import bindings
from tui.key_words import keyed
from tui.screens.area import AreaScreen
from tui.widgets.amounts import amount_words
from tui.widgets.bars import Bar, bars_key, show_bars
from tui.widgets.cells import plain_terminal
from tui.widgets.sections import heading, lines, quiet
from tui.widgets.setting_text import NO_PRICE
from tui.widgets.tables import Column, Row, Table, fill
from tui.words import MONTHS

if TYPE_CHECKING:
    from model.units import System
    from tui.view import View

_EMPTY = (
    "Nothing costs anything yet: no stage of this house uses a supply.",
    (
        "Press {go.house} for House and {house.add} to add stages, then {go.shelf} for Shelf and {shelf.new} to "
        "add what they use, with its price."
    ),
)
_NO_PRICES = (
    "No price is known yet, so the year cannot be summed; below is what it uses.",
    (
        "Press {go.shelf} for Shelf, then {shelf.buy} on a supply: it writes down what a purchase cost, and the "
        "year follows."
    ),
)
_WIDE_FROM, _NARROW_BELOW = 112, 80
_WIDEST = 120
"""Longer bars are hard to follow to their numbers, in cells."""
_OF_NARROW = (0, 2, 3, 4)
"""The cells of a row for which a narrow table has room: the consumable and its cash."""


class CostsScreen(AreaScreen):
    """What the year costs: in all, by month, by consumable."""

    AREA = "costs"
    CSS_PATH = "costs.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("costs")]
    HELP_TEXT = (
        "Cash is what will be paid in the next twelve months; what is on the shelf is used first. "
        "Expected is the mean; low and high are the 10 and 90 % points of each sum by itself, "
        "by how far water use and draw may be off. The long run spreads each purchase over the years it lasts. "
        "{costs.ten_years} shows the slow parts over ten years, {costs.what_if} what another setting would change. "
        "A month's bar is dark up to the low bound and light up to what is expected; its line ends at the high bound. "
        "Receipts entered on the Shelf replace default prices."
    )

    def compose(self) -> ComposeResult:
        """The total, the months as bars, the table, the notes; one scroll."""
        with VerticalScroll(id="costs"):
            yield Static(id="total")
            yield Static(id="months")
            yield DataTable(id="items", cursor_type="none", zebra_stripes=True)
            yield Static(id="notes")

    def on_mount(self) -> None:
        """The table is only read: the scroll has the keys."""
        self.query_one("#items", DataTable).can_focus = False
        super().on_mount()

    def show_view(self, view: View) -> None:
        """Fill everything from the forecast."""
        costs = view.costs
        if _nothing_priced(view):
            told = lines([keyed(one) for one in _NO_PRICES])
        else:
            told = total_words(costs, len(_unpriced(view))) if costs.items else lines([keyed(one) for one in _EMPTY])
        self.query_one("#total", Static).update(told)
        self._show_for_width(view)
        self.query_one("#notes", Static).update(lines([quiet(f"- {note}") for note in costs.notes]))

    def action_ten_years(self) -> None:
        """Show the slow parts over ten years."""
        from tui.screens.ten_years import TenYearsScreen

        self.app.push_screen(TenYearsScreen())

    def on_resize(self, event: Resize) -> None:
        """Draw the bars and choose the columns for the new width."""
        if self._shown is not None:
            self._show_for_width(self._shown)

    def _show_for_width(self, view: View) -> None:
        costs, width = view.costs, self.app.size.width
        months = self.query_one("#months", Static)
        table: Table = self.query_one("#items", DataTable)
        table.display = bool(costs.items)
        months.display = bool(costs.items) and not _nothing_priced(view)
        if costs.items:
            months.update(month_bars(costs, min(width - 4, _WIDEST)))
            rows = item_rows(costs, view.house.units, _unpriced(view))
            rows = rows[:-1] if _nothing_priced(view) else rows
            if width < _NARROW_BELOW:
                rows = [msgspec.structs.replace(row, cells=tuple(row.cells[at] for at in _OF_NARROW)) for row in rows]
            fill(table, _columns(costs.currency, width), rows)


def _unpriced(view: View) -> frozenset[str]:
    """The supplies that will be used and have no price."""
    used = {item.supply for item in view.costs.items}
    return frozenset(row.supply for row in view.plan.shelf if row.price <= 0 and row.supply in used)


def _nothing_priced(view: View) -> bool:
    """Whether supplies will be used and none of them has a price."""
    used = {item.supply for item in view.costs.items}
    return bool(used) and used == _unpriced(view)


def total_words(costs: Costs, unpriced: int = 0) -> Content:
    """The year in one sentence, and the long run in another. `unpriced`: so many supplies have no price."""
    span = f"{_month(costs.months[0])} to {_month(costs.months[-1])}" if costs.months else "The next twelve months"
    total, currency = costs.total, costs.currency
    return lines(
        [
            Content.assemble(
                f"The next twelve months, {span}: " if costs.months else f"{span}: ",
                (f"{money(total.expected, currency)}", "bold $primary"),
                f" in cash; 8 times in 10 from {money(total.low, currency)} to {money(total.high, currency)}",
                f"{_without(unpriced)}.",
            ),
            Content.assemble(
                "In the long run: ", (money(costs.long_run_per_year, currency), "bold"), f" a year{_without(unpriced)}."
            ),
        ]
    )


def _without(unpriced: int) -> str:
    if not unpriced:
        return ""
    supplies = "1 supply that has" if unpriced == 1 else f"{unpriced} supplies that have"
    return f", without {supplies} no price yet"


def _month(month: CostMonth) -> str:
    return f"{MONTHS[month.starts.month - 1]} {month.starts.year}"


def month_bars(costs: Costs, width: int) -> Content:
    """The months as bars with their numbers."""
    numbers = [_padded(cells) for cells in zip(*(_spread(month.cash) for month in costs.months), strict=True)]
    words = [f"{expected}  {low} to {high}" for expected, low, high in zip(*numbers, strict=True)]
    bars = [
        Bar(_month(month), month.cash.expected, month.cash.low, month.cash.high, said)
        for month, said in zip(costs.months, words, strict=True)
    ]
    plain = plain_terminal()
    title = heading(f"By month, {costs.currency}: expected, low to high")
    key = quiet(f"   {bars_key(ascii_only=plain)}")
    return lines([Content.assemble(title, key), show_bars(bars, width, ascii_only=plain)])


def _spread(cash: Range) -> tuple[str, str, str]:
    return _sum(cash.expected), _sum(cash.low), _sum(cash.high)


def _sum(amount: float) -> str:
    return f"{amount:,.2f}"


def _padded(words: tuple[str, ...]) -> list[str]:
    widest = max((len(word) for word in words), default=0)
    return [word.rjust(widest) for word in words]


def _columns(currency: str, width: int) -> list[Column]:
    wide = width >= _WIDE_FROM
    name, amount, sums = (36, 14, 13) if wide else (max(width - 61, 16), 8, 9)
    titles = (
        (f"Expected, {currency}", "Low", "High", "Long run/year")
        if wide
        else (f"Cash, {currency}", "Low", "High", "Long run")
    )
    if width < _NARROW_BELOW:
        cash = [Column(titles[0], len(NO_PRICE), "right"), *(Column(one, sums, "right") for one in titles[1:3])]
        return [Column("By consumable", max(width - 42, 14)), *cash]
    return [
        Column("By consumable", name),
        Column("Quantity", amount, "right"),
        Column(titles[0], max(sums, len(NO_PRICE)), "right"),
        *(Column(one, sums, "right") for one in titles[1:]),
    ]


def item_rows(costs: Costs, system: System, unpriced: frozenset[str] = frozenset()) -> list[Row]:
    """A row for each consumable, the dearest first, and the sum. Quantities are means; of pieces with one decimal."""
    items = sorted(costs.items, key=lambda item: (-item.cash.expected, -item.long_run_per_year, item.title.casefold()))
    rows = [_item_row(item, system, place, item.supply in unpriced) for place, item in enumerate(items)]
    return [*rows, Row("total", ("In all", "", *_spread(costs.total), _sum(costs.long_run_per_year)), "bold")]


def _item_row(item: CostItem, system: System, place: int, unpriced: bool) -> Row:
    amount = round(item.quantity, 1) if item.unit == "each" else item.quantity
    quantity = amount_words(amount, item.unit, system)
    if unpriced:
        return Row(f"item.{place}", (item.title, quantity, NO_PRICE, "", "", ""), "dim")
    return Row(f"item.{place}", (item.title, quantity, *_spread(item.cash), _sum(item.long_run_per_year)))
