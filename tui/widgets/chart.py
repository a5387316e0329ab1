"""A chart drawn in text, layer over layer. plotille draws the lines, in dots."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise, product
from math import ceil, floor, log10

from plotille import Canvas
from rich.cells import cell_len

from tui.widgets.cells import fit
from tui.widgets.drawing import (
    DOTS_ACROSS,
    DOTS_DOWN,
    FINE,
    PLAIN,
    Chart,
    Drawing,
    Marks,
    Pair,
    Run,
    cell_of,
    drawable,
    grouped,
    held,
)

LEAST_WIDTH, LEAST_HEIGHT = 24, 5
_FEW = 6
"""Up to so many rows have room for two numbers beside them only."""
_MOST_LABEL = 12
_BLANK = "\u2800"
"""A cell without a dot."""
_EVERY = 3
"""A line that is not of readings is dashed: each third cell shows what lies behind it."""


def draw_chart(drawing: Drawing, width: int, height: int, *, ascii_only: bool = False) -> Chart:
    """The chart, exactly `width` cells wide and `height` lines high; without lines where that is too small."""
    if width < LEAST_WIDTH or height < LEAST_HEIGHT or not drawable(drawing.ends):
        return Chart()
    return _Sheet(held(drawing), width, height, PLAIN if ascii_only else FINE).chart()


class _Sheet:
    """The cells while they are being drawn, each layer over the last."""

    def __init__(self, drawing: Drawing, width: int, height: int, marks: Marks) -> None:
        self.drawing, self.marks = drawing, marks
        self.rows = height - 2
        self.low, self.high = _bounds(_heights(drawing))
        self.labels = _labels(self.low, self.high, 3 if self.rows > _FEW else 2)
        self.left = max(cell_len(label) for label in self.labels.values()) + 1
        self.across = width - self.left
        self.field = [[(" ", "")] * self.across for _ in range(self.rows)]
        for lay in (self._band, self._levels, self._uprights, self._lines, self._points, self._names):
            lay()

    def _canvas(self) -> Canvas:
        """An empty canvas in the units of the drawing, both ends in its outermost dots."""
        first, last = self.drawing.ends
        x_dots, y_dots = self.across * DOTS_ACROSS, self.rows * DOTS_DOWN
        right = first + (last - first) * x_dots / (x_dots - 1)
        top = self.low + (self.high - self.low) * y_dots / (y_dots - 1)
        return Canvas(self.across, self.rows, first, self.low, right, top)

    def _column(self, x: float) -> int:
        return cell_of(x, self.drawing.ends, self.across, DOTS_ACROSS)

    def _row(self, y: float) -> int:
        """The row of a height, 0 at the top."""
        return self.rows - 1 - cell_of(y, (self.low, self.high), self.rows, DOTS_DOWN)

    def _dotted(self, *ways: Sequence[Pair]) -> list[str]:
        """Lines drawn in dots on an empty sheet, row by row; no rows where there is no line."""
        if not any(ways):
            return []
        canvas = self._canvas()
        for way in ways:
            for one, other in pairwise(way if len(way) > 1 else [*way, *way]):
                canvas.line(*one, *other)
        return canvas.plot("\n").split("\n")

    def _band(self) -> None:
        band = self.drawing.band
        edges = self._dotted([(x, low) for x, low, _ in band], [(x, high) for x, _, high in band])
        for column, cells in enumerate(zip(*edges, strict=True)):
            drawn = [row for row, glyph in enumerate(cells) if glyph != _BLANK]
            for row in range(drawn[0], drawn[-1] + 1) if drawn else ():
                self.field[row][column] = (self.marks.band, "band")

    def _levels(self) -> None:
        for y, _ in self.drawing.levels:
            self.field[self._row(y)] = [(self.marks.level, "level")] * self.across

    def _uprights(self) -> None:
        for x, now in sorted(self.drawing.uprights, key=lambda one: one[1]):
            for row in self.field:
                row[self._column(x)] = (self.marks.now, "now") if now else (self.marks.upright, "upright")

    def _lines(self) -> None:
        for seen, kind, mark in ((True, "seen", self.marks.seen), (False, "line", self.marks.reckoned)):
            drawn = self._dotted(*(way for way, of_readings in self.drawing.lines if of_readings is seen))
            for cells, row in zip(self.field, drawn, strict=False):
                for column, glyph in enumerate(row):
                    if glyph != _BLANK and (seen or column % _EVERY != _EVERY - 1):
                        cells[column] = (mark or glyph, kind)

    def _points(self) -> None:
        for x, y, mark in self.drawing.points:
            self.field[self._row(y)][self._column(x)] = (mark[:1] or "?", "mark")

    def _names(self) -> None:
        """The name of each level on its line: where nothing else stands, or at least no line and no mark."""
        for y, name in self.drawing.levels:
            row, said = self.field[self._row(y)], f" {name} "
            starts = range(self.across - len(said) - 2, 1, -1) if len(said) == cell_len(said) else ()
            for free, start in product((("level",), ("level", "upright", "now")), starts):
                if all(cell[1] in free for cell in row[start : start + len(said)]):
                    row[start : start + len(said)] = [(glyph, "level") for glyph in said]
                    break

    def chart(self) -> Chart:
        """The lines from top to bottom, with the axes."""
        beside = {self._row(y): label for y, label in self.labels.items()}
        rows = [
            [(fit(beside.get(row, ""), self.left - 1, "right") + self.marks.side, "axis"), *grouped(cells)]
            for row, cells in enumerate(self.field)
        ]
        rows += [self._axis(), [(self._below(), "axis")]]
        return Chart(rows=rows, left=self.left, across=self.across, body=self.rows, ends=self.drawing.ends)

    def _axis(self) -> list[Run]:
        cells = [(self.marks.flat, "axis")] * self.across
        for x, _ in self.drawing.ticks:
            cells[self._column(x)] = (self.marks.tick, "axis")
        for low, high in self.drawing.spans:
            first, last = self._column(low), self._column(high)
            cells[first : last + 1] = [(self.marks.span, "span")] * (last + 1 - first)
        return [(" " * (self.left - 1) + self.marks.corner, "axis"), *grouped(cells)]

    def _below(self) -> str:
        """The labels under their ticks, each where there is room beside the last."""
        line, width = "", self.left + self.across
        for x, label in self.drawing.ticks:
            middle = self.left + self._column(x) - cell_len(label) // 2
            start = min(middle, width - cell_len(label))
            if start > cell_len(line) - (not line):
                line = line + " " * (start - cell_len(line)) + label
        return fit(line, width)


def _heights(drawing: Drawing) -> list[float]:
    """Every height that must be in the chart."""
    found = [y for _, y, _ in drawing.points] + [y for y, _ in drawing.levels]
    found += [y for way, _ in drawing.lines for _, y in way]
    found += [y for _, *both in drawing.band for y in both]
    return found + ([0.0] if drawing.from_zero else [])


def _bounds(values: Sequence[float]) -> Pair:
    """Round bounds around the values."""
    low, high = (min(values), max(values)) if values else (0.0, 1.0)
    if high - low < 1e-9 * max(abs(high), 1.0):
        spread = max(abs(high) * 0.1, 0.5)
        low, high = low - (spread if low >= spread or low < 0.0 else low), high + spread
    size = high - low
    step = 10.0 ** floor(log10(size))
    step *= 0.1 if size / step < 2.0 else 0.2 if size / step < 5.0 else 0.5
    return floor(low / step + 1e-9) * step, ceil(high / step - 1e-9) * step


def _labels(low: float, high: float, least: int) -> dict[float, str]:
    """Round heights with their numbers, at least so many and as few as can be."""
    size = 10.0 ** ceil(log10(high - low))
    for step in (size * one for one in (1.0, 0.5, 0.2, 0.1, 0.05)):
        first, last = ceil(low / step - 1e-6), floor(high / step + 1e-6)
        if last - first + 1 >= least:
            break
    places = min(max(0, -floor(log10(step) + 1e-9)), 6)
    heights = [k * step for k in range(first, last + 1)]
    return {y: label if len(label := f"{y:,.{places}f}") <= _MOST_LABEL else f"{y:.3g}" for y in heights}
