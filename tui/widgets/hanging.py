"""Lines with a mark or a label before them, whose later lines hang below the words, not below the mark."""

from __future__ import annotations

from collections.abc import Iterable

from rich.console import Group, RenderableType
from rich.table import Table
from rich.text import Text


def hanging(rows: Iterable[tuple[str, str | Text]], width: int, style: str = "dim") -> Table:
    """Rows of a label, at least `width` cells wide and in `style`, and words. Nothing is read as markup."""
    table = Table.grid(padding=(0, 1, 0, 0), expand=True)
    table.add_column(min_width=width, no_wrap=True)
    table.add_column(ratio=1)
    for label, words in rows:
        table.add_row(Text(label, style), words if isinstance(words, Text) else Text(words))
    return table


def bullets(lines: Iterable[str], mark: str = "-") -> Table:
    """Lines with a mark before each."""
    return hanging(((mark, line) for line in lines), len(mark))


def titled(title: str, lines: Iterable[str]) -> Group:
    """A bold title and bullets below it."""
    return Group(Text(title, "bold"), bullets(lines))


def spaced(parts: Iterable[RenderableType]) -> Group:
    """Parts with an empty line between them."""
    rows: list[RenderableType] = []
    for part in parts:
        rows += [Text(""), part] if rows else [part]
    return Group(*rows)
