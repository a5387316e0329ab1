"""What-if in words: the table of figures, the months, two plots of the same height."""

from __future__ import annotations

from datetime import date
from math import isfinite

from rich.cells import cell_len

from model.forecast.what_if import Comparison, Row
from model.units import System, money, show
from tui.widgets.amounts import number_words
from tui.widgets.cells import fit
from tui.widgets.plot import draw_plot
from tui.words import MONTHS

_LABEL, _CELL = 20, 11
_WIDER = 34
PLOT_LINES = 7


def table_rows(found: Comparison, width: int, system: System) -> list[tuple[str, bool]]:
    """A heading and a line a figure in `width` cells, each with whether the change moves it."""
    label = min(max(width - 3 * _CELL, _LABEL), _WIDER)
    heads = ("Today", "Then", "Differs")
    lines = [(fit("", label) + "".join(fit(head, _CELL, "right") for head in heads), False)]
    for row in found.rows:
        cells = figure_words(row, found.currency, system)
        lines.append((fit(row.label, label) + "".join(fit(cell, _CELL, "right") for cell in cells), moves(row)))
    return lines


def moves(row: Row) -> bool:
    """Whether a figure is another then, by more than the last digits of a sum."""
    difference = row.difference
    if difference is None:
        return row.today != row.then
    size = abs(row.today) if isinstance(row.today, float) else 1.0
    return abs(difference) > 1e-9 * max(size, 1.0)


def figure_words(row: Row, currency: str, system: System) -> tuple[str, str, str]:
    """Today, then, and the difference with its sign; "=" where it is the same, "?" where one is not known."""
    today, then = (_value(value, row.dimension, currency, system) for value in (row.today, row.then))
    if not moves(row):
        return today, then, "="
    if row.difference is None:
        return today, then, "?"
    sign = "+" if row.difference > 0.0 else ""
    if row.dimension == "day":
        return today, then, f"{sign}{row.difference:.0f} days"
    return today, then, sign + _value(row.difference, row.dimension, currency, system)


def _value(value: float | date | None, dimension: str, currency: str, system: System) -> str:
    if value is None:
        return "not known"
    if isinstance(value, date):
        return f"{value.day} {MONTHS[value.month - 1]} {value:%y}"
    if dimension == "money":
        return money(value, currency) if cell_len(money(value, currency)) < _CELL else f"{value:,.0f}"
    if dimension == "pH":
        return f"{value:.2f}"
    if not isfinite(value):
        return "not known"
    return show(value, dimension, system) if dimension not in ("", "days") else number_words(round(value, 1))


def month_rows(found: Comparison) -> list[str]:
    """The months as lines: today, then, difference."""
    heads = f"{found.currency} a month"
    rows = [fit(heads, _LABEL) + "".join(fit(head, _CELL, "right") for head in ("Today", "Then", "Differs"))]
    for day, today, then in found.months:
        cells = (f"{today:,.2f}", f"{then:,.2f}", f"{then - today:+,.2f}" if abs(then - today) >= 0.005 else "=")
        label = fit(f"{MONTHS[day.month - 1]} {day.year}", _LABEL)
        rows.append(label + "".join(fit(cell, _CELL, "right") for cell in cells))
    return rows


def plot_pair(found: Comparison, width: int, *, ascii_only: bool) -> list[str]:
    """The cash of the months added up, today at the left and then at the right, to one height; none where too small."""
    each = (width - 2) // 2
    sums = [_added([month[place] for month in found.months]) for place in (1, 2)]  # type: ignore[misc]
    most = max((y for points in sums for _, y in points), default=0.0)
    if len(found.months) < 2 or most <= 0.0:
        return []
    plots = [
        draw_plot(
            points,
            each,
            PLOT_LINES,
            (0.0, float(len(found.months))),
            level=most,
            names=(name, "", "12 months"),
            decimals=0,
            from_zero=True,
            ascii_only=ascii_only,
        ).lines
        for name, points in zip(("today", "then"), sums, strict=True)
    ]
    return [f"{left}  {right}" for left, right in zip(*plots, strict=True)]


def _added(months: list[float]) -> list[tuple[float, float]]:
    points = [(0.0, 0.0)]
    for place, cash in enumerate(months, start=1):
        points.append((float(place), points[-1][1] + cash))
    return points
