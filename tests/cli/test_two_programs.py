"""Two programs on one file, a session and commands, each of which records without waiting for the other."""

from __future__ import annotations

import subprocess
import sys
from datetime import date
from itertools import pairwise
from pathlib import Path

from model.records.events import Incident, Purchase
from model.store.repository import Repository
from tests.cli.conftest import TODAY, Shell
from tui.view import Session

ROOT = Path(__file__).parents[2]
EACH = 30

COMMANDS = """
import sys
from tui.cli import main, recording
print("ready", flush=True)
sys.stdin.readline()
sys.stdout = open("/dev/null", "w")
for number in range(int(sys.argv[2])):
    assert main(["buy", "lamp", "1", "--file", sys.argv[1]]) == 0
"""
SESSION = """
import sys
import time
from datetime import date
from model.records.events import Incident
from model.store.repository import Repository
from tui.view import Session
session = Session(Repository(sys.argv[1]), date.today)
print("ready", flush=True)
sys.stdin.readline()
for number in range(int(sys.argv[2])):
    session.record(Incident(on=date.today(), what=f"number {number}"))
    session.refresh()
    assert session.trouble is None
    time.sleep(0.02)  # a command takes longer than a session's write: neither is to be done before the other begins
"""


def test_nothing_is_lost_where_a_session_and_commands_write_in_turn(shell: Shell) -> None:
    store = Repository(shell.path)
    before = len(store.load().events)
    writers = [
        subprocess.Popen(
            [sys.executable, "-c", code, str(shell.path), str(EACH)],
            cwd=ROOT,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            text=True,
        )
        for code in (COMMANDS, SESSION)
    ]
    assert [writer.stdout.readline() for writer in writers if writer.stdout] == ["ready\n"] * 2
    for writer in writers:
        assert writer.stdin is not None
        writer.stdin.write("go\n")
        writer.stdin.flush()
    for writer in writers:
        _, complaint = writer.communicate()
        assert writer.returncode == 0, complaint
    new = store.load().events[before:]
    assert [one.id for one in new] == list(range(new[0].id, new[0].id + 2 * EACH))
    said = [one.what for one in new if isinstance(one, Incident)]
    assert said == [f"number {number}" for number in range(EACH)]
    assert sum(isinstance(one, Purchase) for one in new) == EACH
    assert sum(type(one) is not type(after) for one, after in pairwise(new)) > 1, "they did not write in turn"
    assert not store.problems()


def test_what_a_command_records_is_taken_in_by_the_session(shell: Shell) -> None:
    day = date.fromisoformat(TODAY)
    session = Session(Repository(shell.path), lambda: day)
    before = session.view
    assert session.refresh() is before
    assert shell("buy", "lamp", "1").code == 0
    after = session.refresh()
    assert after is not before
    assert isinstance(after.home.events[-1], Purchase)
    assert shell("undo").code == 0
    session.record(Incident(on=day, what="frost"))
    assert [type(one).__name__ for one in session.view.home.events[-3:]] == ["Purchase", "Correction", "Incident"]
