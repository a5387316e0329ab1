"""What if the salt runs out: when hardness and nitrate come through at the tap, and how much."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.events import Resize
from textual.widgets import Static

from model.equipment.registry import title_of
from model.equipment.softener import Softener
from model.units import display_unit
from tui.commands import bindings
from tui.key_words import keyed
from tui.screens.water_view import WaterView
from tui.widgets import salt_out_words as words
from tui.widgets.cells import fit, plain_terminal
from tui.widgets.drawing import FINE, PLAIN
from tui.widgets.sections import heading, indented, lines

if TYPE_CHECKING:
    from tui.view import View

_NO_SOFTENER = (
    "This house has no softener, so no salt can run out.",
    "If one stands here, put it into the train: press {go.house} for House, then {house.add}.",
)
_GAP = 2
_TALL_FROM = 34
_LOW, _HIGH = 7, 12


class SaltOutScreen(WaterView):
    """A timeline in words, two charts, and what to do."""

    CSS_PATH = "salt_out.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("salt_out")]
    HELP_TEXT = (
        "What comes through at the tap if nobody refills the salt: the days are the middle ones of what is reckoned, "
        "so each may come sooner. The steps in the charts are drawn sharp; in truth the water changes over some days. "
        "{water.valve}, {water.salt_out}, {water.mix} and {water.trends} go from view to view; Escape goes back."
    )

    def compose(self) -> ComposeResult:
        """The timeline, the charts, the words; one scroll."""
        with VerticalScroll(id="salt_out"):
            yield Static(id="salt_head")
            yield Static(id="salt_line")
            yield Static(id="salt_charts")
            yield Static(id="salt_words")

    def show_view(self, view: View) -> None:
        """Fill everything from the plan."""
        self.query_one("#salt_out").focus(scroll_visible=False)
        softener = next((one for one in view.house.stages if isinstance(one, Softener)), None)
        title = f", {title_of(softener)}" if softener else ""
        self._put("#salt_head", Content.assemble(heading("If the salt runs out"), title))
        if softener is None:
            self._put("#salt_words", lines([indented(one, self.text_width, 0) for one in map(keyed, _NO_SOFTENER)]))
            return
        report = view.numbers.reports.get(softener.id, {})
        at = {point.point: point for point in view.plan.points}
        out = words.salt_out_of(softener, report, at)
        lacking = words.missing(out, report)
        self._show_timeline(view, out)
        told = [_warning(one, self.text_width) for one in words.warnings(out, view.today, view.house.units)]
        gaps = [indented(f"? {keyed(one)}", self.text_width, 0) for one in lacking]
        rest = [] if out.salt_out is None else [indented(_RESTS, self.text_width, 0).stylize("$foreground-muted")]
        self._put("#salt_words", lines([*gaps, *told, *rest]))

    def on_resize(self, event: Resize) -> None:
        """Draw for the new width."""
        if self._shown is not None:
            self.show_view(self._shown)

    def _put(self, where: str, what: Content) -> None:
        part = self.query_one(where, Static)
        part.display = bool(what.plain)
        part.update(what)

    def _show_timeline(self, view: View, out: words.SaltOut) -> None:
        stops = words.timeline(out, view.today)
        units = view.house.units
        heads, names, *rows = words.timeline_lines(stops, view.today, self.text_width, units)
        quiet = [Content.styled(one, "$foreground-muted") for one in (heads, names)]
        self._put("#salt_line", lines([*quiet, *(_row(one) for one in rows)]))
        known = len(stops) > 1
        self._put("#salt_charts", self._charts(view, out, stops) if known else Content(""))

    def _charts(self, view: View, out: words.SaltOut, stops: list[words.Stop]) -> Content:
        plain = plain_terminal()
        half = (self.text_width - _GAP) // 2
        height = _HIGH if self.app.size.height >= _TALL_FROM else _LOW
        left, right = words.charts(out, stops, view.today, half, height, view.house.units, ascii_only=plain)
        upright = (PLAIN if plain else FINE).upright
        title = fit(f"Nitrate-N, mg/L   {upright} salt out", half + _GAP)
        told = [Content.styled(f"{title}Hardness, {display_unit('hardness', view.house.units)}", "bold $primary")]
        pairs = zip(left.coloured(), right.coloured(), strict=True)
        return lines([*told, *(Content.assemble(a, " " * _GAP, b) for a, b in pairs)])


_RESTS = (
    "Rests on the salt as last measured, the forecast of water use, the resin's capacity at this dose without a "
    "reserve, and the early edge of nitrate at the usual draw. The last full regeneration is taken to be on the day "
    "the salt comes to its line; the steps are drawn sharp. Each day may come sooner. "
    "Before it: “Refill the salt”; after it: “Recover after the salt ran out”, both in Service."
)


def _row(line: str) -> Content:
    content = Content(line)
    return content.stylize("$text-error") if line.rstrip().endswith("over") else content


def _warning(text: str, width: int) -> Content:
    return indented(f"! {text}", width, 0).stylize("$text-warning")
