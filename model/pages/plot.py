"""Plots as inline SVG, readable in black and white: kinds are told apart by shape and fill, not by tone alone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from math import floor, log10

import msgspec

from model.forecast.words import MONTHS
from model.pages.html_page import escape
from model.pages.page import Picture

_WIDE, _HIGH, _LEFT, _TOP, _BOTTOM, _RIGHT = 760.0, 210.0, 62.0, 24.0, 24.0, 8.0
_TICKS = 4


class Series(msgspec.Struct, frozen=True, kw_only=True):
    """Values of one kind: x is a share of the year, 0-1. `form`: bars "full" or "open", marks "disc", "ring" or
    "square", or a
    "line" that joins its points; `ends` of a bar, also 0-1, are its x and the next in `width`."""

    name: str
    form: str
    points: tuple[tuple[float, float], ...]
    width: float = 0.0


def share_of_year(day: date) -> float:
    """Where a day lies in its year, 0-1."""
    start = date(day.year, 1, 1)
    return (day - start).days / ((date(day.year, 12, 31) - start).days + 1)


def year_plot(title: str, unit: str, series: Sequence[Series], level: tuple[float, str] | None = None) -> Picture:
    """A plot of one year, from nought up. `level`: a value to compare with, dashed, and its name."""
    highest = max([y for one in series for _, y in one.points] + ([level[0]] if level else []), default=0.0)
    step = _step(highest)
    top = step * max(-(-highest // step), 1.0)
    label = f"{title} [{unit}]"
    parts = [_text(_LEFT, 12, label, bold=True), *_legend(series), *_frame(step, top)]
    for one in series:
        parts += _drawn(one, top)
    if level:
        y = _y(level[0], top)
        parts.append(f'<path d="M{_LEFT} {y:.1f}H{_WIDE - _RIGHT}" stroke="#000" stroke-dasharray="7 4"/>')
        parts.append(_text(_WIDE - _RIGHT - 4, y - 4, level[1], anchor="end"))
    size = f'viewBox="0 0 {_WIDE:.0f} {_HIGH:.0f}" role="img" aria-label="{escape(label)}"'
    return Picture(f"<svg {size}>{''.join(parts)}</svg>", (label,))


def _step(highest: float) -> float:
    """A round step of which some four reach the highest value."""
    if highest <= 0.0:
        return 1.0
    rough = highest / _TICKS
    power = 10.0 ** floor(log10(rough))
    return next((factor * power for factor in (1.0, 2.0, 5.0) if factor * power >= rough), 10.0 * power)


def _x(share: float) -> float:
    return _LEFT + share * (_WIDE - _LEFT - _RIGHT)


def _y(value: float, top: float) -> float:
    return _HIGH - _BOTTOM - value / top * (_HIGH - _TOP - _BOTTOM)


def _frame(step: float, top: float) -> Iterator[str]:
    for n in range(round(top / step) + 1):
        y = _y(n * step, top)
        yield f'<path d="M{_LEFT} {y:.1f}H{_WIDE - _RIGHT}" stroke="{"#000" if n == 0 else "#bbb"}"/>'
        yield _text(_LEFT - 6, y + 4, f"{n * step:,.6g}", anchor="end")
    for month, name in enumerate(MONTHS):
        yield f'<path d="M{_x(month / 12):.1f} {_HIGH - _BOTTOM}v5" stroke="#000"/>'
        yield _text(_x((month + 0.5) / 12), _HIGH - 8, name, anchor="middle")


def _legend(series: Sequence[Series]) -> Iterator[str]:
    x = _WIDE - _RIGHT
    for one in reversed(series):
        x -= 7.0 * len(one.name) + 24.0
        yield _mark(one.form, x + 6, 8)
        yield _text(x + 15, 12, one.name)


def _drawn(one: Series, top: float) -> Iterator[str]:
    if one.form in ("full", "open"):
        yield from (_bar(one, x, y, top) for x, y in one.points)
    elif one.form == "line" and one.points:
        way = "L".join(f"{_x(x):.1f} {_y(y, top):.1f}" for x, y in one.points)
        yield f'<path d="M{way}" fill="none" stroke="#000" stroke-width="1.8"/>'
    else:
        yield from (_mark(one.form, _x(x), _y(y, top)) for x, y in one.points)


def _bar(one: Series, x: float, y: float, top: float) -> str:
    width, high = one.width * (_WIDE - _LEFT - _RIGHT), _HIGH - _BOTTOM - _y(y, top)
    fill = "#555" if one.form == "full" else "#fff"
    place = f'x="{_x(x):.1f}" y="{_y(y, top):.1f}" width="{width:.1f}" height="{max(high, 0.0):.1f}"'
    return f'<rect {place} fill="{fill}" stroke="#000"/>'


def _mark(form: str, x: float, y: float) -> str:
    if form == "line":
        return f'<path d="M{x - 7:.1f} {y:.1f}h14" stroke="#000" stroke-width="1.8"/>'
    if form in ("full", "open", "square"):
        return f'<rect x="{x - 5:.1f}" y="{y - 5:.1f}" width="10" height="10" fill="{_fill(form)}" stroke="#000"/>'
    return f'<circle cx="{x:.1f}" cy="{y:.1f}" r="4" fill="{_fill(form)}" stroke="#000" stroke-width="1.4"/>'


def _fill(form: str) -> str:
    return {"full": "#555", "disc": "#000"}.get(form, "#fff")


def _text(x: float, y: float, text: str, *, anchor: str = "start", bold: bool = False) -> str:
    weight = ' font-weight="bold"' if bold else ""
    return f'<text x="{x:.1f}" y="{y:.1f}" font-size="11" text-anchor="{anchor}"{weight}>{escape(text)}</text>'
