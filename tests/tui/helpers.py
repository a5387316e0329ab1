"""A small home in memory on a fixed day, and ways to look at what is on the screen."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import msgspec
from textual._context import visible_screen_stack
from textual.pilot import Pilot

from model.equipment.registry import AnyStage
from model.equipment.sediment_filter import SedimentFilter
from model.equipment.softener import Softener
from model.equipment.well import Well
from model.home import Home, House, Supply
from model.records.events import AnyEvent, LabReport, Reading, Service, Taken
from model.store.numbering import numbered_after
from tui.app import WellwardApp
from tui.view import Session
from tui.widgets.steps import StepLine

TODAY = date(2026, 11, 25)
SALT = "softener.refill_salt"
CARTRIDGE = "sediment_filter.replace_cartridge"

STAGES: tuple[AnyStage, ...] = (
    Well(id="well"),
    SedimentFilter(id="sediment_filter", supplies={"cartridge": "cartridge"}),
    Softener(id="softener", supplies={"salt": "salt"}),
)
HOUSE = House(
    name="Hill House",
    started=date(2026, 1, 1),
    stages=STAGES,
    supplies=(
        Supply(id="salt", title="Salt [b]pellets", unit="kg", pack=18.0, on_shelf=72.0),
        Supply(id="cartridge", title="5 micron cartridge", on_shelf=2.0),
    ),
)


_REPORT = tuple(
    Taken(quantity=quantity, value=value, point="source")
    for quantity, value in (("pH", 7.2), ("alkalinity", 140.0), ("hardness", 150.0), ("temperature", 11.0))
)


class MemoryStore:
    """A store that keeps the home in memory and numbers its events."""

    path = Path("home.json")

    def __init__(self, home: Home) -> None:
        self.home = home

    def load(self) -> Home:
        """The home."""
        return self.home

    def append(self, event: AnyEvent, *more: AnyEvent) -> Home:
        """Number the events as a file would and add them."""
        new = numbered_after(self.home.events, (event, *more), "somebody")
        added = (msgspec.structs.replace(one, at="2026-11-25T12:00:00Z") for one in new)
        self.home = Home(self.home.house, (*self.home.events, *added))
        return self.home

    def each(self, *events: AnyEvent) -> None:
        """Add events as if recorded one after another."""
        for event in events:
            MemoryStore.append(self, event)

    def changed_outside(self) -> bool:
        """Nobody else writes."""
        return False


def a_store(*events: AnyEvent, house: House = HOUSE) -> MemoryStore:
    """A home with a refill of the salt and two meter readings, then the events given."""
    store = MemoryStore(Home(house))
    if house.stages:
        store.each(
            Service(on=date(2026, 10, 1), task=SALT, used={"salt": 18.0}),
            Service(on=date(2026, 9, 1), task=CARTRIDGE, used={"cartridge": 1.0}),
            Reading(on=date(2026, 10, 1), taken=Taken(quantity="meter", value=100_000.0, point="house")),
            Reading(on=date(2026, 11, 1), taken=Taken(quantity="meter", value=118_600.0, point="house")),
            LabReport(on=date(2026, 2, 1), point="source", taken=_REPORT),
        )
    store.each(*events)
    return store


def an_app(store: MemoryStore | None = None) -> WellwardApp:
    """The program on a home in memory."""
    return WellwardApp(Session(store or a_store(), lambda: TODAY))


def events(app: WellwardApp) -> tuple[AnyEvent, ...]:
    """Everything recorded."""
    return app.session.view.home.events


def shown(app: WellwardApp) -> str:
    """The text on the screen, line by line, from the compositor: a picture takes twenty times as long."""
    visible_screen_stack.set(app._background_screens)
    return "\n".join(strip.text.rstrip() for strip in app.screen._compositor.render_strips())


async def until(pilot: Pilot[None], holds: Callable[[], object]) -> None:
    """Wait until something holds, for two seconds at most."""
    for _ in range(40):
        if holds():
            return
        await pilot.pause(0.05)
    raise AssertionError(f"still not so:\n{shown(pilot.app)}")  # type: ignore[arg-type]


async def see(pilot: Pilot[None], app: WellwardApp, words: str) -> str:
    """Wait until the words are on the screen; gives the whole text."""
    await until(pilot, lambda: words in shown(app))
    return shown(app)


async def to_first_step(pilot: Pilot[None], app: WellwardApp) -> StepLine:
    """Go down from where a job begins, past the readings before it, until its first step is in focus and on screen."""
    await pilot.press("shift+tab", "tab")
    for _ in range(20):
        if isinstance(app.focused, StepLine):
            await pilot.press("shift+tab", "tab")
            return app.focused
        await pilot.press("tab")
    raise AssertionError("no step is in reach")


async def press(pilot: Pilot[None], *keys: str) -> None:
    """Press keys one after another and let them take effect."""
    await pilot.press(*keys)
