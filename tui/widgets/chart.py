"""A chart of readings and forecasts in text: marks, lines, a band of dots, levels, uprights and spans of days."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from math import ceil, floor, isfinite, log10

import msgspec
from rich.cells import cell_len

from tui.widgets.cells import fit
from tui.widgets.plot import cell_of, heights_of, line_of, row_of, scale_of

_DASH, _EVERY = "x", 3
"""A line that is not of readings is dashed: each third cell shows what lies behind it. In plain marks also its mark."""

Pair = tuple[float, float]
Run = tuple[str, str]
"""Cells that belong together, and what they are: "axis", "band", "level", "upright", "line", "seen", "mark", "span"."""

LEAST_WIDTH, LEAST_HEIGHT = 24, 5
_MOST = 1e12
_MOST_LABEL = 12


class Marks(msgspec.Struct, frozen=True):
    """The glyphs of a chart, for one kind of terminal."""

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


FINE = Marks("·", "╌", "┊", "│", "▬", "│", "└", "─", "┴", "●○▲△■□◆◇", "⠤⠤⠤", "⠤⠤ ⠤⠤")
PLAIN = Marks(".", "-", ":", "|", "=", "|", "+", "-", "+", "OoAaBbCc", "***", "xx xx")


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


def draw_chart(drawing: Drawing, width: int, height: int, *, ascii_only: bool = False) -> list[list[Run]]:
    """The chart, exactly `width` cells wide and `height` lines high; without lines where that is too small."""
    low, high = drawing.ends
    if width < LEAST_WIDTH or height < LEAST_HEIGHT or not (low < high and isfinite(high - low)):
        return []
    return _Canvas(_held(drawing), width, height, PLAIN if ascii_only else FINE, ascii_only=ascii_only).runs()


def _held(drawing: Drawing) -> Drawing:
    """Without what is not finite or lies beyond the ends, the heights held where numbers can still be shown."""
    low, high = drawing.ends
    return msgspec.structs.replace(
        drawing,
        points=[(x, _hold(y), mark) for x, y, mark in drawing.points if low <= x <= high and isfinite(y)],
        lines=[([(_hold(x), _hold(y)) for x, y in way if isfinite(x) and isfinite(y)], s) for way, s in drawing.lines],
        band=[
            (_hold(x), _hold(min(a, b)), _hold(max(a, b)))
            for x, a, b in drawing.band
            if isfinite(x) and isfinite(a) and isfinite(b)
        ],
        levels=[(_hold(y), name) for y, name in drawing.levels if isfinite(y)],
        uprights=[(x, now) for x, now in drawing.uprights if low <= x <= high],
        spans=[(max(a, low), min(b, high)) for a, b in drawing.spans if a <= high and b >= low],
        ticks=[(x, label) for x, label in drawing.ticks if low <= x <= high],
    )


def _hold(value: float) -> float:
    return min(max(value, -_MOST), _MOST)


class _Canvas:
    """The cells while they are being drawn, each layer over the last."""

    def __init__(self, drawing: Drawing, width: int, height: int, marks: Marks, *, ascii_only: bool) -> None:
        self.drawing, self.marks, self.ascii_only = drawing, marks, ascii_only
        self.rows = height - 2
        self.low, self.high, _ = scale_of(_heights(drawing), None)
        self.labels = _labels(self.low, self.high, self.rows)
        self.left = max(cell_len(label) for label in self.labels) + 1
        self.across = width - self.left
        self.field = [[(" ", "")] * self.across for _ in range(self.rows)]
        for lay in (self._band, self._levels, self._uprights, self._lines, self._points, self._names):
            lay()

    def _column(self, x: float) -> int:
        return cell_of(x, *self.drawing.ends, self.across)

    def _row(self, y: float) -> int:
        return row_of(y, self.low, self.high, self.rows)

    def _band(self) -> None:
        lower = heights_of([(x, low) for x, low, _ in self.drawing.band], self.across, self.drawing.ends)
        upper = heights_of([(x, high) for x, _, high in self.drawing.band], self.across, self.drawing.ends)
        for column, (low, high) in enumerate(zip(lower, upper, strict=True)):
            if low is not None and high is not None:
                for row in range(self._row(high), self._row(low) + 1):
                    self.field[row][column] = (self.marks.band, "band")

    def _levels(self) -> None:
        for y, _ in self.drawing.levels:
            row = self.field[self._row(y)]
            row[:] = [(self.marks.level, "level") if cell[1] in ("", "band") else cell for cell in row]

    def _uprights(self) -> None:
        for x, now in sorted(self.drawing.uprights, key=lambda one: one[1]):
            column = self._column(x)
            for row in self.field:
                row[column] = (self.marks.now if now else self.marks.upright, "now" if now else "upright")

    def _lines(self) -> None:
        span = (self.low, self.high)
        for way, seen in self.drawing.lines:
            for row, bits in enumerate(line_of(way, self.across, self.rows, self.drawing.ends, span, self.ascii_only)):
                for column, glyph in enumerate(bits):
                    if glyph != " " and (seen or column % _EVERY != _EVERY - 1):
                        mark = glyph if seen or not self.ascii_only else _DASH
                        self.field[row][column] = (mark, "seen" if seen else "line")

    def _points(self) -> None:
        for x, y, mark in self.drawing.points:
            self.field[self._row(y)][self._column(x)] = (mark[:1] or "?", "mark")

    def _names(self) -> None:
        """The name of each level on its line, where nothing else stands."""
        for y, name in self.drawing.levels:
            row, said = self.field[self._row(y)], fit(f" {name} ", cell_len(name) + 2)
            last = self.across - len(said) - 2
            for start in range(last, 1, -1):
                if len(said) == cell_len(said) and all(cell[1] == "level" for cell in row[start : start + len(said)]):
                    row[start : start + len(said)] = [(glyph, "level") for glyph in said]
                    break

    def runs(self) -> list[list[Run]]:
        """The lines from top to bottom, with the axes."""
        rows = []
        for label, cells in zip(self.labels, self.field, strict=True):
            rows.append([(fit(label, self.left - 1, "right") + self.marks.side, "axis"), *_grouped(cells)])
        return [*rows, self._axis(), [(self._below(), "axis")]]

    def _axis(self) -> list[Run]:
        cells = [(self.marks.flat, "axis")] * self.across
        for x, _ in self.drawing.ticks:
            cells[self._column(x)] = (self.marks.tick, "axis")
        for low, high in self.drawing.spans:
            first, last = self._column(low), self._column(high)
            cells[first : last + 1] = [(self.marks.span, "span")] * (last + 1 - first)
        return [(" " * (self.left - 1) + self.marks.corner, "axis"), *_grouped(cells)]

    def _below(self) -> str:
        """The labels under their ticks, each where there is room beside the last."""
        line = ""
        for x, label in self.drawing.ticks:
            start = self.left + self._column(x) - cell_len(label) // 2
            if start > cell_len(line) - (not line) and start + cell_len(label) <= self.left + self.across:
                line = line + " " * (start - cell_len(line)) + label
        return fit(line, self.left + self.across)


def _labels(low: float, high: float, rows: int) -> list[str]:
    """Round numbers beside the rows in which they lie, about one for every three rows."""
    rough = (high - low) / max(min(rows // 3, 5), 1)
    step = 10.0 ** floor(log10(rough))
    step *= next(one for one in (1.0, 2.0, 5.0, 10.0, 20.0) if one * step >= rough * 0.999)
    places = min(max(0, -floor(log10(step) + 1e-9)), 6)
    labels = [""] * rows
    for k in range(ceil(low / step - 1e-6), floor(high / step + 1e-6) + 1):
        label = f"{k * step:,.{places}f}"
        labels[row_of(k * step, low, high, rows)] = label if len(label) <= _MOST_LABEL else f"{k * step:.3g}"
    return labels


def _grouped(cells: Sequence[Run]) -> Iterator[Run]:
    for kind, group in groupby(cells, key=lambda cell: cell[1]):
        yield "".join(glyph for glyph, _ in group), kind


def _heights(drawing: Drawing) -> list[float]:
    """Every height that must be in the chart. Of lines and band only what lies between the ends."""
    low, high = drawing.ends
    found = [y for _, y, _ in drawing.points] + [y for y, _ in drawing.levels]
    found += [y for way, _ in drawing.lines for x, y in way if low <= x <= high]
    found += [y for x, *both in drawing.band for y in both if low <= x <= high]
    return found + ([0.0] if drawing.from_zero else [])
