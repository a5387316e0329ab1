"""The list of what is due: one line a job, in groups by state, in aligned columns that follow the width."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, ClassVar

from textual.binding import BindingType
from textual.content import Content
from textual.widgets import OptionList
from textual.widgets.option_list import Option

from model.plan_types import Due, State
from tui.commands import bindings
from tui.widgets.cells import fit
from tui.widgets.event_lines import week_options
from tui.words import amount_words, day_words, from_now, gauge, span_words

if TYPE_CHECKING:
    from textual.events import Resize

    from tui.view import View

GROUPS: tuple[tuple[State, str, str, str], ...] = (
    ("overdue", "!", "Overdue", "$text-error"),
    ("this_week", ">", "This week", "$text-warning"),
    ("soon", "-", "Next 30 days", "$text-primary"),
    ("later", ".", "Later", "$foreground-muted"),
)
"""State, its glyph, its words, its colour."""

_GLYPH, _DAY, _WHEN, _WINDOW = 2, 12, 11, 20
_GAUGE = 6
_WIDE_FROM = 76
_TITLE = 32
_WINDOW_FROM = 84
"""So many cells for title and stage before the window gets a column: a title in full is worth more."""


class DueList(OptionList):
    """What is due. The highlighted line is remembered by its task."""

    # The list has Enter for itself; here it is the area's, so that it is shown among the keys.
    BINDINGS: ClassVar[list[BindingType]] = [*bindings("week")]

    def __init__(self) -> None:
        super().__init__(id="due", compact=True)
        self._view: View | None = None
        self._drawn_for = 0

    def show_view(self, view: View) -> None:
        """Show the plan of the view, keeping the highlighted job."""
        self._view = view
        self._drawn_for = 0
        self._draw()

    def on_resize(self, event: Resize) -> None:
        """Align the columns anew."""
        self._draw()

    @property
    def task_id(self) -> str | None:
        """The task of the highlighted line."""
        place = self.highlighted
        return None if place is None or place >= self.option_count else self.get_option_at_index(place).id

    def _draw(self) -> None:
        width = self.scrollable_content_region.width
        if self._view is None or width < 1 or width == self._drawn_for:
            return
        self._drawn_for = width
        kept = self.task_id
        self.clear_options()
        self.add_options(list(self._due_options(self._view, width)))
        places = {one.id: place for place, one in enumerate(self.options) if one.id}
        self.highlighted = places.get(kept or "", min(places.values(), default=None))

    def _due_options(self, view: View, width: int) -> Iterator[Option]:
        yield from week_options(view, width)
        left = max((len(left_words(due, view, width)) for due in view.plan.due), default=0)
        for state, glyph, words, colour in GROUPS:
            rows = [due for due in view.plan.due if due.state == state]
            if rows:
                yield Option(Content.styled(f"{glyph} {words} ({len(rows)})", f"bold {colour}"), disabled=True)
            for due in rows:
                yield Option(line(due, view, width, left, glyph, colour), id=due.task)


def line(due: Due, view: View, width: int, left: int, glyph: str, colour: str) -> Content:
    """One job on one line of `width` cells: day, title, stage, what is left; the rest where there is room."""
    words = width - _GLYPH - _DAY - left
    when_width = _WHEN if words >= 54 else 0
    window_width = _WINDOW if words - when_width >= _WINDOW_FROM else 0
    words -= when_width + window_width
    title_width = min(max(words * 2 // 3, _TITLE), 48) if words >= 40 else words
    said = left_words(due, view, width)
    if not said and not window_width:
        words, left = words + left, 0  # nothing stands in the last column: the stage may
    title = f"(half-done) {due.title}" if due.paused else due.title
    return Content.assemble(
        (fit(glyph, _GLYPH), colour),
        fit(day_words(due.act_on, view.today), _DAY),
        (fit(from_now(due.act_on, view.today, short=True), when_width), colour),
        f"{fit(title, title_width - 1)} ",
        (f"{fit(due.stage_title, words - title_width - 1)} " if words > title_width else "", "$foreground-muted"),
        (fit(span_words(due.earliest, due.latest, view.today), window_width), "$foreground-muted"),
        fit(said, left),
    )


def left_words(due: Due, view: View, width: int = _WIDE_FROM) -> str:
    """What is left as a gauge and an amount: "[###---] 26,417 gal"; of what is weighed "[###---] 13.7 lb to line", for
    more of it lies below its line. Where there is little room the amount stands alone."""
    drawn = gauge(due.share_left, _GAUGE, known=due.left_known)
    if not due.left_known:
        return drawn
    said = amount_words(due.remaining, view.house.units)
    if due.remaining is not None and due.remaining.unit == "kg":
        said = f"{said} to line"
        drawn = drawn if width >= _WIDE_FROM else ""
    return f"{drawn} {said}".strip()
