"""Shelf: what lies there, what to order by when, and what it costs."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual import on, work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.content import Content
from textual.events import Resize
from textual.widgets import DataTable, Static

from model.plan_types import Shelf
from tui.commands import bindings
from tui.key_words import keyed
from tui.screens.listed import FilterLine, ListScreen
from tui.widgets.amounts import amount_words
from tui.widgets.shelf_words import EMPTY, columns, order_words, ordered, shelf_row, supply_words
from tui.widgets.tables import Table, fill, key_at_cursor

if TYPE_CHECKING:
    from tui.view import View


class ShelfScreen(ListScreen):
    """The supplies, those to order now first."""

    AREA = "shelf"
    CSS_PATH = "shelf.tcss"
    AUTO_FOCUS = LIST = "#shelf"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("shelf")]
    HELP_TEXT = (
        "What must be ordered now stands first. A supply is needed on the day on which the chance that the shelf "
        "cannot serve a job reaches your risk for that job; the order day is that less the days from order to "
        "shelf (both set on the House screen). {shelf.buy} writes down a purchase, {shelf.count} what you counted, "
        "{shelf.new} a new supply. A default price is invented; it is replaced by what you pay. {shelf.filter} "
        "shows only supplies with a word, Escape all again."
    )

    def compose(self) -> ComposeResult:
        """What to order, the table, and more on the highlighted supply."""
        yield FilterLine("salt, lamp, cartridge")
        yield Static(id="to_order")
        yield DataTable(id="shelf", cursor_type="row", zebra_stripes=True)
        yield Static(id="supply")

    def show_view(self, view: View) -> None:
        """Fill everything from the plan."""
        rows = ordered(view.plan.shelf)
        self._show_orders(view, rows)
        self._show_table(view, rows)
        self._show_supply()

    def on_resize(self, event: Resize) -> None:
        """Choose the columns for the new width."""
        if self._shown is not None:
            self._show_orders(self._shown, ordered(self._shown.plan.shelf))
            self._show_table(self._shown, ordered(self._shown.plan.shelf))

    def _show_orders(self, view: View, rows: list[Shelf]) -> None:
        self.query_one("#to_order", Static).update(order_words(rows, view, self.app.size.width - 2))

    def _show_table(self, view: View, rows: list[Shelf]) -> None:
        table: Table = self.query_one("#shelf", DataTable)
        table.display = bool(rows)
        rows = [row for row in rows if self.holds(row.title, row.supply)]
        width = self.app.size.width
        shown = [shelf_row(row, view, width) for row in rows]
        fill(table, columns(view.house.currency, width, shown), shown)

    def refill(self) -> None:
        """List the supplies with the words typed."""
        if self._shown is not None:
            self._show_table(self._shown, ordered(self._shown.plan.shelf))
            self._show_supply()

    def anything(self) -> bool:
        """Whether anything is on the list."""
        return bool(self.app.session.view.plan.shelf)

    @on(DataTable.RowHighlighted, "#shelf")
    def _show_supply(self) -> None:
        row = self._chosen()
        shown = self.query_one("#supply", Static)
        shown.display = row is not None
        shown.update(supply_words(row, self.app.session.view) if row else Content(""))
        self.refresh_bindings()

    def _chosen(self) -> Shelf | None:
        key = key_at_cursor(self.query_one("#shelf", DataTable))
        return next((row for row in self.app.session.view.plan.shelf if row.supply == key), None)

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Nothing is bought or counted in an empty list."""
        if action in ("buy", "count"):
            return self._shown is not None and self._chosen() is not None
        return super().check_action(action, parameters)

    def action_show(self, supply: str) -> None:
        """Highlight a supply."""
        self.clear_filter()
        self.refill()
        table = self.query_one("#shelf", DataTable)
        if supply in {str(row.value) for row in table.rows}:
            table.move_cursor(row=table.get_row_index(supply))
            table.focus()

    def action_buy_this(self, supply: str) -> None:
        """Write down a purchase of a supply."""
        self.action_show(supply)
        self.action_buy()

    @work(exclusive=True, group="dialog")
    async def action_buy(self) -> None:
        """Write down a purchase of the highlighted supply."""
        from tui.dialogs.purchase import purchase_form

        row = self._chosen()
        if row is None:
            self.notify(keyed(EMPTY), markup=False)
            return
        view = self.app.session.view
        bought = await self.app.push_screen_wait(purchase_form(row, view.house, view.today))
        if bought:
            amount = amount_words(bought.quantity, row.unit, view.house.units)
            self.app.record(bought, said=f"Bought {amount} of {row.title}.")

    @work(exclusive=True, group="dialog")
    async def action_count(self) -> None:
        """Write down what really lies there of the highlighted supply."""
        from tui.dialogs.count import count_form

        row = self._chosen()
        if row is None:
            self.notify(keyed(EMPTY), markup=False)
            return
        view = self.app.session.view
        counted = await self.app.push_screen_wait(count_form(row, view.house, view.today))
        if counted:
            amount = amount_words(counted.quantity, row.unit, view.house.units)
            self.app.record(counted, said=f"Counted {amount} of {row.title}.")

    @work(exclusive=True, group="dialog")
    async def action_new_supply(self) -> None:
        """Put a new supply on the list."""
        from tui.dialogs.add_supply import add_supply_form

        view = self.app.session.view
        added = await self.app.push_screen_wait(add_supply_form(view.house, view.today))
        if added:
            self.app.record(added, said=f"{added.supply['title']} is on the list.")
