"""What-if as plots: the year's cash today and then in one; salt, nitrate run and sodium as pairs of bars."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import accumulate

from textual.content import Content

from model.forecast.what_if import Comparison, Row
from model.units import System
from tui.widgets.bars import Bar, show_bars
from tui.widgets.chart import draw_chart
from tui.widgets.drawing import FINE, PLAIN, Drawing
from tui.widgets.sections import heading
from tui.widgets.what_if_words import figure_words, moves
from tui.words import MONTHS

PLOT_LINES = 10
_LABEL_EVERY = 3
_BARS = ("salt", "nitrate_run", "sodium")
"""The last words of the figures that are drawn as bars, in this order."""


def cash_plot(found: Comparison, width: int, *, ascii_only: bool) -> list[Content | str]:
    """The cash of the months added up, today solid and then dashed, with a legend; nothing where it is too small."""
    ways = [_added([month[place] for month in found.months]) for place in (1, 2)]  # type: ignore[misc]
    if len(found.months) < 2 or max(y for way in ways for _, y in way) <= 0.0:
        return []
    ticks = [(float(k), MONTHS[month[0].month - 1]) for k, month in enumerate(found.months) if k % _LABEL_EVERY == 0]
    drawing = Drawing(
        ends=(0.0, float(len(found.months))),
        lines=[(ways[0], True), (ways[1], False)],
        ticks=ticks,
        from_zero=True,
    )
    drawn = draw_chart(drawing, width, PLOT_LINES, ascii_only=ascii_only).coloured()
    if not drawn:
        return []
    marks = PLAIN if ascii_only else FINE
    legend = f"{marks.line} today   {marks.dashes} then"
    return [heading(f"Cash added up, {found.currency}"), *drawn, legend, ""]


def _added(months: list[float]) -> list[tuple[float, float]]:
    return [(float(place), cash) for place, cash in enumerate(accumulate(months, initial=0.0))]


def pair_bars(found: Comparison, width: int, system: System, *, ascii_only: bool) -> list[Content | str]:
    """A bar of today above one of then for each figure of `_BARS` that the change moves, each pair to its own scale."""
    drawn: list[Content | str] = []
    for row, today, then in _pairs(found):
        told = figure_words(row, found.currency, system)
        bars = [Bar("today", today, today, today, told[0]), Bar("then", then, then, then, told[1])]
        drawn += [heading(row.label), show_bars(bars, width, ascii_only=ascii_only), ""]
    return drawn


def _pairs(found: Comparison) -> Iterator[tuple[Row, float, float]]:
    """The rows to draw, with both values."""
    for last in _BARS:
        for row in found.rows:
            ours = row.id.rpartition(".")[2] == last and moves(row)
            if ours and isinstance(row.today, float) and isinstance(row.then, float):
                yield row, row.today, row.then
