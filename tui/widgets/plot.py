"""A line chart in text: braille dots, or plain marks where the terminal lacks them. The numbers stand in a table."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Mapping, Sequence
from math import ceil, floor, isfinite, log10

import msgspec
from rich.cells import cell_len

from tui.widgets.cells import fit

Points = Sequence[tuple[float, float]]

BRAILLE = range(0x2801, 0x2900)
LEVEL, LEVEL_PLAIN = "╌", "-"
_DOTS = ((0x01, 0x02, 0x04, 0x40), (0x08, 0x10, 0x20, 0x80))
_LEAST_WIDTH, _LEAST_HEIGHT = 12, 4
_MOST_LABEL = 12


class Plot(msgspec.Struct, frozen=True, kw_only=True):
    """A drawn chart: its lines, the cells left of the first column of the field, and how many columns that has.

    `body`: how many of the lines are the field, from the first one on. `low`, `high`: x at the two ends.
    """

    lines: tuple[str, ...]
    left: int
    across: int
    body: int
    low: float
    high: float

    def column(self, x: float) -> int:
        """The cell of a line in which `x` lies."""
        return self.left + cell_of(x, self.low, self.high, self.across)

    def x_at(self, cell: int) -> float:
        """The x of a cell of a line, held between the two ends; the middle where one cell stands for all."""
        if self.across < 2:
            return (self.low + self.high) / 2.0
        share = (cell - self.left) / (self.across - 1)
        return self.low + min(max(share, 0.0), 1.0) * (self.high - self.low)

    def marked(self, marks: Mapping[float, str]) -> list[str]:
        """The lines with an upright of the given mark at each x; the later ones lie above."""
        lines = list(self.lines)
        for x, mark in marks.items():
            at = self.column(x)
            for row in range(self.body):
                lines[row] = lines[row][:at] + mark + lines[row][at + 1 :]
        return lines


def draw_plot(
    points: Points,
    width: int,
    height: int,
    ends: tuple[float, float],
    *,
    level: float | None = None,
    names: tuple[str, str, str] = ("", "", ""),
    decimals: int | None = None,
    from_zero: bool = False,
    ascii_only: bool = False,
) -> Plot:
    """The chart, exactly `width` cells wide and `height` lines high; without lines where that is too small.

    `points` rise in x; between them the line is straight, two at one x are a step. `ends`: x at the left and right end.
    `level`: a y to mark all across; `from_zero`: y begins at 0. `names`: the words below at the left end, in the middle
    and at the right end.
    """
    points = [(x, y) for x, y in points if isfinite(x) and isfinite(y)]
    body = height - 2
    if width < _LEAST_WIDTH or height < _LEAST_HEIGHT or not ends[0] < ends[1]:
        return Plot(lines=(), left=0, across=1, body=0, low=0.0, high=1.0)
    heights = [y for _, y in points] + ([] if level is None else [level]) + ([0.0] if from_zero else [])
    low, high, places = scale_of(heights, decimals)
    labels = labels_of(low, high, body, level, places)
    left = min(max(cell_len(label) for label in labels), _MOST_LABEL) + 1
    across = width - left
    field = line_of(points, across, body, ends, (low, high), ascii_only)
    if level is not None and points:
        _lay_level(field, row_of(level, low, high, body), LEVEL_PLAIN if ascii_only else LEVEL)
    side, corner, flat = ("|", "+", "-") if ascii_only else ("│", "└", "─")
    rows = [fit(label, left - 1, "right") + side + "".join(row) for label, row in zip(labels, field, strict=True)]
    rows.append(" " * (left - 1) + corner + flat * across)
    rows.append(" " * left + _below(names, across))
    lines = tuple(fit(row, width) for row in rows)
    return Plot(lines=lines, left=left, across=across, body=body, low=ends[0], high=ends[1])


def _below(names: tuple[str, str, str], across: int) -> str:
    start, middle, end = names
    room = across - cell_len(start) - cell_len(end)
    return start + fit(middle, room, "center") + end if room > 0 else fit(middle, across, "center")


def scale_of(values: Sequence[float], decimals: int | None) -> tuple[float, float, int]:
    """Round bounds around the values, and the decimals to write them with."""
    low, high = (min(values), max(values)) if values else (0.0, 1.0)
    if high - low < 1e-9 * max(abs(high), 1.0):
        spread = max(abs(high) * 0.1, 0.5)
        low, high = low - (spread if low >= spread or low < 0.0 else low), high + spread
    size = high - low
    step = 10.0 ** floor(log10(size))
    step *= 0.1 if size / step < 2.0 else 0.2 if size / step < 5.0 else 0.5
    low, high = floor(low / step + 1e-9) * step, ceil(high / step - 1e-9) * step
    return low, high, min(max(0, -floor(log10(step))), 6) if decimals is None else decimals


def row_of(y: float, low: float, high: float, rows: int) -> int:
    """The row of a height, 0 at the top."""
    return rows - 1 - cell_of(y, low, high, rows)


def cell_of(value: float, low: float, high: float, cells: int) -> int:
    """The cell in which a value lies, held between the two ends."""
    share = (value - low) / (high - low)
    return round(min(max(share, 0.0), 1.0) * (cells - 1))


def labels_of(low: float, high: float, rows: int, level: float | None, places: int) -> list[str]:
    """A number at the top, at the bottom and at the level; one between them where there is room."""
    labels = [""] * rows
    middle = rows // 2
    if rows >= 5:
        labels[middle] = f"{high - (high - low) * middle / (rows - 1):,.{places}f}"
    labels[0], labels[-1] = f"{high:,.{places}f}", f"{low:,.{places}f}"
    if level is not None:
        at = row_of(level, low, high, rows)
        labels[at] = f"{level:,.{places}f}"
        if rows >= 5 and 0 < abs(middle - at) < 2 and middle not in (0, rows - 1):
            labels[middle] = ""
    return labels


def line_of(
    points: Points, across: int, rows: int, ends: tuple[float, float], span: tuple[float, float], ascii_only: bool
) -> list[list[str]]:
    """The line as glyphs, row by row; a space where it does not pass."""
    if not points:
        return [[" "] * across for _ in range(rows)]
    fine_x, fine_y = (1, 1) if ascii_only else (2, 4)
    found = heights_of(points, across * fine_x, ends)
    dots = [None if y is None else row_of(y, *span, rows * fine_y) for y in found]
    bits = [[0] * across for _ in range(rows)]
    last: int | None = None
    for column, dot in enumerate(dots):
        for y in _run(last, dot):
            bits[y // fine_y][column // fine_x] |= 1 if ascii_only else _DOTS[column % 2][y % 4]
        last = dot
    return [[_mark(bit, ascii_only) for bit in row] for row in bits]


def _run(last: int | None, dot: int | None) -> range:
    """The dots of one column: from beside the last column's to its own, so that a steep line has no holes."""
    if dot is None:
        return range(0)
    if last is None or abs(last - dot) <= 1:
        return range(dot, dot + 1)
    return range(last + 1, dot + 1) if last < dot else range(dot, last)


def _mark(bit: int, ascii_only: bool) -> str:
    if not bit:
        return " "
    return "*" if ascii_only else chr(0x2800 + bit)


def heights_of(points: Points, columns: int, ends: tuple[float, float]) -> list[float | None]:
    """The y of the line at the middle of each fine column, None where the points do not reach."""
    xs = [x for x, _ in points]
    step = (ends[1] - ends[0]) / max(columns - 1, 1)
    return [_height(points, xs, ends[0] + place * step, step) for place in range(columns)]


def _height(points: Points, xs: list[float], x: float, step: float) -> float | None:
    if not xs or not xs[0] - 0.5 * step <= x <= xs[-1] + 0.5 * step:
        return None
    at = bisect_right(xs, x)
    if at == 0 or at == len(xs):
        return points[min(at, len(xs) - 1)][1]
    (x0, y0), (x1, y1) = points[at - 1], points[at]
    return y0 + (y1 - y0) * (x - x0) / (x1 - x0)


def _lay_level(field: list[list[str]], row: int, mark: str) -> None:
    """The level behind the line."""
    field[row] = [mark if cell == " " else cell for cell in field[row]]
