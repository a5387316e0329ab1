"""A trend as a chart in the owner's units, with its legend and its table."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date

from rich.cells import cell_len
from textual.content import Content

from model.clock import add_months
from model.forecast.trends.shape import TODAY, Point, Trend
from model.units import System, display_unit, from_si, show
from tui.widgets.cells import fit
from tui.widgets.chart import draw_chart
from tui.widgets.drawing import FINE, PLAIN, Drawing, Marks
from tui.widgets.sections import lines
from tui.words import MONTHS

_LABEL = 6
_GAP = "   "


def chart_of(trend: Trend, system: System, width: int, height: int, *, ascii_only: bool) -> Content:
    """The chart with its colours; nothing where there is nothing to draw."""
    drawing = drawing_of(trend, system, width - 14, PLAIN if ascii_only else FINE)
    return lines(draw_chart(drawing, width, height, ascii_only=ascii_only).coloured())


def drawing_of(trend: Trend, system: System, room: int, marks: Marks) -> Drawing:
    """The trend in the owner's units. `room`: cells for the labels below."""
    unit = display_unit(trend.dimension, system)

    def shown(y: float) -> float:
        return from_si(y, unit, trend.dimension)

    return Drawing(
        ends=(trend.start, trend.end),
        points=[(one.x, shown(one.y), glyph(one, marks)) for one in trend.points],
        lines=[([(x, shown(y)) for x, y in way.points], way.seen) for way in trend.paths],
        band=[(x, shown(low), shown(high)) for x, low, high in trend.band.edges] if trend.band else [],
        levels=[(shown(one.y), f"{one.name} {show(one.y, trend.dimension, system)}") for one in trend.levels],
        uprights=[(one.x, one.name == TODAY) for one in trend.uprights],
        spans=[(one.low, one.high) for one in trend.spans],
        ticks=ticks_of(trend, room),
        from_zero=trend.from_zero,
    )


def glyph(one: Point, marks: Marks) -> str:
    """The mark of a reading: "<" stays one; hollow for an earlier year."""
    if one.qualifier == "<":
        return "<"
    return marks.points[(2 * one.series + one.old) % len(marks.points)]


def ticks_of(trend: Trend, room: int) -> list[tuple[float, str]]:
    """The first days of months, as many as have room for their names; January is named by its year."""
    if trend.across == "year":
        first, last = date(2025, 1, 1), date(2025, 12, 31)
        shift = first.toordinal() - 1
    else:
        first, last, shift = date.fromordinal(int(trend.start)), date.fromordinal(int(trend.end)), 0
    months = (last.year - first.year) * 12 + last.month - first.month + 1
    step = next((one for one in (1, 2, 3, 6, 12, 24, 60) if months / one * _LABEL <= room), 120)
    starts = [add_months(first.replace(day=1), k) for k in range(months)]
    return [
        (float(day.toordinal() - shift), str(day.year) if day.month == 1 and not shift else MONTHS[day.month - 1])
        for day in starts
        if (day.year * 12 + day.month - 1) % step == 0 and first <= day <= last
    ]


def title_of_trend(trend: Trend, system: System) -> str:
    """The title with the unit of the chart: "Pressure drop at full flow, Coarse filter [psi]"."""
    unit = display_unit(trend.dimension, system)
    return f"{trend.title} [{unit}]" if unit else trend.title


def legend_of(trend: Trend, width: int, *, ascii_only: bool) -> list[str]:
    """What the shapes mean, in lines of at most `width` cells."""
    marks = PLAIN if ascii_only else FINE
    rows = [""]
    for piece in dict.fromkeys(_pieces(trend, marks)):
        joined = f"{rows[-1]}{_GAP}{piece}" if rows[-1] else piece
        if cell_len(joined) > width and rows[-1]:
            rows.append(piece)
        else:
            rows[-1] = joined
    return [fit(row, width).rstrip() for row in rows if row]


def _pieces(trend: Trend, marks: Marks) -> list[str]:
    told = []
    for place, name in enumerate(trend.series):
        own = {one.old for one in trend.points if one.series == place and one.qualifier != "<"}
        told += [f"{marks.points[2 * place + old]} {name}{', years before' if old else ''}" for old in sorted(own)]
    told += ["< less than"] if any(one.qualifier == "<" for one in trend.points) else []
    told += [f"{marks.line} {trend.seen}"] if any(way.seen for way in trend.paths) else []
    told += [f"{marks.dashes} {trend.reckoned}"] if any(not way.seen for way in trend.paths) else []
    told += [f"{marks.band * 2} {trend.band.name}"] if trend.band else []
    told += [
        f"{marks.now if one.name == TODAY else marks.upright} {one.name}"
        for one in trend.uprights
        if trend.start <= one.x <= trend.end
    ]
    return told + [f"{marks.span * 2} {one.name}" for one in trend.spans]


def table_of(trend: Trend, width: int) -> list[str]:
    """The same numbers in lines of `width` cells: when, what, how much."""
    rows = [(one.when, one.what, one.value) for one in trend.rows]
    first, second = (max((cell_len(row[place]) for row in rows), default=0) for place in (0, 1))
    return [fit(f"{fit(when, first)}  {fit(what, second)}  {value}", width).rstrip() for when, what, value in rows]


def names_line(
    names: Sequence[str], chosen: int, width: int, *, bare: bool
) -> tuple[Content, list[tuple[int, int, int]]]:
    """The plots by name, the chosen one marked (`bare`: by brackets), and each one's line, first and last cell."""
    parts: list[Content | tuple[str, str] | str] = []
    places, row, column = [], 0, 0
    for place, name in enumerate(names):
        said = f"[{name}]" if bare and place == chosen else f"\u00a0{name}\u00a0"
        if column and column + cell_len(said) > width:
            parts.append("\n")
            row, column = row + 1, 0
        parts.append((said, "bold $background on $primary" if place == chosen else "$foreground"))
        places.append((row, column, column + cell_len(said) - 1))
        column += cell_len(said)
    return Content.assemble(*parts), places
