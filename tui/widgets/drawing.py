"""What a chart is made of, cut to what lies between its ends; its glyphs; and the chart as it was drawn."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from math import isfinite

import msgspec
from textual.content import Content

Pair = tuple[float, float]
Run = tuple[str, str]
"""Cells that belong together, and what they are: a key of `STYLES`."""

STYLES = {
    "axis": "$foreground-muted",
    "band": "$secondary",
    "level": "$warning",
    "upright": "$foreground-muted",
    "now": "$accent",
    "seen": "$primary",
    "line": "bold $secondary",
    "mark": "bold $foreground",
    "span": "$accent",
}
"""What a run of cells is -> its style. The shapes tell the same without colour."""

DOTS_ACROSS, DOTS_DOWN = 2, 4
"""Dots of a cell."""

_MOST, _LEAST_SPAN = 1e12, 1e-3


class Marks(msgspec.Struct, frozen=True):
    """The glyphs of a chart, for one kind of terminal. `seen`, `reckoned`: of lines, where not plotille's dots."""

    band: str
    level: str
    upright: str
    now: str
    span: str
    side: str
    corner: str
    flat: str
    tick: str
    points: str
    line: str
    dashes: str
    seen: str = ""
    reckoned: str = ""


FINE = Marks("░", "╌", "┊", "│", "▬", "│", "└", "─", "┴", "●○▲△■□◆◇", "⠤⠤⠤", "⠤⠤ ⠤⠤")
PLAIN = Marks(".", "-", ":", "|", "=", "|", "+", "-", "+", "OoAaBbCc", "***", "xx xx", "*", "x")


class Drawing(msgspec.Struct, frozen=True, kw_only=True):
    """What to draw, in the units shown. `points`: x, y, mark; `lines`: x rising, and whether solid or dashed; `band`:
    x, low, high, x rising; `levels`: y, name; `uprights`: x, and whether it is now; `spans`: x, x; `ticks`: x, label.
    """

    ends: Pair
    points: Sequence[tuple[float, float, str]] = ()
    lines: Sequence[tuple[Sequence[Pair], bool]] = ()
    band: Sequence[tuple[float, float, float]] = ()
    levels: Sequence[tuple[float, str]] = ()
    uprights: Sequence[tuple[float, bool]] = ()
    spans: Sequence[Pair] = ()
    ticks: Sequence[tuple[float, str]] = ()
    from_zero: bool = False


class Chart(msgspec.Struct, frozen=True, kw_only=True):
    """A drawn chart: its lines from top to bottom, the cells left of the field, and how many columns and rows that has.

    `ends`: x in the first and in the last column.
    """

    rows: Sequence[Sequence[Run]] = ()
    left: int = 0
    across: int = 1
    body: int = 0
    ends: Pair = (0.0, 1.0)

    def column(self, x: float) -> int:
        """The cell of a line in which x lies, held between the two ends."""
        low, high = self.ends
        return self.left + cell_of(min(max(x, low), high), self.ends, self.across, DOTS_ACROSS)

    def x_at(self, cell: int) -> float:
        """The x of a cell of a line, held between the two ends."""
        low, high = self.ends
        return low + min(max((cell - self.left) / max(self.across - 1, 1), 0.0), 1.0) * (high - low)

    def crossed(self, x: float, mark: str) -> Chart:
        """The same with an upright of "now" at x over everything."""
        at = self.column(x)
        rows = [[(glyph, kind) for text, kind in row for glyph in text] for row in self.rows[: self.body]]
        crossed = [list(grouped([*row[:at], (mark, "now"), *row[at + 1 :]])) for row in rows]
        return msgspec.structs.replace(self, rows=[*crossed, *self.rows[self.body :]])

    def coloured(self) -> list[Content]:
        """The lines with their colours."""
        return [Content.assemble(*((text, STYLES.get(kind, "")) for text, kind in row)) for row in self.rows]


def cell_of(value: float, span: Pair, cells: int, dots: int) -> int:
    """The cell in which a value lies, where the ends of the span lie in the outermost dots."""
    low, high = span
    return round((value - low) / (high - low) * (cells * dots - 1)) // dots


def grouped(cells: Iterable[Run]) -> Iterator[Run]:
    """Cells of one kind side by side as one run."""
    for kind, group in groupby(cells, key=lambda cell: cell[1]):
        yield "".join(glyph for glyph, _ in group), kind


def drawable(ends: Pair) -> bool:
    """Whether numbers can tell all cells between the ends apart."""
    low, high = ends
    return low >= -_MOST and high <= _MOST and high - low >= _LEAST_SPAN


def held(drawing: Drawing) -> Drawing:
    """Without what is not finite or lies beyond the ends, the heights held where numbers can still be shown."""
    low, high = drawing.ends
    edges = [(x, min(a, b), max(a, b)) for x, a, b in drawing.band if isfinite(a) and isfinite(b)]
    lower = _within([(x, y) for x, y, _ in edges], drawing.ends)
    upper = _within([(x, y) for x, _, y in edges], drawing.ends)
    return msgspec.structs.replace(
        drawing,
        points=[(x, _hold(y), mark) for x, y, mark in drawing.points if low <= x <= high and isfinite(y)],
        lines=[(_within(way, drawing.ends), seen) for way, seen in drawing.lines],
        band=[(x, a, b) for (x, a), (_, b) in zip(lower, upper, strict=True)],
        levels=[(_hold(y), name) for y, name in drawing.levels if isfinite(y)],
        uprights=[(x, now) for x, now in drawing.uprights if low <= x <= high],
        spans=[(max(a, low), min(b, high)) for a, b in drawing.spans if a <= high and b >= low],
        ticks=[(x, label) for x, label in drawing.ticks if low <= x <= high],
    )


def _hold(value: float) -> float:
    return min(max(value, -_MOST), _MOST)


def _within(way: Sequence[Pair], ends: Pair) -> list[Pair]:
    """The line between the ends, cut where it crosses them."""
    way = [(_hold(x), _hold(y)) for x, y in way if isfinite(x) and isfinite(y)]
    low, high = ends
    return [*_crossing(way, low), *(one for one in way if low <= one[0] <= high), *_crossing(way, high)]


def _crossing(way: Sequence[Pair], x: float) -> list[Pair]:
    """The point of the line at x, nothing where it has one there already or does not reach so far."""
    after = bisect_right(way, x, key=lambda one: one[0])
    if not 0 < after < len(way) or way[after - 1][0] == x:
        return []
    (x0, y0), (x1, y1) = way[after - 1], way[after]
    return [(x, y0 + (y1 - y0) * (x - x0) / (x1 - x0))]
