"""Programs killed at random moments of their saves, and what is left of the file.

Each is a process of its own that records one event after another, and reports an event once `append` has returned. It
is killed by SIGKILL after a random time. Then the file has to be readable, with every event ever reported; at the end
every backup too. This shows what a killed program leaves; against a power cut every write is synced.
"""

from __future__ import annotations

import os
import random
import signal
import sys
import tempfile
import time
from contextlib import suppress
from datetime import date
from pathlib import Path

import msgspec

from model.errors import StoreError
from model.records.events import Incident
from model.store.backups import list_backups
from model.store.repository import Repository
from tests.benchmarks.planning import long_home

MANY = 2_000
_SIZES = {"small": (20, 0.06), "large": (20_000, 0.4)}
"""Events at the start, and within how long the writer is killed [s]: some saves long."""

_EVENT = Incident(on=date(2026, 11, 25), what="x" * 500)


class Killed(msgspec.Struct, kw_only=True):
    """What became of some kills. `in_a_save`: kills that left a half-written file beside the home's."""

    state: str
    kills: int = 0
    reported: int = 0
    in_a_save: int = 0
    unreadable: int = 0
    lost: int = 0
    bad_backups: int = 0

    @property
    def holds(self) -> bool:
        """Nothing was lost."""
        return not (self.unreadable or self.lost or self.bad_backups)


def kills(words: list[str]) -> None:
    """Print the figures of so many kills, half at a small and half at a large home. Exits 1 where anything was lost."""
    many = int(words[0]) if words else MANY
    found = [kill(state, many // 2, seed=many) for state in _SIZES]
    for one in found:
        print(" ".join(f"{name}={value}" for name, value in msgspec.structs.asdict(one).items()), flush=True)
    sys.exit(0 if all(one.holds for one in found) else 1)


def kill(state: str, many: int, seed: int) -> Killed:
    """Kill so many writers of a home of one size, one after another on one file."""
    events, window = _SIZES[state]
    found, chance, reported = Killed(state=state), random.Random(seed), set[int]()
    with tempfile.TemporaryDirectory() as folder:
        path, made = Path(folder) / "home.json", long_home(events)
        Repository(path).create(made.house, made.events)
        Repository(path).append(_EVENT)  # what it imports, the writers have from here
        for _ in range(many):
            reported |= _killed(path, chance.uniform(0.0, window))
            found.in_a_save += path.with_name(f".{path.name}.tmp").exists()
            found.kills += 1
            _look(path, reported, found)
        found.bad_backups = sum(not one.readable for one in list_backups(path))
    found.reported = len(reported)
    return found


def _look(path: Path, reported: set[int], found: Killed) -> None:
    try:
        ids = {one.id for one in Repository(path).load().events}
    except StoreError as problem:
        print(problem, file=sys.stderr)
        found.unreadable += 1
        return
    found.lost += len(reported - ids)
    reported &= ids  # what is lost is counted once


def _killed(path: Path, seconds: float) -> set[int]:
    """The ids that a writer reported before it was killed."""
    reading, writing = os.pipe()
    writer = os.fork()
    if writer == 0:
        _write_for_ever(path, writing)
    os.close(writing)
    with os.fdopen(reading, "rb") as pipe:
        pipe.readline()  # it has begun
        time.sleep(seconds)
        os.kill(writer, signal.SIGKILL)
        lines = pipe.read().split(b"\n")[:-1]  # what is after the last line end was cut off
    os.waitpid(writer, 0)
    return {int(line) for line in lines}


def _write_for_ever(path: Path, pipe: int) -> None:
    with suppress(BaseException):
        store = Repository(path, by="writer")
        store.load()
        os.write(pipe, b"ready\n")
        while True:
            home = store.append(_EVENT)
            os.write(pipe, b"%d\n" % home.events[-1].id)
    os._exit(1)
