"""Tables of read-only rows: fixed widths, no markup, and a cursor that stays on its row when they are filled anew."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec
from rich.text import Text
from textual.widgets import DataTable

from tui.widgets.cells import fit

Table = DataTable[Text]


class Column(msgspec.Struct, frozen=True):
    """One column: its heading, its width in cells, and to which side it is set."""

    heading: str
    width: int
    align: str = "left"


class Row(msgspec.Struct, frozen=True):
    """One row: a key to know it by, its cells, and a style for all of them ("bold", "dim" or none)."""

    key: str
    cells: tuple[str, ...]
    style: str = ""


def fill(table: Table, columns: Sequence[Column], rows: Sequence[Row]) -> None:
    """Show the rows, and put the cursor back on the row it was on."""
    before = key_at_cursor(table)
    scrolled = table.scroll_offset
    table.clear(columns=True)
    for column in columns:
        table.add_column(Text(fit(column.heading, column.width, column.align)), width=column.width)
    for row in rows:
        cells = (fit(cell, column.width, column.align) for cell, column in zip(row.cells, columns, strict=True))
        table.add_row(*(Text(cell, style=row.style) for cell in cells), key=row.key)
    keys = [row.key for row in rows]
    if before in keys:
        table.move_cursor(row=keys.index(before), scroll=False)
        table.scroll_to(scrolled.x, scrolled.y, animate=False)


def key_at_cursor(table: Table) -> str:
    """The key of the row under the cursor, "" in an empty table."""
    if not table.is_valid_row_index(table.cursor_row):
        return ""
    return str(table.coordinate_to_cell_key(table.cursor_coordinate).row_key.value)
