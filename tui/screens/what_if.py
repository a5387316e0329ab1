"""What if: settings tried beside today's, with what they would change. Nothing is written down unless kept."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

import msgspec
from textual import on, work
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import Horizontal, VerticalScroll
from textual.content import Content
from textual.events import Resize
from textual.widgets import DataTable, Static

from model.errors import BadInput
from model.forecast.present import check_fits
from model.forecast.what_if import Comparison
from model.forecast.what_if_figures import Picture, pictured
from model.forecast.what_if_home import Change
from tui.commands import bindings
from tui.dialogs.ask import Ask
from tui.key_words import key, keyed
from tui.screens.listed import FilterLine, ListScreen
from tui.widgets.cells import plain_terminal
from tui.widgets.sections import heading, indented, lines, quiet
from tui.widgets.setting_text import show_value
from tui.widgets.tables import Column, Row, Table, fill, key_at_cursor
from tui.widgets.what_if_changes import tried
from tui.widgets.what_if_fields import fields_of
from tui.widgets.what_if_plots import cash_plot, pair_bars
from tui.widgets.what_if_words import month_rows, table_rows

if TYPE_CHECKING:
    from tui.view import View
    from tui.widgets.settings import Field

_BESIDE = ((150, 64, 16), (110, 54, 12))
"""From so many columns on the figures stand beside the list: its cells, and those of a value in it."""
_VALUE = 14
_BEGIN = "{what_if.change} tries another value for the highlighted setting; the figures here show what would change."


class WhatIfScreen(ListScreen):
    """What can be changed at the left, the figures at the right. It lies on Costs; what is tried is kept by Escape."""

    AREA = "what_if"
    TAB = "costs"
    AUTO_FOCUS = LIST = "#tried"
    CSS_PATH = "what_if.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("what_if")]
    HELP_TEXT = (
        "What can be tried, with its value; * marks what differs from today. {what_if.change} or Enter types "
        "another value, {what_if.put_back} puts one back, {what_if.filter} shows only settings with a word. Beside "
        "or below it the house today and then, from today on: Tab goes there to scroll. {what_if.keep} asks and "
        "writes the changes down as settings ({undo} takes them back); {what_if.drop} drops all that is tried, "
        "after asking. Escape goes back and keeps it for the next time, as long as the program runs. The program "
        "moves no valve and orders nothing. A pH here is reckoned for flowing water: read it after every change."
    )
    _as_is: Picture | None = None
    _found: Comparison | None = None

    @property
    def _changes(self) -> tuple[Change, ...]:
        return self.app.session.trials

    @_changes.setter
    def _changes(self, trials: tuple[Change, ...]) -> None:
        self.app.session.trials = trials

    def compose(self) -> ComposeResult:
        """The list, and beside it the figures in one scroll."""
        yield FilterLine("salt, people, price")
        with Horizontal(id="what_if"):
            yield DataTable(id="tried", cursor_type="row", zebra_stripes=True)
            with VerticalScroll(id="beside"):
                yield Static(id="figures")

    def show_view(self, view: View) -> None:
        """Work out the home as it is, and the changes beside it as far as they still fit."""
        self._as_is = pictured(view.situation)
        try:
            self._found = tried(view.situation, self._as_is, self._changes)
        except BadInput as problem:
            self._changes = ()
            self._found = tried(view.situation, self._as_is, ())
            self.notify(f"Dropped: {problem}", severity="warning", markup=False)
        self._show()

    def on_resize(self, event: Resize) -> None:
        """Use the room."""
        if self._found is not None:
            self._show()

    # What is shown

    @property
    def _widths(self) -> tuple[int, int]:
        """The cells of the list, and of a value in it; where it is narrow the figures are below it."""
        width = self.app.size.width
        return next(((left, value) for least, left, value in _BESIDE if width >= least), (width - 2, _VALUE))

    def _show(self) -> None:
        left, value = self._widths
        units, then = self.app.session.view.house.units, {one.path: one.value for one in self._changes}
        table: Table = self.query_one("#tried", DataTable)
        name = max(left - 8 - 2 * value, 8)
        rows = []
        for field in fields_of(self.app.session.view.situation):
            if not self.holds(*field.said):
                continue
            said = show_value(_as_tried(field, then), units)
            mark, cells = ("* ", "bold") if field.path in then else ("", "")
            shown = (mark + field.label.label, show_value(field, units), said if mark else "")
            rows.append(Row(field.path, shown, cells))
        fill(table, [Column("What if", name), Column("Today", value), Column("Then", value)], rows)
        self.refresh_bindings()
        self._show_figures()

    def refill(self) -> None:
        """List the settings with the words typed."""
        if self._found is not None:
            self._show()

    def _show_figures(self) -> None:
        found = self._found
        if found is None:
            return
        left = self._widths[0]
        beside = self.app.size.width - left - 6
        width = max(beside if beside > 0 else self.app.size.width - 6, 20)
        units = self.app.session.view.house.units
        cautions = [indented(f"! {one}", width, 0).stylize("bold $text-warning") for one in found.cautions]
        rows = [
            heading(text) if place == 0 else Content.styled(text, "bold" if moved else "$foreground-muted")
            for place, (text, moved) in enumerate(table_rows(found, width, units))
        ]
        plain = plain_terminal()
        plots = [*cash_plot(found, width, ascii_only=plain), *pair_bars(found, width, units, ascii_only=plain)]
        notes = [*found.notes, *found.not_kept] if self._changes else [keyed(_BEGIN)]
        told = [quiet_lines(one, width) for one in notes]
        parts: list[Content | str] = [*cautions, *rows, *told, "", *plots, *month_rows(found, width)]
        self.query_one("#figures", Static).update(lines(parts))

    # Keys

    def _field(self) -> Field | None:
        key = key_at_cursor(self.query_one("#tried", DataTable))
        return next((one for one in fields_of(self.app.session.view.situation) if one.path == key), None)

    @on(DataTable.RowSelected, "#tried")
    def action_change(self) -> None:
        """Try another value of the highlighted setting."""
        self._change()

    @work(exclusive=True, group="dialog")
    async def _change(self) -> None:
        from tui.dialogs.what_if import what_if_form

        field = self._field()
        if field is None or self._as_is is None:
            return
        then = _as_tried(field, {one.path: one.value for one in self._changes})
        form = what_if_form(field, then, self.app.session.view.situation, self._as_is, self._changes)
        answer = await self.app.push_screen_wait(form)
        if answer is not None:
            self._changes, self._found = answer
            self._show()

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """What is as today cannot be put back, and nothing tried is nothing to keep or to drop."""
        if action == "put_back":
            key = key_at_cursor(self.query_one("#tried", DataTable)) if self._found else ""
            return any(one.path == key for one in self._changes)
        if action in ("keep", "drop"):
            return bool(self._changes)
        return super().check_action(action, parameters)

    @on(DataTable.RowHighlighted, "#tried")
    def _other_row(self) -> None:
        self.refresh_bindings()

    def action_put_back(self) -> None:
        """Take the highlighted setting as it is today."""
        field = self._field()
        if field is None or all(one.path != field.path for one in self._changes):
            self.notify("This is as it is today.", markup=False)
            return
        self._changes = tuple(one for one in self._changes if one.path != field.path)
        self.show_view(self.app.session.view)

    @work(exclusive=True, group="dialog")
    async def action_keep(self) -> None:
        """Ask, then write the changes down, together."""
        found, view = self._found, self.app.session.view
        if found is None or not found.events:
            words = (
                found.not_kept[0]
                if found and found.not_kept
                else f"Nothing is changed yet: {key('what_if.change')} tries a value."
            )
            self.notify(words, markup=False)
            return
        try:
            check_fits(view.home, view.today, *found.events)
        except BadInput as problem:
            self.notify(str(problem), severity="warning", markup=False)
            return
        if await self.app.push_screen_wait(Ask("Write these down as settings from today on?", self._asked(found))):
            before, self._changes = self._changes, ()
            if not self.app.record(*found.events, said=f"Written down. {key('undo')} takes all of it back."):
                self._changes = before

    def _asked(self, found: Comparison) -> str:
        then, units = {one.path: one.value for one in self._changes}, self.app.session.view.house.units
        fields = [one for one in fields_of(self.app.session.view.situation) if one.path in then]
        said = [
            f"{one.label.label}: {show_value(one, units)}, then {show_value(_as_tried(one, then), units)}."
            for one in fields
        ]
        hint = "Valves, doses and parts you change yourself, by their manuals; then read the water."
        return "\n".join([*(f"! {one}" for one in found.cautions), *said, *found.not_kept, hint])

    @work(exclusive=True, group="dialog")
    async def action_drop(self) -> None:
        """Take all settings as they are today, after asking."""
        count = len(self._changes)
        words = f"{count} setting{'' if count == 1 else 's'} will stand here as today again. Nothing was written down."
        if not count:
            return
        if await self.app.push_screen_wait(Ask("Drop all that is tried?", words, yes="Drop", no="Keep on")):
            self._changes = ()
            self.show_view(self.app.session.view)

    def action_close(self) -> None:
        """Show all settings again; where they are, go back to Costs. What is tried is kept for the next time."""
        if not self.clear_filter() and self.app.screen is self:
            self.app.pop_screen()
            if self._changes:
                self.app.notify(
                    f"What is tried is kept: {key('costs.what_if')} goes on with it. Nothing is written down.",
                    markup=False,
                )


def _as_tried(field: Field, then: dict[str, float | int | str | bool | None]) -> Field:
    return msgspec.structs.replace(field, value=then[field.path]) if field.path in then else field


def quiet_lines(text: str, width: int) -> Content:
    """A note in at most `width` cells a line."""
    return quiet(indented(text, width, 0).plain)
