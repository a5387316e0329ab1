"""The train drawn: boxes in the order the water meets them, hose and RO units hanging from where they branch off."""

from __future__ import annotations

from textwrap import wrap
from typing import NamedTuple

from model.equipment.registry import kind_of, title_of
from model.forecast.situation import Situation
from model.pages.html_page import escape
from model.pages.page import Picture, one_line
from model.records.points import main_train

_WIDE, _ACROSS, _GAP, _TALL = 760, 5, 26, 50
_LETTERS, _LINES = 18, 2
_MOST_BRANCHES = 3
_HANGS, _BETWEEN = 24, 12
"""What a branch takes below its box, and the room between two rows."""


class Box(NamedTuple):
    """One stage: its name, where its handle stands ("" without one), and what branches off after it."""

    title: str
    state: str = ""
    branches: tuple[str, ...] = ()


def boxes_of(now: Situation) -> tuple[Box, ...]:
    """The well, the main train and the taps."""
    wells = [one for one in now.house.stages if kind_of(one) == "well"]
    branches = [title_of(one) for one in now.house.stages if kind_of(one) == "reverse_osmosis"]
    found = [Box(title_of(one), _state(now, one.id)) for one in (*wells, *main_train(now.house))]
    found.append(Box("Taps of the house", branches=tuple(branches)))
    if now.house.hose:
        before = next((n for n, one in enumerate(found) if one.title == _tank(now)), 0)
        found[before] = found[before]._replace(branches=("Hose: untreated",))
    return tuple(found)


def _tank(now: Situation) -> str:
    return next((title_of(one) for one in now.house.stages if kind_of(one) == "pressure_tank"), "")


def _state(now: Situation, stage: str) -> str:
    at = next((one for one in now.positions if one.handle.stage == stage), None)
    if at is None:
        return ""
    return f"NOW ON {at.position.upper()}" if at.away else "handle: in service"


def train_picture(now: Situation) -> Picture:
    """The train as a drawing, and in lines."""
    boxes = boxes_of(now)
    return Picture(_svg(boxes), _plain(boxes))


def _plain(boxes: tuple[Box, ...]) -> tuple[str, ...]:
    lines: list[str] = []
    for place, box in enumerate(boxes):
        lines += ["   v"] if place else []
        lines.append(f"[{one_line(box.title)}]{f'  {box.state}' if box.state else ''}")
        lines += [f"   +--> [{one_line(branch)}]" for branch in box.branches]
    return tuple(lines)


def _svg(boxes: tuple[Box, ...]) -> str:
    across = min(_ACROSS, max(len(boxes), 3))
    width = (_WIDE - _GAP * (across - 1)) / across
    parts: list[str] = []
    y = 2.0
    for start in range(0, len(boxes), across):
        row = boxes[start : start + across]
        for place, box in enumerate(row):
            x = place * (width + _GAP)
            parts.append(_box(box, x, y, width))
            if start + place + 1 < len(boxes):
                parts.append(_arrow(x + width, y + _TALL / 2, last=place + 1 == across))
        y += _TALL + _BETWEEN + _HANGS * max(min(len(box.branches), _MOST_BRANCHES) for box in row)
    size = f'viewBox="-2 0 {_WIDE + 24} {y:.0f}"'
    return f'<svg {size} role="img" aria-label="The train, in order">{"".join(parts)}</svg>'


def _box(box: Box, x: float, y: float, width: float) -> str:
    moved = box.state.startswith("NOW")
    weight = 3 if moved else 1.3
    parts = [_rect(x, y, width, _TALL, weight)]
    lines = _cut(box.title, _LETTERS, _LINES)
    parts += [_words(x + 6, y + 14 + 13 * n, line, bold=True) for n, line in enumerate(lines)]
    if box.state:
        parts.append(_words(x + 6, y + _TALL - 6, box.state, bold=moved, size=10.5))
    for n, branch in enumerate(box.branches[:_MOST_BRANCHES]):
        top = y + _TALL + 5 + _HANGS * n
        parts.append(f'<path d="M{x + 12:.0f} {y + _TALL:.0f}V{top + 10:.0f}H{x + 22:.0f}" fill="none" stroke="#000"/>')
        parts.append(_rect(x + 22, top, width - 22, 20, 1.0, dashed=True))
        parts.append(_words(x + 28, top + 14, _cut(branch, 20, 1)[0]))
    return "".join(parts)


def _cut(text: str, letters: int, lines: int) -> list[str]:
    return wrap(one_line(text), letters, max_lines=lines, placeholder="…") or ["?"]


def _rect(x: float, y: float, width: float, high: float, weight: float, *, dashed: bool = False) -> str:
    dash = ' stroke-dasharray="4 3"' if dashed else ""
    size = f'x="{x:.1f}" y="{y:.1f}" width="{width:.1f}" height="{high:.1f}"'
    return f'<rect {size} rx="4" fill="#fff" stroke="#000" stroke-width="{weight}"{dash}/>'


def _words(x: float, y: float, text: str, *, bold: bool = False, size: float = 11.5) -> str:
    weight = ' font-weight="bold"' if bold else ""
    return f'<text x="{x:.1f}" y="{y:.1f}" font-size="{size}"{weight}>{escape(text)}</text>'


def _arrow(x: float, y: float, *, last: bool) -> str:
    """To the next box; at the end of a row a short one that says that it goes on below."""
    length = 14 if last else _GAP - 8
    end = x + length
    head = f"M{end:.1f} {y - 5:.1f}L{end + 7:.1f} {y:.1f}L{end:.1f} {y + 5:.1f}Z"
    return f'<path d="M{x:.1f} {y:.1f}H{end:.1f}" stroke="#000" stroke-width="1.5"/><path d="{head}"/>'
