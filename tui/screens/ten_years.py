"""Ten years: when each slow part will want replacing, how sure that is, and what it costs."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

import msgspec
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.events import Resize
from textual.widgets import DataTable, Static

from model.plan_types import Range, SlowPart, TenYears
from model.units import money
from tui.commands import bindings
from tui.screens.area import AreaScreen
from tui.widgets.sections import heading, indented, lines
from tui.widgets.tables import Column, Row, Table, fill
from tui.words import MONTHS

if TYPE_CHECKING:
    from datetime import date

    from tui.view import View

_WIDE_FROM, _NARROW_BELOW = 112, 80
_OF_NARROW = (0, 2, 3, 4, 5, 6)
"""The cells for which a narrow table has room: not the age and not the span of the cash."""
_WIDEST = 116
_NONE = "No stage of this house has a slow part: membrane, resin, tank, pump, ballast or sleeve."
_RESTS = (
    "A slow part is replaced once worn; what protects health on its calendar day at the latest. The window is from the "
    "10 to the 90 % date, given that it has lasted so far; ? marks an age that is not on record. "
    "Low and high are 10 and 90 %."
)


class TenYearsScreen(AreaScreen):
    """The slow parts over ten years. It lies on Costs; Escape goes back."""

    AREA = "costs"
    AUTO_FOCUS = ""
    CSS_PATH = "ten_years.tcss"
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("ten_years")]
    HELP_TEXT = (
        f"{_RESTS} The year's list has these parts on the day that the plan gives them; here they are not counted "
        "among the consumables. Write down a replacement in Service, or the day a stage was put in under House, and "
        "the window narrows."
    )

    def compose(self) -> ComposeResult:
        """The sums, the table of parts, what each rests on; one scroll."""
        with VerticalScroll(id="ten_years"):
            yield Static(id="ten_total")
            yield DataTable(id="slow", cursor_type="none", zebra_stripes=True)
            yield Static(id="ten_words")

    def show_view(self, view: View) -> None:
        """Fill everything from the forecast."""
        table: Table = self.query_one("#slow", DataTable)
        table.can_focus = False
        self.query_one("#ten_years").focus(scroll_visible=False)
        years, columns = view.ten_years, self.app.size.width
        wide, narrow = columns >= _WIDE_FROM, columns < _NARROW_BELOW
        width = min(max(self.app.size.width - 4, 20), _WIDEST)
        self.query_one("#ten_total", Static).update(sums_words(years))
        table.display = bool(years.parts)
        rows, heads = [part_row(part, wide) for part in years.parts], _columns(years.currency, wide)
        if narrow:
            first, *others = (heads[at] for at in _OF_NARROW)
            heads = [msgspec.structs.replace(first, width=max(columns - 44, 16)), *others]
            rows = [msgspec.structs.replace(row, cells=tuple(row.cells[at] for at in _OF_NARROW)) for row in rows]
        fill(table, heads, rows)
        self.query_one("#ten_words", Static).update(_words(years, width))

    def on_resize(self, event: Resize) -> None:
        """Choose the columns for the new width."""
        if self._shown is not None:
            self.show_view(self._shown)

    def action_close(self) -> None:
        """Go back to Costs."""
        if self.app.screen is self:
            self.app.pop_screen()


def sums_words(years: TenYears) -> Content:
    """Ten years in one sentence, and what the slow parts are of it in another."""
    said, currency = _sum_words(years.total, years.currency), years.currency
    return lines(
        [
            Content.assemble(
                f"Ten years to {MONTHS[years.end.month - 1]} {years.end.year}: ",
                (money(years.total.expected, currency), "bold $primary"),
                f" in cash; 8 times in 10 from {said}.",
            ),
            Content.assemble(
                "Slow parts: ",
                (money(years.slow.expected, currency), "bold"),
                f", {_sum_words(years.slow, currency)}; all else: ",
                (money(years.consumables.expected, currency), "bold"),
                f", {_sum_words(years.consumables, currency)}.",
            ),
        ]
    )


def _sum_words(cash: Range, currency: str) -> str:
    return f"{money(cash.low, currency)} to {money(cash.high, currency)}"


def _columns(currency: str, wide: bool) -> list[Column]:
    if not wide:
        sizes = (18, 4, 5, 7, 5, 6, 5, 9)
        names = ("Slow part", "Age", "Early", "Middle", "Late", "Chance", "Cash", "Low-high")
    else:
        sizes = (30, 10, 9, 9, 9, 7, 10, 11)
        names = ("Slow part", "Age, years", "Early", "Middle", "Late", "Chance", f"Cash, {currency}", "Low to high")
    dates = ("Slow part", "Early", "Middle", "Late")
    return [Column(name, size, "left" if name in dates else "right") for name, size in zip(names, sizes, strict=True)]


def part_row(part: SlowPart, wide: bool) -> Row:
    """A slow part as a row, in whole money; where there is little room the outer dates are years only."""
    age = f"{part.age_years:.{1 if wide or part.age_known else 0}f}{'' if part.age_known else '?'}"
    outer = _month if wide else _year
    days = (outer(part.earliest), _month(part.middle) if wide else f"{part.middle:%m/%Y}", outer(part.latest))
    cash = ("?", "") if part.cash is None else _cash(part.cash, " to " if wide else "-")
    return Row(part.task, (_name(part), age, *days, f"{part.chance:.0%}", *cash), "dim" if part.cash is None else "")


def _month(day: date) -> str:
    return f"{MONTHS[day.month - 1]} {day.year}"


def _year(day: date) -> str:
    return f"{day.year}"


def _cash(cash: Range, to: str) -> tuple[str, str]:
    return f"{cash.expected:,.0f}", f"{cash.low:,.0f}{to}{cash.high:,.0f}"


def _name(part: SlowPart) -> str:
    """The job less its verb, which the heading of the table says: "Pressure tank"."""
    for verb in ("Replace the ", "Change the ", "Renew "):
        if part.title.startswith(verb):
            rest = part.title.removeprefix(verb)
            return rest[:1].upper() + rest[1:]
    return part.title


def _words(years: TenYears, width: int) -> Content:
    if not years.parts:
        return indented(_NONE, width, 0)
    rests = [indented(f"- {part.stage_title}, {_name(part)}: {part.basis}.", width, 0) for part in years.parts]
    notes = [indented(f"- {note}", width, 0) for note in years.notes]
    quiet = [one.stylize("$foreground-muted") for one in [*rests, *notes, indented(_RESTS, width, 0)]]
    return lines([heading("What each rests on"), *quiet])
