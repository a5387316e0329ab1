"""Moving the valve on the Water screen against an empty Textual app that shows other words at each key.

From the key handed to the app until its screen is painted anew; the time of the processor, as the wait for the next
frame (up to a sixtieth of a second) is the same for both and would hide the difference.
"""

from __future__ import annotations

import asyncio
import gc
import time
from contextlib import AsyncExitStack
from datetime import date
from statistics import median
from typing import ClassVar

from textual import events
from textual.app import App, ComposeResult
from textual.binding import BindingType
from textual.pilot import Pilot
from textual.widgets import Static

from model.home import Home
from model.records.events import AnyEvent
from model.redate import redated
from model.store.repository import Repository
from sample_data import SAMPLE
from tests.benchmarks.measure import Measure
from tui.app import WellwardApp
from tui.screens.valve import ValveScreen
from tui.view import Session
from tui.widgets.valve_words import MOST_PERCENT

SIZE = (120, 40)
ROUNDS = 200
TODAY = date(2026, 11, 25)


class Empty(App[None]):
    """One block of words as large as the view's, changed at each key."""

    BINDINGS: ClassVar[list[BindingType]] = [("right", "turn(1)", ""), ("left", "turn(-1)", "")]

    def __init__(self, lines: int, width: int) -> None:
        super().__init__()
        self._lines, self._width, self._turn = lines, width, 0

    def compose(self) -> ComposeResult:
        yield Static(self._words())

    def action_turn(self, step: int) -> None:
        self._turn += step
        self.query_one(Static).update(self._words())

    def _words(self) -> str:
        return "\n".join(f"{self._turn:>4}".ljust(self._width, "x") for _ in range(self._lines))


class Kept:
    """A home that is only looked at."""

    path = SAMPLE

    def __init__(self) -> None:
        self._home = redated(Repository(SAMPLE).load(), TODAY)

    def load(self) -> Home:
        return self._home

    def append(self, event: AnyEvent, *more: AnyEvent) -> Home:
        raise AssertionError("looking records nothing")

    def changed_outside(self) -> bool:
        return False


class Stopwatch:
    """Times an app from a key to the next paint."""

    def __init__(self, app: App[None], monitored: str = "_display") -> None:
        self._app = app
        self._painted = asyncio.Event()
        self._at = (0.0, 0.0)
        self._paint = getattr(app, monitored)
        setattr(app, monitored, self._painting)

    def _painting(self, *arguments: object) -> None:
        self._paint(*arguments)
        self._at = _now()
        self._painted.set()

    async def press(self, key: str) -> tuple[float, float]:
        """Seconds of the processor and of the wall clock."""
        self._painted.clear()
        gc.collect()
        cpu, wall = _now()
        self._app.post_message(events.Key(key, None))
        await asyncio.wait_for(self._painted.wait(), 5.0)
        return self._at[0] - cpu, self._at[1] - wall


def _now() -> tuple[float, float]:
    return time.process_time(), time.perf_counter()


def valve_move() -> Measure:
    """Median of one move over the median of one change of the empty app, taken in turn."""
    cpu, _ = asyncio.run(ratios())
    return Measure("valve_move", cpu, 2.0, "an empty Textual app whose words change at a key, processor time to paint")


async def ratios(rounds: int = ROUNDS) -> tuple[float, float]:
    """Of processor time, and of the wall clock."""
    ours = WellwardApp(Session(Kept(), lambda: TODAY))
    async with AsyncExitStack() as stack:
        pilot = await stack.enter_async_context(ours.run_test(size=SIZE))
        width, height = await _open(pilot, ours)
        theirs = Empty(height, width)
        other = await stack.enter_async_context(theirs.run_test(size=SIZE))
        await other.pause()
        return await _in_turn(Stopwatch(ours), Stopwatch(theirs), rounds)


async def _open(pilot: Pilot[None], app: WellwardApp) -> tuple[int, int]:
    """Wait until the curve is whole; gives the size of the board."""
    await pilot.press("3", "v")
    for _ in range(600):
        await pilot.pause(0.05)
        screen = app.screen
        if isinstance(screen, ValveScreen) and len(screen.curve.by_percent) == MOST_PERCENT + 1:
            return screen.board.size.width, screen.board.size.height
    raise TimeoutError("the curve was not worked out")


async def _in_turn(ours: Stopwatch, theirs: Stopwatch, rounds: int) -> tuple[float, float]:
    pairs = []
    for place in range(rounds + 10):
        key = "right" if place // 40 % 2 == 0 else "left"
        pairs.append((await ours.press(key), await theirs.press(key)))
    kept = pairs[10:]
    return tuple(  # type: ignore[return-value]
        median(one[0][clock] for one in kept) / median(one[1][clock] for one in kept) for clock in (0, 1)
    )
