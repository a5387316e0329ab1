"""What-if in words: the table of figures and the months."""

from __future__ import annotations

from datetime import date
from itertools import accumulate
from math import isfinite

from rich.cells import cell_len

from model.forecast.what_if import Comparison, Row
from model.units import System, money, show
from tui.widgets.amounts import number_words
from tui.widgets.cells import fit
from tui.words import MONTHS

_LABEL, _CELL, _MONTH = 20, 11, 12
_WIDER = 34


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


def month_rows(found: Comparison, width: int) -> list[str]:
    """The months as lines: today, then, difference; and both added up, as the plot has them, where there is room."""
    cells: list[tuple[str, ...]] = [("Today", "Then", "Differs", "Today, sum", "Then, sum")]
    sums = accumulate(((today, then) for _, today, then in found.months), lambda a, b: (a[0] + b[0], a[1] + b[1]))
    for (_, today, then), both in zip(found.months, sums, strict=True):
        differs = f"{then - today:+,.2f}" if abs(then - today) >= 0.005 else "="
        cells.append((f"{today:,.2f}", f"{then:,.2f}", differs, *(f"{one:,.2f}" for one in both)))
    labels = [f"{found.currency} a month", *(f"{MONTHS[day.month - 1]} {day.year}" for day, *_ in found.months)]
    shown = 5 if width >= _MONTH + 5 * _CELL else 3
    return [
        fit(label, _MONTH) + "".join(fit(cell, _CELL, "right") for cell in row[:shown])
        for label, row in zip(labels, cells, strict=True)
    ]
