"""The demo's first screen, in a real terminal, against an empty Textual app."""

from __future__ import annotations

import os
import pty
import select
import signal
import struct
import sys
import tempfile
import time
from contextlib import redirect_stdout
from fcntl import ioctl
from io import StringIO
from pathlib import Path
from statistics import median
from termios import TIOCSWINSZ
from typing import NamedTuple

from tests.benchmarks.measure import Measure

EMPTY = """
from textual.app import App
from textual.widgets import DataTable, Footer, Header
class Empty(App):
    BINDINGS = [("ctrl+q", "quit", "Quit")]
    def compose(self):
        yield Header()
        yield DataTable()
        yield Footer()
    def on_mount(self):
        table = self.query_one(DataTable)
        table.add_columns("job", "stage", "date", "left")
        for row in range(30):
            table.add_row(f"rowmark{row}", "stage", "2026-11-25", "31 kg")
Empty().run()
"""
OURS = "import sys; from tui.cli.main import main; sys.exit(main())"


class Shown(NamedTuple):
    """One start: seconds to the first useful screen, and the peak memory in KiB."""

    seconds: float
    peak_kib: int


def first_screen() -> Measure:
    """Time from the start of the process until the first jobs are on screen."""
    ours, theirs = _both(rounds=9)
    value = median(one.seconds for one in ours) / median(one.seconds for one in theirs)
    return Measure("first_screen", value, 1.4, "an empty Textual app with header, footer and 30 rows")


def memory() -> Measure:
    """Peak memory of the same two, after the first screen."""
    ours, theirs = _both(rounds=3)
    value = median(one.peak_kib for one in ours) / median(one.peak_kib for one in theirs)
    return Measure("memory", value, 1.5, "an empty Textual app's peak memory")


def _both(rounds: int) -> tuple[list[Shown], list[Shown]]:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "home.json"
        _copy(path)
        mine = ["-c", OURS, "--file", str(path)]
        pairs = [(_start(mine, b"Overdue"), _start(["-c", EMPTY], b"rowmark9")) for _ in range(rounds + 1)]
    return [pair[0] for pair in pairs[1:]], [pair[1] for pair in pairs[1:]]


def _copy(path: Path) -> None:
    from tui.cli.main import main

    with redirect_stdout(StringIO()):
        assert main(["demo", "--copy", str(path)]) == 0


def _start(arguments: list[str], mark: bytes) -> Shown:
    """Start Python in a terminal, wait for the mark, press ctrl+q, and reap it."""
    start = time.perf_counter()
    pid, terminal = begin([sys.executable, *arguments])
    try:
        read_until(terminal, mark)
        shown = time.perf_counter() - start
        time.sleep(0.3)
        os.write(terminal, b"\x11")
        drain(terminal)
    finally:
        peak = reap(pid)
        os.close(terminal)
    return Shown(shown, peak)


def begin(command: list[str]) -> tuple[int, int]:
    """A program in a terminal of 120 x 40: its process, and the terminal."""
    pid, terminal = pty.fork()
    if pid == 0:
        os.environ |= {"TERM": "xterm-256color", "COLUMNS": "120", "LINES": "40"}
        os.execv(command[0], command)
    ioctl(terminal, TIOCSWINSZ, struct.pack("HHHH", 40, 120, 0, 0))
    return pid, terminal


def read_until(terminal: int, mark: bytes, timeout: float = 20.0) -> None:
    """Take what is drawn until the mark is among it. Raises TimeoutError."""
    seen, end = b"", time.perf_counter() + timeout
    while mark not in seen:
        if not select.select([terminal], [], [], max(end - time.perf_counter(), 0))[0]:
            raise TimeoutError(f"{mark!r} did not appear in {timeout} s")
        seen += os.read(terminal, 65536)


def drain(terminal: int, timeout: float = 5.0) -> None:
    """Take what a program draws until it is gone or still."""
    end = time.perf_counter() + timeout
    while time.perf_counter() < end and select.select([terminal], [], [], 0.5)[0]:
        try:
            if not os.read(terminal, 65536):
                return
        except OSError:
            return


def reap(pid: int) -> int:
    """The peak memory of a program that was told to leave [KiB]; one that does not is killed."""
    for _ in range(50):
        done, _, usage = os.wait4(pid, os.WNOHANG)
        if done:
            return usage.ru_maxrss
        time.sleep(0.1)
    os.kill(pid, signal.SIGKILL)
    return os.wait4(pid, 0)[2].ru_maxrss
