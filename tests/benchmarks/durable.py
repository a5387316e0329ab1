"""One event recorded at 50,000: ours on the disk with a backup, against TinyDB's own storage, which syncs nothing."""

from __future__ import annotations

import tempfile
from datetime import date
from pathlib import Path

import msgspec
from tinydb import TinyDB
from tinydb.storages import JSONStorage

from model.records.events import Incident
from model.store.repository import Repository
from tests.benchmarks.measure import Measure, ratio, seconds
from tests.benchmarks.planning import long_home

_EVENTS = 50_000
_FROST = Incident(on=date(2026, 11, 25), what="frost")


def record_50000() -> Measure:
    """How many times faster ours is. Both are opened anew for each event, as by a command."""
    made = long_home(_EVENTS)
    with tempfile.TemporaryDirectory() as folder:
        ours, theirs = Path(folder) / "ours.json", Path(folder) / "theirs.json"
        Repository(ours).create(made.house, made.events)
        with TinyDB(theirs, storage=JSONStorage) as db:
            db.table("events").insert_multiple([msgspec.to_builtins(one) for one in made.events])
        value = ratio(
            lambda: seconds(lambda: _theirs(theirs)), lambda: seconds(lambda: Repository(ours).append(_FROST)), rounds=7
        )
    return Measure("record_50000", value, 4.0, "one insert by TinyDB's JSON storage, not durable", at_least=True)


def _theirs(path: Path) -> None:
    with TinyDB(path, storage=JSONStorage) as db:
        db.table("events").insert(msgspec.to_builtins(_FROST))
