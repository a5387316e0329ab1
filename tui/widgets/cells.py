"""Text measured in terminal cells: wide letters take two, combining marks none, control marks are left out."""

from __future__ import annotations

import os
import sys

from rich.cells import cell_len, set_cell_size

_NO_CELLS = frozenset("\u200b\u200c\u200d\u2060\ufeff")
"""Marks that take no cell and join or part what stands beside them: with them a family stays one sign."""


def _clean(text: str) -> str:
    """The text with spaces for marks that a line cannot show."""
    if text.isprintable():
        return text
    return "".join(mark if mark.isprintable() or mark in _NO_CELLS else " " for mark in text)


def tidy(text: str) -> str:
    """One printable line of what was typed, nothing where nothing of it could be seen."""
    line = " ".join(_clean(text).split())
    return line if set(line) - _NO_CELLS - {" "} else ""


def fit(text: str, width: int, align: str = "left") -> str:
    """The text in exactly `width` cells: cut with an ellipsis where it is too long, padded where it is short."""
    clean = _clean(text)
    if width <= 0:
        return ""
    if cell_len(clean) > width:
        return set_cell_size(clean, width - 1) + "…" if width > 1 else "…"
    room = width - cell_len(clean)
    before = {"left": 0, "right": room, "center": room // 2}[align]
    return " " * before + clean + " " * (room - before)


def wrap(text: str, width: int, lines: int) -> list[str]:
    """At most `lines` lines of words, each of at most `width` cells; the last one is cut where words are left over."""
    rows: list[list[str]] = [[]]
    filled = 0
    for word in tidy(text).split():
        needed = cell_len(word)
        if rows[-1] and filled + 1 + needed > width:
            if len(rows) == lines:
                rows[-1].append(word)
                break
            rows.append([])
        filled = filled + 1 + needed if rows[-1] else needed
        rows[-1].append(word)
    return [fit(" ".join(row), width).rstrip() for row in rows]


def plain_terminal() -> bool:
    """Whether the terminal is likely to lack block and arrow glyphs: the Linux console, or no UTF-8.

    WELLWARD_ASCII says so outright: 1 plain, 0 not. The settings file sets it at start.
    """
    if (said := os.environ.get("WELLWARD_ASCII")) in ("0", "1"):
        return said == "1"
    encoding = getattr(sys.__stdout__, "encoding", None) or "utf-8"
    return "utf" not in encoding.lower() or os.environ.get("TERM") in ("linux", "dumb")
