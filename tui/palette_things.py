"""What the palette finds besides commands and jobs: supplies, quantities to read, questions of the guide, help."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import TYPE_CHECKING

from model.guide.book import questions
from model.records.quantities import QUANTITIES
from tui.commands import AREAS
from tui.dialogs.help import told_of
from tui.dialogs.reading import quantity_choices
from tui.palette import Found
from tui.widgets.cells import tidy

if TYPE_CHECKING:
    from tui.app import WellwardApp


def supplies(app: WellwardApp) -> Iterator[Found]:
    """Every supply: its line on the Shelf, and a purchase of it."""
    for row in app.session.view.plan.shelf:
        title = tidy(row.title)
        yield Found(title, "its line on the Shelf", partial(app.go_and_do, "shelf", f"screen.show({row.supply!r})"))
        buy = partial(app.go_and_do, "shelf", f"screen.buy_this({row.supply!r})")
        yield Found(f"Buy: {title}", "write down a purchase", buy, "order price receipt")


def readings(app: WellwardApp) -> Iterator[Found]:
    """Every quantity that can be read in this house."""
    for quantity, title in quantity_choices(app.session.view.house):
        about = f"write down a reading; {QUANTITIES[quantity].help}"
        yield Found(f"Reading: {title}", about, partial(app.action_reading, quantity))


def guide(app: WellwardApp) -> Iterator[Found]:
    """Every question of the guide."""
    for one in questions():
        yield Found(one.asks, f"Guide, {one.topic}", partial(app.action_guide, one.id), f"{one.why} {one.then}")


def helps(app: WellwardApp) -> Iterator[Found]:
    """What each area is for."""
    for area, title, about in AREAS:
        yield Found(f"Help: {title}", about, partial(app.action_help, area), told_of(area))
