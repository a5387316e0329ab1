"""A visit in words: what is off first, the jobs in order, parts, what is kept apart, what follows."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from textual.content import Content

from tui.widgets.sections import heading, indented, lines, quiet
from tui.words import day_words, from_now, part_words

if TYPE_CHECKING:
    from model.forecast.visits import PartReady, Visit
    from model.upkeep.visits import VisitJob
    from tui.view import View

NONE = "Nothing in the next {days} days needs the water off, acid or bleach."
RESTS = (
    "Jobs due near each other that need the water off, on the first one's day: none is later than its own, unless acid "
    "and bleach are both due by today. From well to tap, a flush before the next stage is opened, sanitizing last. "
    "Acid and bleach never on one day."
)


def visit_words(found: tuple[Visit, ...], view: View, days: int, width: int) -> Content:
    """Every visit, soonest first."""
    if not found:
        return indented(NONE.format(days=days), width, 0)
    parts = [lines(list(_visit(one, view, width))) for one in found]
    return Content("\n\n").join([*parts, quiet("\n".join(indented(RESTS, width, 0).plain.splitlines()))])


def _visit(one: Visit, view: View, width: int) -> Iterator[Content]:
    day = f"{day_words(one.on, view.today)}, {from_now(one.on, view.today)}"
    waits = f" and {one.wait_minutes} min of waits" if one.wait_minutes else ""
    yield Content.assemble(heading(day), f": {one.minutes} min of work{waits}")
    yield from (indented(f"! {line}", width, 0).stylize("$text-warning") for line in one.off_first)
    for place, each in enumerate(one.jobs, 1):
        yield from _job(place, each, width)
    yield heading("Parts to have ready")
    yield from (_part(part, view, width) for part in one.supplies)
    yield indented(f"Besides: {'; '.join(one.fetch)}." if one.fetch else "Nothing besides.", width)
    if one.apart:
        yield heading("Not on this day")
    yield from (
        indented(f"{apart.title}: {day_words(apart.on, view.today)}. {apart.why}", width) for apart in one.apart
    )
    if one.afterwards:
        yield heading("Afterwards")
    yield from (indented(f"{day_words(later.on, view.today)}: {later.text}", width) for later in one.afterwards)


def _job(place: int, each: VisitJob, width: int) -> Iterator[Content]:
    title = f"{place}. {each.job.title}, {each.job.stage_title}"
    yield indented(f"{title}: {each.job.minutes} min", width, 0).stylize("bold")
    yield indented(each.why, width, 3).stylize("$foreground-muted")
    if each.flush:
        yield indented(each.flush, width, 3)


def _part(part: PartReady, view: View, width: int) -> Content:
    shown = indented(part_words(part, view.house.units), width)
    return shown.stylize("$text-warning") if part.lacks > 0 else shown
