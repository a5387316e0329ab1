"""What the palette finds besides commands and jobs: supplies, plots, quantities to read, questions, help."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from typing import TYPE_CHECKING

from model.equipment.registry import kind_of
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


def plots(app: WellwardApp) -> Iterator[Found]:
    """Every plot that this home can have: each trend, and what the valve, the salt and other settings do."""
    view = app.session.view
    for trend in view.trends:
        yield Found(f"Plot: {tidy(trend.title)}", "Trends, on Water", partial(app.show_plot, trend.id), trend.name)
    kinds = {kind_of(stage) for stage in view.house.stages}
    for kind, name, place, titles in _PLOTS:
        if kind in kinds:
            show = partial(app.go_and_do, "water", f"screen.open_view('{name}')")
            for title in titles:
                yield Found(f"Plot: {title}", place, show, "chart curve")
    for title in _WHAT_IF_PLOTS if kinds else ():
        yield Found(f"Plot: {title}, today and then", "What if, on Costs", app.action_what_if, "chart bars")


_BY_VALVE = ("pH of the house water", "Hardness after the tank", "Sodium", "Salt a year", "Calcite a year")
_PLOTS = (
    ("neutralizer", "valve", "What the valve does, on Water", tuple(f"{one}, by the valve" for one in _BY_VALVE)),
    ("softener", "salt_out", "If the salt runs out, on Water", ("Nitrate without salt", "Hardness without salt")),
)
"""Kind of stage that must be there, the view, what it is called, and what it draws."""
_WHAT_IF_PLOTS = ("Cash added up", "Salt a year", "Nitrate run", "Sodium at the tap")


def guide(app: WellwardApp) -> Iterator[Found]:
    """Every question of the guide."""
    for one in questions():
        yield Found(one.asks, f"Guide, {one.topic}", partial(app.action_guide, one.id), f"{one.why} {one.then}")


def helps(app: WellwardApp) -> Iterator[Found]:
    """What each area is for."""
    for area, title, about in AREAS:
        yield Found(f"Help: {title}", about, partial(app.action_help, area), told_of(area))
