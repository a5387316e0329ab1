"""Homes for the views of the Water screen, and ways into them."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache

import msgspec
from textual.pilot import Pilot

from model.equipment.registry import AnyStage, kind_of
from model.home import Home
from model.redate import redated
from model.store.repository import Repository
from sample_data import SAMPLE
from tests.tui.helpers import TODAY, MemoryStore, press, until
from tui.app import WellwardApp
from tui.screens.valve import ValveScreen
from tui.screens.water import WaterScreen
from tui.widgets.valve_words import MOST_PERCENT

SOME = (0, 10, 15, 16, 90, 95, MOST_PERCENT)
SIZES = [(80, 24), (120, 40), (60, 20)]


@cache
def whole_home() -> Home:
    return redated(Repository(SAMPLE).load(), TODAY)


def sample_home(change: Callable[[AnyStage], AnyStage | None] = lambda stage: stage) -> MemoryStore:
    """The sample home on the fixed day, each stage changed or left out."""
    home = whole_home()
    stages = tuple(one for one in map(change, home.house.stages) if one is not None)
    return MemoryStore(Home(msgspec.structs.replace(home.house, stages=stages), home.events))


def without(*kinds: str) -> MemoryStore:
    return sample_home(lambda stage: None if kind_of(stage) in kinds else stage)


def with_(kind: type, **fields: object) -> MemoryStore:
    return sample_home(lambda stage: msgspec.structs.replace(stage, **fields) if isinstance(stage, kind) else stage)


def unknown() -> MemoryStore:
    """The sample home without anything recorded."""
    return MemoryStore(Home(sample_home().home.house))


def shows(app: WellwardApp, kind: type) -> bool:
    return isinstance(app.screen, kind)


async def opened(pilot: Pilot[None], app: WellwardApp, key: str) -> None:
    await press(pilot, "3")
    await until(pilot, lambda: isinstance(app.screen, WaterScreen))
    await press(pilot, key)


async def the_valve(pilot: Pilot[None], app: WellwardApp) -> ValveScreen:
    """The valve view once its curve is whole."""
    await opened(pilot, app, "v")
    await until(pilot, lambda: isinstance(app.screen, ValveScreen))
    screen = app.screen
    assert isinstance(screen, ValveScreen)
    await until(pilot, lambda: len(screen.curve.by_percent) == len(SOME))
    await pilot.pause()
    return screen
