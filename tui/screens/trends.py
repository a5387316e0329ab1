"""Trends: what was read against time, with the forecast where there is one."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual import events, on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.message import Message
from textual.widgets import Static

from model.forecast.trends.shape import Trend
from tui.commands import bindings
from tui.screens.water_view import WaterView
from tui.widgets import trend_words as words
from tui.widgets.cells import plain_terminal
from tui.widgets.empty_words import in_keys
from tui.widgets.sections import heading, indented, lines, quiet

if TYPE_CHECKING:
    from tui.view import View

_REST = 12
"""Lines kept for everything but the chart."""
_LOW, _HIGH = 8, 20


class Plots(VerticalScroll):
    """{trends.previous} and {trends.next} go from plot to plot here; up and down scroll."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings("trends")]


class PlotNames(Static):
    """The plots this home can have, by name."""

    class Picked(Message):
        """The mouse chooses a plot."""

        def __init__(self, place: int) -> None:
            super().__init__()
            self.place = place

    def __init__(self) -> None:
        super().__init__(id="plot_names")
        self._places: list[tuple[int, int, int]] = []

    def show_names(self, names: list[str], chosen: int, width: int) -> None:
        """Show the names, one of them chosen."""
        shown, self._places = words.names_line(names, chosen, width, bare=self.app.no_color)
        self.update(shown)

    def on_click(self, event: events.Click) -> None:
        """Choose the plot under the mouse."""
        for place, (row, first, last) in enumerate(self._places):
            if event.y == row and first <= event.x <= last:
                self.post_message(self.Picked(place))


class TrendsScreen(WaterView):
    """One plot at a time, with its numbers and what is to be seen in it."""

    CSS_PATH = "trends.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("trends")]
    HELP_TEXT = (
        "{trends.previous} and {trends.next} go from plot to plot; up and down scroll. The band around a forecast "
        "holds 8 of 10 cases. The table under it has the same numbers, the newest first. A plot without readings "
        "says what to read. {week.trend} in Week and {service.trend} in Service opens the plot of the highlighted "
        "job. {water.valve}, {water.salt_out}, {water.mix} and {water.trends} go from view to view; Escape goes "
        "back."
    )

    def __init__(self, chosen: str = "") -> None:
        super().__init__()
        self.chosen = chosen

    def compose(self) -> ComposeResult:
        """The names, the chart, the words, the table."""
        with Plots(id="trends"):
            yield PlotNames()
            yield Static(id="trend_head")
            yield Static(id="trend_chart")
            yield Static(id="trend_words")
            yield Static(id="trend_table")

    def show_view(self, view: View) -> None:
        """Show the chosen plot of the home as it is, the first where it has that no more."""
        self.query_one(Plots).focus(scroll_visible=False)
        found = view.trends
        place = next((place for place, one in enumerate(found) if one.id == self.chosen), 0)
        self.chosen = found[place].id
        self.query_one(PlotNames).show_names([one.name for one in found], place, self.text_width)
        self._show(found[place], view)

    def on_resize(self, event: events.Resize) -> None:
        """Draw for the new size."""
        if self._shown is not None:
            self.show_view(self._shown)

    def _show(self, trend: Trend, view: View) -> None:
        width, plain, units = self.text_width, plain_terminal(), view.house.units
        self._put("#trend_head", heading(words.title_of_trend(trend, units)))
        chart = Content("")
        if trend.points or trend.paths:
            height = min(max(self.app.size.height - _REST, _LOW), _HIGH)
            drawn = words.chart_of(trend, units, width, height, ascii_only=plain)
            legend = [quiet(row) for row in words.legend_of(trend, width, ascii_only=plain)]
            chart = lines([drawn, *legend])
        self._put("#trend_chart", chart)
        empty = [indented(in_keys(trend.empty), width, 0).stylize("$text-warning")] if trend.empty else []
        self._put("#trend_words", lines([*empty, *(indented(one, width, 0) for one in trend.words if one)]))
        self._put("#trend_table", lines([quiet(row) for row in words.table_of(trend, width)]))

    def _put(self, where: str, what: Content) -> None:
        part = self.query_one(where, Static)
        part.display = bool(what.plain)
        part.update(what)

    def action_choose(self, step: int) -> None:
        """Go to the next plot or the one before, round and round."""
        found = self.app.session.view.trends
        place = next((place for place, one in enumerate(found) if one.id == self.chosen), 0)
        self._choose((place + step) % len(found))

    @on(PlotNames.Picked)
    def _picked(self, event: PlotNames.Picked) -> None:
        self._choose(event.place)

    def _choose(self, place: int) -> None:
        view = self.app.session.view
        self.chosen = view.trends[place].id
        self.query_one(Plots).scroll_home(animate=False)
        self.show_view(view)
