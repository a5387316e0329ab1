"""The train as a picture: boxes from the well to the tap, branches to the hose and the RO tap."""

from __future__ import annotations

import re
from collections.abc import Sequence

import msgspec
from rich.cells import cell_len
from textual.content import Content

from tui.widgets.cells import fit, tidy, wrap


class Box(msgspec.Struct, frozen=True):
    """One stage and the water that leaves it: a number for each row of the picture, and what branches off here."""

    title: str
    numbers: tuple[str, ...] = ()
    branches: tuple[Box, ...] = ()


class Glyphs(msgspec.Struct, frozen=True):
    """The marks a picture is drawn with: corners and lines, then arrows."""

    top: str = "┌─┐"
    bottom: str = "└─┘"
    side: str = "│"
    divider: str = "├─┤"
    leaves: str = "┬"
    right: str = "►"
    down: str = "▼"
    branch: str = "└►"


LINES = Glyphs()
ASCII = Glyphs(top="+-+", bottom="+-+", side="|", divider="+-+", leaves="+", right=">", down="v", branch="`>")

_LEAST_BOX = 10
_MOST_BOX = 20
_WIDE_FROM = 100


def draw_train(
    boxes: Sequence[Box], names: Sequence[tuple[str, str]], width: int, *, ascii_only: bool = False
) -> list[str]:
    """The picture, at most `width` cells wide.

    `names` are the rows of numbers: what, and in which unit. Boxes lie side by side where `width` is 100 or more and
    they fit; otherwise one under the other with the numbers beside them.
    """
    if not boxes or width <= 0:
        return []
    marks = ASCII if ascii_only else LINES
    across = _box_width(boxes, names, width)
    lines = _side_by_side(boxes, names, across, marks) if across else _one_under_other(boxes, names, width, marks)
    cut = [fit(line, width).rstrip() for line in lines]
    return [line.replace("…", "~") for line in cut] if ascii_only else cut


# Side by side ------------------------------------------------------------------------------------------------


def _labels(names: Sequence[tuple[str, str]]) -> int:
    return max((cell_len(what) for what, _ in names), default=0)


def _units(names: Sequence[tuple[str, str]]) -> str:
    said = ", ".join(f"{what} in {unit}" for what, unit in names if unit)
    return f"Units: {said}." if said else ""


def _box_width(boxes: Sequence[Box], names: Sequence[tuple[str, str]], width: int) -> int:
    """Cells of one box, border included, or 0 where the boxes do not fit side by side."""
    room = (width - _labels(names)) // len(boxes) - 1
    longest = max((cell_len(number) for box in boxes for number in _numbers_of(box)), default=0)
    fits = width >= _WIDE_FROM and room >= max(_LEAST_BOX, longest + 3)
    return min(room, _MOST_BOX) if fits else 0


def _numbers_of(box: Box) -> list[str]:
    return [*box.numbers, *(number for branch in box.branches for number in branch.numbers)]


def _side_by_side(boxes: Sequence[Box], names: Sequence[tuple[str, str]], across: int, marks: Glyphs) -> list[str]:
    labels = _labels(names)
    rows = _row_of_boxes(list(boxes), names, labels, across, marks, linked=True)
    deepest = max(len(box.branches) for box in boxes)
    for level in range(deepest):
        branches = [box.branches[level] if level < len(box.branches) else None for box in boxes]
        rows += _row_of_boxes(branches, names, labels, across, marks, linked=False)
    return [*rows, _units(names)]


def _row_of_boxes(
    boxes: Sequence[Box | None],
    names: Sequence[tuple[str, str]],
    labels: int,
    across: int,
    marks: Glyphs,
    *,
    linked: bool,
) -> list[str]:
    """One row of boxes. `linked`: an arrow runs from each to the next; otherwise each hangs from the one above."""
    titles = [wrap(box.title, across - 2, 2) if box else [] for box in boxes]
    tall = max((len(title) for title in titles), default=1)
    edge = " " * labels + " "
    rows = [edge + " ".join(_edge(box, across, marks.top, "" if linked else marks.down) for box in boxes)]
    for line in range(tall):
        cells = [_title_cell(box, title, line, across, marks) for box, title in zip(boxes, titles, strict=True)]
        rows.append(edge + (marks.right if linked and line == 0 else " ").join(cells))
    for place, (what, _) in enumerate(names):
        numbers = [
            _cell(box, box.numbers[place] if box and place < len(box.numbers) else "", across, marks) for box in boxes
        ]
        rows.append(fit(what, labels) + " " + " ".join(numbers))
    leaves = [marks.leaves if box and box.branches and linked else "" for box in boxes]
    rows.append(
        edge + " ".join(_edge(box, across, marks.bottom, leave) for box, leave in zip(boxes, leaves, strict=True))
    )
    return rows


def _edge(box: Box | None, across: int, ends: str, middle: str) -> str:
    if box is None:
        return " " * across
    line = ends[0] + ends[1] * (across - 2) + ends[2]
    return line[: across // 2] + middle + line[across // 2 + len(middle) :]


def _cell(box: Box | None, text: str, across: int, marks: Glyphs) -> str:
    return f"{marks.side} {fit(text, across - 3)}{marks.side}" if box else " " * across


def _title_cell(box: Box | None, title: list[str], line: int, across: int, marks: Glyphs) -> str:
    """A line of the title, set close to the side where one of its lines needs the room."""
    text = title[line] if line < len(title) else ""
    close = any(cell_len(one) > across - 3 for one in title)
    return f"{marks.side}{fit(text, across - 2)}{marks.side}" if box and close else _cell(box, text, across, marks)


# One under the other -----------------------------------------------------------------------------------------


def _one_under_other(boxes: Sequence[Box], names: Sequence[tuple[str, str]], width: int, marks: Glyphs) -> list[str]:
    columns = _columns(boxes, names)
    numbers = sum(columns) + 2 * len(columns)
    inner = max(_LEAST_BOX, min(_longest(boxes), width - numbers - 4))
    lines = _heads(names, columns, inner + 4)
    lines.append(_across(marks.top, inner))
    for place, box in enumerate(boxes):
        lines.append(_line(tidy(box.title), box.numbers, columns, inner, marks))
        lines += [
            _line(f" {marks.branch} {tidy(one.title)}", one.numbers, columns, inner, marks) for one in box.branches
        ]
        last = place == len(boxes) - 1
        lines.append(_across(marks.bottom, inner) if last else _across(marks.divider, inner, marks.down))
    return lines


def _longest(boxes: Sequence[Box]) -> int:
    titles = [cell_len(tidy(box.title)) for box in boxes]
    return max([*titles, *(cell_len(tidy(one.title)) + 4 for box in boxes for one in box.branches)])


def _columns(boxes: Sequence[Box], names: Sequence[tuple[str, str]]) -> list[int]:
    """Cells of each column of numbers."""
    every = [*boxes, *(one for box in boxes for one in box.branches)]
    values = [
        [cell_len(one.numbers[place]) for one in every if place < len(one.numbers)] for place in range(len(names))
    ]
    return [max(cell_len(name[0]), cell_len(name[1]), *found, 0) for name, found in zip(names, values, strict=True)]


def _heads(names: Sequence[tuple[str, str]], columns: list[int], start: int) -> list[str]:
    rows = [[name[row] for name in names] for row in (0, 1)]
    return [" " * start + _numbers(row, columns) for row in rows if any(row)]


def _numbers(values: Sequence[str], columns: list[int]) -> str:
    return "".join("  " + fit(value, column) for value, column in zip(values, columns, strict=False))


def _line(title: str, numbers: Sequence[str], columns: list[int], inner: int, marks: Glyphs) -> str:
    return f"{marks.side} {fit(title, inner)} {marks.side}{_numbers(numbers, columns)}"


def _across(ends: str, inner: int, middle: str = "") -> str:
    line = ends[1] * (inner + 2)
    half = len(line) // 2
    if middle:
        line = line[:half] + middle + line[half + 1 :]
    return ends[0] + line + ends[2]


_FRAME = re.compile("[┌─┐└┘│├┤┬]+")


def show_train(lines: Sequence[str]) -> Content:
    """The picture for the screen: the frame in a quiet tone, the words and numbers plain."""
    return Content("\n").join(_quiet_frame(line) for line in lines)


def _quiet_frame(line: str) -> Content:
    content = Content(line)
    for run in _FRAME.finditer(line):
        content = content.stylize("$foreground-muted", *run.span())
    return content
