"""The board of the valve: gauge, table and two charts in one widget, of which only what changes is painted anew."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from rich.segment import Segment
from rich.style import Style
from textual.binding import BindingType
from textual.geometry import Region, Size
from textual.message import Message
from textual.strip import Strip
from textual.widget import Widget

from tui.commands import bindings
from tui.widgets import valve_words as words
from tui.widgets.cells import fit, plain_terminal
from tui.widgets.drawing import FINE, PLAIN, Chart, Run
from tui.widgets.valve_words import Curve

if TYPE_CHECKING:
    from collections.abc import Sequence

    from textual import events

    from model.units import System

Line = tuple[tuple[str, str], ...]
"""A line as pieces: text, and the part of the style sheet that it takes."""

_PARTS = {"seen": "line", "level": "level", "now": "mark"}
"""What a run of a chart is -> the part of the style sheet, "quiet" for the rest."""

_GAP = 2
_WARNINGS = 2
_TALL_FROM = 34
_LOW, _HIGH = 7, 12
_GAUGE_AT = 28
_WIDEST = 84


class ValveBoard(Widget, can_focus=True):
    """Shows one share of bypass. Keys move it; so does the mouse on the gauge and the charts."""

    BINDINGS: ClassVar[list[BindingType]] = [*bindings("valve")]
    COMPONENT_CLASSES: ClassVar[set[str]] = {
        "board--strong",
        "board--quiet",
        "board--title",
        "board--mark",
        "board--line",
        "board--level",
        "board--warning",
    }

    class Moved(Message):
        """The mouse asks for a share of bypass [%]."""

        def __init__(self, percent: int) -> None:
            super().__init__()
            self.percent = percent

    def __init__(self) -> None:
        super().__init__(id="board")
        self.percent = 0
        self.curve = Curve()
        self.system: System = "metric"
        self.floor_pH = 0.0
        self._lines: list[Line] = []
        self._charts: tuple[Chart, ...] = ()
        self._charts_at = 0
        self._held = False

    def show_curve(self, curve: Curve, system: System, floor_pH: float) -> None:
        """Show what has been worked out by now."""
        self.curve, self.system, self.floor_pH = curve, system, floor_pH
        self._draw_all()
        self.refresh(layout=True)

    def move_to(self, percent: int) -> None:
        """Show another share: only the numbers and the marks are painted anew."""
        before = self.percent
        self.percent = min(max(percent, 0), words.MOST_PERCENT)
        if self.percent == before or not self._lines:
            return
        upper = self._upper()
        self._lines[: len(upper)] = upper
        self._lines[self._charts_at :] = self._chart_lines()
        self.refresh(Region(0, 0, self.size.width, len(upper)), *self._marks(before))

    def on_resize(self, event: events.Resize) -> None:
        """Use the room."""
        self._draw_all()
        self.refresh(layout=True)

    # Painting

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """As many lines as there are."""
        return max(len(self._lines), 1)

    def render_line(self, y: int) -> Strip:
        """One line of the board."""
        line = self._lines[y] if y < len(self._lines) else ()
        strip = Strip([Segment(text, self._style(part)) for text, part in line])
        return strip.adjust_cell_length(self.size.width, self.rich_style)

    def _style(self, part: str) -> Style:
        return self.get_component_rich_style(f"board--{part}") if part else self.rich_style

    # Drawing

    @property
    def _width(self) -> int:
        return max(self.size.width, 20)

    def _draw_all(self) -> None:
        if self.curve.today is None:
            self._lines = []
            return
        half = (self._width - _GAP) // 2
        height = _HIGH if self.app.size.height >= _TALL_FROM else _LOW
        plain = plain_terminal()
        self._charts = words.charts(self.curve, half, height, self.system, self.floor_pH, ascii_only=plain)
        upper = self._upper()
        left, right = words.chart_titles(self.system, half, ascii_only=plain)
        self._lines = [*upper, ((f"{left}{' ' * _GAP}{right}", "title"),)]
        self._charts_at = len(self._lines)
        self._lines += self._chart_lines()

    def _upper(self) -> list[Line]:
        """Gauge, table and warnings: always the same number of lines, so that the charts stay where they are."""
        today = self.curve.today
        width = min(self._width, _WIDEST)
        told = fit(f"Goes round the bed: {self.percent:>2} %", _GAUGE_AT)
        lines: list[Line] = [((told, "strong"), (words.gauge(self.percent, width - _GAUGE_AT), "mark"))]
        set_now = f"{today.bypass_share * 100:.3g} %" if today else ""
        head, *rows = words.draw_rows(self.curve, self.percent, width, self.system, set_now)
        lines += [((head, "quiet"),), *(((row, "warning" if row.startswith("!") else ""),) for row in rows)]
        here = self.curve.by_percent.get(self.percent)
        found = words.warnings(here, self.floor_pH) if here else []
        lines += [((f"! {one}" if one else "", "warning"),) for one in [*found, "", ""][:_WARNINGS]]
        return lines

    def _chart_lines(self) -> list[Line]:
        """Both charts side by side, with the mark where the valve is."""
        here = (PLAIN if plain_terminal() else FINE).now
        crossed = [chart.crossed(float(self.percent), here).rows for chart in self._charts]
        return [(*_parts(left), (" " * _GAP, ""), *_parts(right)) for left, right in zip(*crossed, strict=True)]

    def _marks(self, before: int) -> list[Region]:
        """Where the marks of the charts were and are."""
        regions, offset = [], 0
        for chart in self._charts:
            ends = sorted(chart.column(float(percent)) for percent in (before, self.percent))
            regions.append(Region(offset + ends[0], self._charts_at, ends[1] - ends[0] + 1, chart.body))
            offset += chart.left + chart.across + _GAP
        return regions

    # The mouse

    def on_mouse_down(self, event: events.MouseDown) -> None:
        """Take hold of the valve."""
        self._held = self._ask(event)
        if self._held:
            self.capture_mouse()

    def on_mouse_move(self, event: events.MouseMove) -> None:
        """Move it along."""
        if self._held:
            self._ask(event)

    def on_mouse_up(self, event: events.MouseUp) -> None:
        """Let it go."""
        self._held = False
        self.release_mouse()

    def _ask(self, event: events.MouseEvent) -> bool:
        """Ask for the share under the mouse; False where there is none."""
        x, y = event.x, event.y
        if y == 0 and x >= _GAUGE_AT:
            room = max(min(self._width, _WIDEST) - _GAUGE_AT - 2, 1)
            self.post_message(self.Moved(round(100 * (x - _GAUGE_AT) / room)))
            return True
        if not self._charts or not 0 <= y - self._charts_at < len(self._charts[0].rows):
            return False
        first, second = self._charts
        other = first.left + first.across + _GAP
        chart, cell = (second, x - other) if x >= other else (first, x)
        self.post_message(self.Moved(round(chart.x_at(cell))))
        return True


def _parts(row: Sequence[Run]) -> Line:
    return tuple((text, _PARTS.get(kind, "quiet")) for text, kind in row)
