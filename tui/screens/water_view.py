"""What the views of Water share: they lie on it, open each other, and Escape goes back."""

from __future__ import annotations

from dataclasses import replace
from importlib import import_module
from typing import TYPE_CHECKING, ClassVar

from textual.binding import BindingType

from tui.commands import bindings
from tui.key_words import key
from tui.screens.area import AreaScreen

if TYPE_CHECKING:
    from tui.app import WellwardApp

VIEWS = {"valve": "ValveScreen", "salt_out": "SaltOutScreen", "mix": "MixScreen", "trends": "TrendsScreen"}
"""Module of a view -> its class."""

_WIDEST = 110
"""Longer lines are hard to read, in cells."""


def open_view(app: WellwardApp, name: str) -> None:
    """Show a view on top of Water, in the place of another one."""
    if isinstance(app.screen, WaterView):
        if type(app.screen).__name__ != VIEWS[name]:
            app.switch_screen(_made(name))
    else:
        app.push_screen(_made(name))


def open_trend(app: WellwardApp, task: str) -> None:
    """Show the plot that belongs to a job."""
    from model.forecast.trends import trend_of

    if (found := trend_of(app.session.view.trends, task)) is not None:
        app.show_plot(found.id)
        return
    told = f"No plot belongs to this job. {key('water.trends')} on Water shows all there are."
    app.notify(told, markup=False)


def _made(name: str) -> WaterView:
    made: WaterView = getattr(import_module(f"tui.screens.{name}"), VIEWS[name])()
    return made


class WaterView(AreaScreen):
    """A view of Water. The keys that open views work here as well."""

    AREA = "water"
    AUTO_FOCUS = ""
    BINDINGS: ClassVar[list[BindingType]] = [
        replace(one, show=False) for one in bindings("water") if "open_view" in one.action
    ]

    @property
    def text_width(self) -> int:
        """Cells for words and charts."""
        return min(max(self.app.size.width - 4, 20), _WIDEST)

    def action_open_view(self, name: str) -> None:
        """Go to another view."""
        open_view(self.app, name)

    def action_close(self) -> None:
        """Go back to Water."""
        if self.app.screen is self:
            self.app.pop_screen()
