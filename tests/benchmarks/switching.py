"""Switching screens with 5,000 events, and scrolling a log of 20,000, against an empty Textual app in one process.

Processor time: what comes on top, the wait for the next tick of the screen, is the same for both.

python -m tests.benchmarks.switching     prints every time measured as JSON, seconds
"""

from __future__ import annotations

import asyncio
import json
import subprocess
import sys
import time
from statistics import median
from typing import ClassVar

from textual.app import App, ComposeResult
from textual.pilot import Pilot
from textual.screen import Screen
from textual.widgets import DataTable, Footer, Header

from tests.benchmarks.measure import Measure
from tests.benchmarks.planning import TODAY, long_home

_SIZE = (120, 40)
_AGAIN = 7
_STEPS = 40
_ROUNDS = 5
Times = dict[str, list[float]]


class Blank(Screen[None]):
    """What the aim calls empty: header, footer, a table of 30 rows."""

    def compose(self) -> ComposeResult:
        yield Header()
        yield DataTable[str]()
        yield Footer()

    def on_mount(self) -> None:
        table = self.query_one(DataTable)
        table.add_columns("job", "stage", "date", "left")
        for row in range(30):
            table.add_row(f"row{row}", "stage", "2026-11-25", "31 kg")


class Empty(App[None]):
    """Two such screens."""

    MODES: ClassVar = {"one": Blank, "two": Blank, "three": Blank}
    DEFAULT_MODE = "one"


class LongTable(App[None]):
    """A plain table of as many rows as Log shows at once."""

    def compose(self) -> ComposeResult:
        yield Header()
        yield DataTable[str](cursor_type="row")
        yield Footer()

    def on_mount(self) -> None:
        table = self.query_one(DataTable)
        table.add_columns("Day", "What", "Particulars")
        for row in range(500):
            table.add_row(f"row{row}", "Reading: meter", "1234 gal")
        table.focus()


def switch_first() -> Measure:
    """The first switch to the slowest screen, everything that it imports and works out with it."""
    return _switch("switch_first", "first", 3.0)


def switch_again() -> Measure:
    """A later switch to the slowest screen."""
    return _switch("switch_again", "again", 1.5)


def log_20000() -> Measure:
    """A page down in the log of 20,000 events."""
    found = _processes()
    return Measure("log_20000", _middle(found, "log") / _middle(found, "table"), 1.5, "a page down in a plain table")


def _switch(name: str, which: str, aim: float) -> Measure:
    found = _processes()
    theirs = _middle(found, f"{which} empty")
    ratios = {key.split()[1]: _middle(found, key) / theirs for key in found[0] if key.startswith(f"{which} ")}
    slowest = max(ratios, key=lambda one: ratios[one])
    told = ", ".join(f"{one} {ratio:.2f}" for one, ratio in ratios.items() if one != "empty")
    return Measure(name, ratios[slowest], aim, f"an empty Textual app's switch ({told})")


_KEPT: list[Times] = []


def _processes() -> list[Times]:
    """Fresh processes, so that a first time is a first time; kept for all measures of one run."""
    if not _KEPT:
        command = [sys.executable, "-m", "tests.benchmarks.switching"]
        for _ in range(_ROUNDS):
            _KEPT.append(json.loads(subprocess.run(command, check=True, capture_output=True).stdout))
    return _KEPT


def _middle(found: list[Times], key: str) -> float:
    return median(median(one[key]) for one in found)


async def _painted(app: App[None]) -> None:
    done = asyncio.Event()
    app.screen.call_after_refresh(done.set)
    await done.wait()


async def _timed_switch(app: App[None], mode: str) -> float:
    start = time.process_time()
    await app.switch_mode(mode)
    await _painted(app)
    return time.process_time() - start


async def _switches(app: App[None], modes: list[str], home: str) -> Times:
    """Each mode the first time, then again and again, always from `home`."""
    found: Times = {}
    async with app.run_test(size=_SIZE) as pilot:
        await pilot.pause()
        for mode in modes:
            found[f"first {mode}"] = [await _timed_switch(app, mode)]
            await pilot.pause()
            await _timed_switch(app, home)
            await pilot.pause()
        for mode in [mode for mode in modes for _ in range(_AGAIN)]:
            found.setdefault(f"again {mode}", []).append(await _timed_switch(app, mode))
            await pilot.pause()
            await _timed_switch(app, home)
            await pilot.pause()
    return found


async def _scroll(pilot: Pilot[None]) -> list[float]:
    found: list[float] = []
    for _ in range(_STEPS):
        table = pilot.app.screen.query_one(DataTable)
        start = time.process_time()
        table.action_page_down()
        await _painted(pilot.app)
        found.append(time.process_time() - start)
        if table.cursor_row >= table.row_count - 1:
            table.action_scroll_top()
        await pilot.pause()
    return found


async def _all() -> Times:
    from tests.tui.helpers import MemoryStore
    from tui.app import WellwardApp
    from tui.commands import AREAS
    from tui.view import Session

    theirs = await _switches(Empty(), ["two", "three"], "one")
    # The table's own imports are in its first switch only where it is the first; the second screen is the fair one.
    found = {f"{which} empty": theirs[f"{which} three"] for which in ("first", "again")}
    ours = WellwardApp(Session(MemoryStore(long_home(5_000)), lambda: TODAY))
    found |= await _switches(ours, [area for area, _, _ in AREAS if area != "week"], "week")
    table = LongTable()
    async with table.run_test(size=_SIZE) as pilot:
        await pilot.pause()
        found["table"] = await _scroll(pilot)
    log = WellwardApp(Session(MemoryStore(long_home(20_000)), lambda: TODAY))
    async with log.run_test(size=_SIZE) as pilot:
        await pilot.pause()
        found["open log"] = [await _timed_switch(log, "log")]
        await pilot.pause()
        found["log"] = await _scroll(pilot)
        start = time.process_time()
        await pilot.press("m")
        await _painted(log)
        found["more"] = [time.process_time() - start]
    return found


if __name__ == "__main__":
    print(json.dumps(asyncio.run(_all())))
