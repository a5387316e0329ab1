"""Water: the train as a picture, and the water at each of its points."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, ClassVar

from rich.text import Text
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.coordinate import Coordinate
from textual.events import Resize
from textual.widgets import DataTable, Static

from model.equipment.registry import title_of
from tui.commands import bindings
from tui.key_words import keyed
from tui.screens.area import AreaScreen
from tui.screens.water_view import open_view
from tui.widgets.cells import plain_terminal
from tui.widgets.sections import alert_line, heading, indented, labelled, lines
from tui.widgets.tables import Column, Row, Table, fill
from tui.widgets.train import draw_train, show_train
from tui.widgets.water_rows import (
    MARK,
    TABLED,
    beyond,
    boxes_of,
    distinct,
    grouped_bases,
    limit_lines,
    pictured_names,
    table_rows,
)

if TYPE_CHECKING:
    from model.plan_types import Plan, PointWater
    from tui.view import View

_NO_STAGES = (
    "Nothing stands here yet.",
    (
        "Press {go.house} for House, then {house.add}, to add what the water passes: the well first, then each "
        "stage up to the tap."
    ),
)
_NO_WATER = (
    "Nothing is known of this water yet, so the numbers are dashes.",
    "Press {reading} to write down a reading, or {lab_result} to type in what a laboratory found.",
)
_WIDE_FROM, _ROOMY_FROM = 112, 160


class WaterScreen(AreaScreen):
    """The train from well to tap, its numbers, its limits, and what each number rests on."""

    AREA = "water"
    CSS_PATH = "water.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("water")]
    HELP_TEXT = (
        "The picture shows each stage and the water that leaves it; an arrow marks a number that rose or fell "
        "there. Branches hang from the place where they leave the train. Page down for what to know about the "
        "limits, the table of all quantities (Tab, then left and right) and what each number rests on. A star "
        "marks what was assumed because no laboratory or reading gave it; a ! or a word what is beyond a limit. "
        "{water.valve} shows what the blend valve does, {water.salt_out} what happens if the salt runs out, "
        "{water.mix} mixes waters of several taps, {water.trends} shows the plots, {water.handles} where the valve "
        "handles stand."
    )

    def compose(self) -> ComposeResult:
        """The picture, the words, the table, the facts; one scroll."""
        with VerticalScroll(id="water"):
            yield Static(id="train")
            yield Static(id="limits")
            yield Static(heading("All quantities by point"), id="table_heading")
            yield DataTable(id="quantities", cursor_type="cell", zebra_stripes=True)
            yield Static(id="marks")
            yield Static(id="bases")
            yield Static(id="facts")

    def show_view(self, view: View) -> None:
        """Fill everything from the plan."""
        known = any(point.sample for point in view.plan.points)
        self._show_train(view, known)
        self.query_one("#limits", Static).update(_limits(view.plan, known))
        self._show_table(view, known)
        self._show_words(view, known)

    def action_to_top(self) -> None:
        """Go back to the picture."""
        scroll = self.query_one("#water", VerticalScroll)
        scroll.focus()
        scroll.scroll_home(animate=False)

    def action_open_view(self, name: str) -> None:
        """Show one of the views that lie on Water."""
        open_view(self.app, name)

    def on_resize(self, event: Resize) -> None:
        """Draw the picture for the new width."""
        if self._shown is not None:
            known = any(point.sample for point in self._shown.plan.points)
            self._show_train(self._shown, known)
            self._show_table(self._shown, known)
            self._show_words(self._shown, known)

    def _show_words(self, view: View, known: bool) -> None:
        width = self.app.size.width - 4
        self.query_one("#bases", Static).update(_bases(view.plan, width) if known else Content(""))
        self.query_one("#facts", Static).update(_facts(view, width))

    def _show_train(self, view: View, known: bool) -> None:
        if not view.house.stages:
            told = [indented(line, self.app.size.width - 4, 0) for line in map(keyed, _NO_STAGES)]
            self.query_one("#train", Static).update(lines(told))
            return
        ascii_only = plain_terminal()
        boxes = boxes_of(view.house, view.plan.points, ascii_only=ascii_only)
        names = pictured_names(view.house.units)
        picture = show_train(draw_train(boxes, names, self.app.size.width - 3, ascii_only=ascii_only))
        words = (
            []
            if known
            else [Content(""), *(indented(line, self.app.size.width - 4, 0) for line in map(keyed, _NO_WATER))]
        )
        self.query_one("#train", Static).update(lines([picture, *words]))

    def _show_table(self, view: View, known: bool) -> None:
        table: Table = self.query_one("#quantities", DataTable)
        table.display = self.query_one("#table_heading").display = known
        points, _ = distinct(view.plan.points)
        wide = self.app.size.width >= _WIDE_FROM
        each = 18 if self.app.size.width >= _ROOMY_FROM else 12 if wide else 7
        name = min(28, max(18, self.app.size.width - 5 - len(points) * (each + 2)))
        columns = [Column("", name), *(Column(_short(point.point, view), each, "right") for point in points)]
        rows = [Row(name, (name, *cells)) for name, cells in table_rows(points, view.house.units, in_words=wide)]
        fill(table, columns, rows)
        table.fixed_columns = 1
        _embolden(table, points)
        self.query_one("#marks", Static).update(_marks(points, self.app.size.width - 4) if known else "")


def _embolden(table: Table, points: Sequence[PointWater]) -> None:
    """Make bold what the words mark."""
    for row, shown in enumerate(TABLED):
        for column, point in enumerate(points, start=1):
            if beyond(point, shown.field):
                cell = table.get_cell_at(Coordinate(row, column))
                table.update_cell_at(Coordinate(row, column), Text(cell.plain, style="bold"))


def _marks(points: Sequence[PointWater], width: int) -> Content:
    """The limits that the marked numbers of the table are beyond."""
    told = [indented(f"{MARK} {word}: {text}", width).stylize(_TONES[word]) for word, text in limit_lines(points)]
    return lines(told or [indented("No number of the table is beyond a limit that is marked there.", width)])


_TONES = {"over": "$text-warning", "low": "$text-warning", "note": "$foreground-muted"}


def _short(point: str, view: View) -> str:
    """A heading for a narrow column: the stage that the point lies after, or the point itself."""
    titles = {f"after_{stage.id}": title_of(stage) for stage in view.house.stages}
    return titles.get(point, {"ro": "RO tap"}.get(point, point.capitalize()))


def _limits(plan: Plan, known: bool) -> Content:
    if not known and not plan.alerts:
        return Content("")
    titles = {point.point: point.title for point in plan.points}
    told = [alert_line(alert, titles.get(alert.point, "")) for alert in plan.alerts]
    none = [Content("No number here is beyond a limit that this program knows. It knows only what was tested.")]
    today = [heading("Today"), *(Content(line) for line in plan.exposure), Content("")]
    return lines([*today, heading("Limits and what to know"), *(told or none)])


def _bases(plan: Plan, width: int) -> Content:
    told = [heading("What the numbers rest on")]
    for titles, basis in grouped_bases(plan.points):
        told += [indented(basis, width), indented(titles, width, 4).stylize("$foreground-muted")]
    told.append(indented("*: assumed, no laboratory or reading gave it", width))
    same = distinct(plan.points)[1]
    if same:
        told.append(indented("Not in the table, the water is the same as at the point before:", width))
        told.append(indented(", ".join(same), width, 4).stylize("$foreground-muted"))
    return lines(told)


def _facts(view: View, width: int) -> Content:
    titles = {stage.id: title_of(stage) for stage in view.house.stages}
    parts: list[Content] = []
    last = ""
    for fact in view.numbers.facts:
        if fact.stage != last:
            parts += [Content(""), heading(titles.get(fact.stage, fact.stage.capitalize()))]
            last = fact.stage
        parts.append(labelled(fact.label, fact.text, fact.basis, width))
    return lines(parts[1:])
