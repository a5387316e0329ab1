"""A small home, and a place for its file."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from tinydb import TinyDB
from tinydb.storages import MemoryStorage

from model.equipment.softener import Softener
from model.home import House, Supply
from model.store.repository import Repository
from model.store.storage import SafeStorage


@pytest.fixture
def house() -> House:
    return House(
        name="Hillside",
        started=date(2027, 1, 1),
        stages=(Softener(id="softener", supplies={"salt": "salt"}),),
        supplies=(Supply(id="salt", title="Salt, 40 lb", unit="kg", pack=18.1, price=8.5),),
    )


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "wellward" / "home.json"


@pytest.fixture
def repository(path: Path, house: House) -> Repository:
    """A home on the disk, without events."""
    repository = Repository(path, by="Ann")
    repository.create(house)
    return repository


@pytest.fixture(params=["memory", "file"])
def db(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[TinyDB]:
    """An empty TinyDB, once in memory and once in a file of ours."""
    if request.param == "memory":
        made = TinyDB(storage=MemoryStorage)
    else:
        made = TinyDB(tmp_path / "tables.json", storage=SafeStorage)
    with made:
        yield made
