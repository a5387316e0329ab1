"""A bar chart in text: one row a bar, with its range and its numbers beside it."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec
from rich.cells import cell_len
from textual.content import Content

from tui.widgets.cells import fit, tidy

_EIGHTHS = " ▏▎▍▌▋▊▉"


class Bar(msgspec.Struct, frozen=True):
    """One bar: its name, what is expected with its bounds, and the numbers as words."""

    name: str
    expected: float
    low: float
    high: float
    words: str = ""


def draw_bars(rows: Sequence[Bar], width: int, *, ascii_only: bool = False) -> list[str]:
    """The chart, at most `width` cells wide. The bar is dark up to the low bound and ends at
    what is expected, the whisker at the high bound."""
    if not rows or width <= 0:
        return []
    names = max(cell_len(tidy(row.name)) for row in rows)
    words = max(cell_len(row.words) for row in rows)
    names = min(names, max(1, width // 3))
    room = width - names - words - 3
    top = max(max(row.high, row.expected) for row in rows)
    lines = [fit(_row(row, names, words, room, top, ascii_only), width).rstrip() for row in rows]
    return [line.replace("…", "~") for line in lines] if ascii_only else lines


def _row(row: Bar, names: int, words: int, room: int, top: float, ascii_only: bool) -> str:
    name = fit(tidy(row.name), names)
    if room < 4:
        return f"{name} {row.words}"
    drawn = _bar(row, room / top if top > 1e-9 else 0.0, ascii_only)
    return f"{name} {fit(drawn, room)}  {fit(row.words, words, 'right')}"


def _bar(row: Bar, scale: float, ascii_only: bool) -> str:
    """Dark up to the low bound, light from there up to what is expected, then the whisker."""
    whole, part = divmod(round(max(0.0, row.expected) * scale * 8), 8)
    dark, light = ("#", "=") if ascii_only else ("█", "▒")
    sure = min(round(max(0.0, row.low) * scale), whole)
    bar = dark * sure + light * (whole - sure)
    if sure == whole and part and not ascii_only:
        bar += _EIGHTHS[part]
    elif part >= 4:
        bar += dark if sure == whole else light
    return bar + _whisker(len(bar), round(max(0.0, row.high) * scale), ascii_only)


def _whisker(start: int, end: int, ascii_only: bool) -> str:
    """From the end of the bar to the high bound; nothing where the two fall together."""
    if end <= start:
        return ""
    line, tip = ("-", "|") if ascii_only else ("─", "┤")
    return line * (end - start - 1) + tip


def bars_key(*, ascii_only: bool = False) -> str:
    """What the parts of a bar mean."""
    dark, light, tip = ("#", "=", "-|") if ascii_only else ("█", "▒", "─┤")
    return f"{dark} low   {light} expected   {tip} high"


def show_bars(rows: Sequence[Bar], width: int, *, ascii_only: bool = False) -> Content:
    """The chart for the screen, the bars in the accent colour."""
    return Content("\n").join(_coloured(line) for line in draw_bars(rows, width, ascii_only=ascii_only))


def _coloured(line: str) -> Content:
    content = Content(line)
    marks = [place for place, mark in enumerate(line) if mark in "█▒▏▎▍▌▋▊▉"]
    return content.stylize("$primary", marks[0], marks[-1] + 1) if marks else content
