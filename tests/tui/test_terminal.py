"""The real program in a real terminal: it starts, answers keys, and leaves the terminal and no traceback behind."""

from __future__ import annotations

import os
import pty
import select
import struct
import subprocess
import sys
import time
from contextlib import suppress
from datetime import date
from fcntl import ioctl
from pathlib import Path
from termios import TIOCSWINSZ

from model.records.events import PausedService, Service
from model.store.repository import Repository
from tests.tui.helpers import HOUSE

RUN = "import sys; from tui.cli.main import main; sys.exit(main())"


class Terminal:
    """A child program in a terminal of 80 x 24."""

    def __init__(self, *words: str) -> None:
        self.seen = b""
        self.pid, self.screen = pty.fork()
        if self.pid == 0:
            os.environ |= {"TERM": "xterm-256color"}
            os.execv(sys.executable, [sys.executable, "-c", RUN, *words])
        ioctl(self.screen, TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))

    def wait_for(self, mark: bytes, timeout: float = 20.0) -> None:
        end = time.monotonic() + timeout
        while mark not in self.seen:
            ready, _, _ = select.select([self.screen], [], [], max(end - time.monotonic(), 0.0))
            assert ready, f"{mark!r} did not appear"
            self.seen += os.read(self.screen, 65536)

    def look(self, seconds: float) -> None:
        """Take in what it draws for a while."""
        end = time.monotonic() + seconds
        while (left := end - time.monotonic()) > 0:
            if select.select([self.screen], [], [], left)[0]:
                self.seen += os.read(self.screen, 65536)

    def press(self, keys: bytes) -> None:
        os.write(self.screen, keys)

    def leave(self, timeout: float = 10.0) -> int:
        end = time.monotonic() + timeout
        while time.monotonic() < end:
            if select.select([self.screen], [], [], 0.05)[0]:
                with suppress(OSError):
                    self.seen += os.read(self.screen, 65536)
            done, status = os.waitpid(self.pid, os.WNOHANG)
            if done:
                os.close(self.screen)
                return os.waitstatus_to_exitcode(status)
        os.kill(self.pid, 9)
        raise AssertionError("the program did not leave")

    def lose(self, timeout: float = 10.0) -> int:
        """Close the terminal, as a dropped line does; gives how the program ended."""
        os.close(self.screen)
        end = time.monotonic() + timeout
        while time.monotonic() < end:
            done, status = os.waitpid(self.pid, os.WNOHANG)
            if done:
                return os.waitstatus_to_exitcode(status)
            time.sleep(0.05)
        os.kill(self.pid, 9)
        raise AssertionError("the program lives on without a terminal")


def test_the_demo_starts_answers_keys_and_leaves() -> None:
    terminal = Terminal("demo", "--today", "2026-11-25")
    terminal.wait_for(b"Overdue")
    terminal.press(b"5")
    terminal.wait_for(b"twelve months")
    terminal.press(b"\x11")
    assert terminal.leave() == 0
    assert b"Traceback" not in terminal.seen
    assert b"\x1b[?1049l" in terminal.seen, "the alternate screen was not left"


def test_a_newcomer_sets_up_a_home_records_a_first_service_and_reads_the_cost(tmp_path: Path) -> None:
    path = tmp_path / "new" / "home.json"
    terminal = Terminal("--file", str(path), "--today", "2026-11-25")
    for place in range(1, 10):
        terminal.wait_for(f"{place} of 9".encode())
        terminal.press(b"\r")
    terminal.wait_for(b"set up")
    terminal.wait_for(b"coliform")
    terminal.press(b"\r")
    terminal.wait_for(b"CAUTIONS")
    terminal.press(b"\x13")
    terminal.wait_for(b"Photo (file name)")
    terminal.press(b"\x13")
    terminal.wait_for(b"Recorded")
    terminal.press(b"5")
    terminal.wait_for(b"No price is known yet")
    terminal.press(b"\x11")
    assert terminal.leave() == 0
    assert b"Traceback" not in terminal.seen
    (service,) = (one for one in Repository(path).load().events if isinstance(one, Service))
    assert (service.task, service.on) == ("well.coliform_test", date(2026, 11, 25))
    names = sorted(one.name for one in path.parent.iterdir())
    assert names == [".home.json.backups", ".home.json.lock", "home.json"], "nothing is left of the set-up"


def test_a_file_that_cannot_be_read_is_one_line_in_the_terminal(tmp_path: Path) -> None:
    path = tmp_path / "home.json"
    path.write_text("not a home")
    terminal = Terminal("--file", str(path))
    assert terminal.leave() == 1
    assert b"cannot be read" in terminal.seen.replace(b"\r\n", b" ")
    assert b"Traceback" not in terminal.seen


def test_a_lost_terminal_saves_what_was_ticked_a_moment_ago_and_ends(tmp_path: Path) -> None:
    path = tmp_path / "home.json"
    store = Repository(path)
    store.create(HOUSE)
    terminal = Terminal("--file", str(path), "--today", "2026-11-25")
    terminal.wait_for(b"Quit")
    terminal.press(b"2")
    terminal.wait_for(b"when it happens")
    terminal.press(b"\r")
    terminal.wait_for(b"Leave")
    for _ in range(4):
        terminal.press(b" ")
        terminal.look(0.3)
    saved = store.load().events[-1]
    assert isinstance(saved, PausedService)
    assert saved.ticked == (0,), "the later ticks would be saved by themselves only seconds later"
    assert terminal.lose() == 0
    last = store.load().events[-1]
    assert isinstance(last, PausedService)
    assert last.ticked[:2] == (0, 1)


def test_a_terminal_lost_without_a_signal_ends_the_program(tmp_path: Path) -> None:
    path = tmp_path / "home.json"
    Repository(path).create(HOUSE)
    ours, theirs = pty.openpty()
    ioctl(ours, TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    # In a session of its own it has no controlling terminal, so the system has nobody to send a signal to.
    command = [sys.executable, "-c", RUN, "--file", str(path)]
    child = subprocess.Popen(command, stdin=theirs, stdout=theirs, stderr=theirs, start_new_session=True)
    os.close(theirs)
    seen = b""
    while b"Quit" not in seen:
        assert select.select([ours], [], [], 20.0)[0]
        seen += os.read(ours, 65536)
    os.close(ours)
    try:
        assert child.wait(10.0) == 0
    finally:
        child.kill()
