"""The key that records a meter reading, in a real terminal, against an empty app's answer to a key.

The home has 5,000 events on disk. Ours is timed until it says that the reading is recorded, the last thing to appear:
the new dates stand by then. Both are left alone in between, so that nothing else is being drawn.
"""

from __future__ import annotations

import os
import select
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from statistics import median

from model.store.repository import Repository
from tests.benchmarks.measure import Measure
from tests.benchmarks.planning import TODAY, long_home
from tests.benchmarks.screens import OURS, begin, drain, read_until, reap

COUNTER = """
from textual.app import App
from textual.widgets import Footer, Header, Static
class Counter(App):
    BINDINGS = [("ctrl+q", "quit", "Quit"), ("x", "count", "Count")]
    count = 0
    def compose(self):
        yield Header()
        yield Static("ready")
        yield Footer()
    def action_count(self):
        self.count += 1
        self.query_one(Static).update("ab"[self.count % 2] * 9)
Counter().run()
"""
_TIMES = 8
_TOAST_SECONDS = 7.0
_BEYOND_GALLONS = 625_060
"""A little more than the meter of the long home shows: far more would be asked about."""


def record_key() -> Measure:
    """From the key that records a reading at 5,000 events until the screen shows it."""
    value = median(_readings()) / median(_answers())
    return Measure("record_key", value, 3.0, "an empty Textual app's answer to a key")


def _answers() -> list[float]:
    with _running(["-c", COUNTER], b"ready") as terminal:
        return [_timed(terminal, b"x", b"ba"[place % 2 :][:1] * 9) for place in range(_TIMES)]


def _readings() -> list[float]:
    with tempfile.TemporaryDirectory() as folder:
        path, made = Path(folder) / "home.json", long_home(5_000)
        Repository(path).create(made.house, made.events)
        with _running(["-c", OURS, "--file", str(path), "--today", str(TODAY)], b"Overdue") as terminal:
            return [_reading(terminal, _BEYOND_GALLONS + 10 * place) for place in range(_TIMES)]


def _reading(terminal: int, count: int) -> float:
    for key in (b"r", b"\t", b"\t", *(bytes([digit]) for digit in str(count).encode())):
        os.write(terminal, key)
        _leave(terminal, 0.3)
    found = _timed(terminal, b"\r", b"Recorded")
    _leave(terminal, _TOAST_SECONDS)
    return found


def _timed(terminal: int, key: bytes, mark: bytes) -> float:
    _leave(terminal, 0.5)
    start = time.perf_counter()
    os.write(terminal, key)
    read_until(terminal, mark)
    return time.perf_counter() - start


def _leave(terminal: int, seconds: float) -> None:
    """Take what is drawn for so long."""
    end = time.perf_counter() + seconds
    while (left := end - time.perf_counter()) > 0 and select.select([terminal], [], [], left)[0]:
        os.read(terminal, 65536)


@contextmanager
def _running(arguments: list[str], mark: bytes) -> Iterator[int]:
    pid, terminal = begin([sys.executable, *arguments])
    try:
        read_until(terminal, mark)
        _leave(terminal, 1.5)
        yield terminal
        os.write(terminal, b"\x11")
        drain(terminal)
    finally:
        reap(pid)
        os.close(terminal)
