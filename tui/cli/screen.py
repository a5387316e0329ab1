"""The commands that open the full screen: on the home's file, or on a copy of the sample home."""

from __future__ import annotations

import tempfile
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from model import clock
from model.errors import BadInput
from model.store.repository import Repository
from tui.cli.home_file import path_of, print_json

if TYPE_CHECKING:
    from model.store.first import FirstRun
    from tui.cli.parser import Asked


def open_home(asked: Asked) -> int:
    """The full screen. Where there is no file yet it begins with the set-up, which writes one at its end."""
    return _show(Repository(path_of(asked)), asked, throwaway=False)


def demo(asked: Asked) -> int:
    """The sample home: copied to --copy, or opened on a copy that is thrown away afterwards."""
    if asked.copy is not None:
        copy_sample(asked.copy, asked.today)
        if asked.json:
            print_json({"copied": str(asked.copy)})
        else:
            print(f"The sample home is at {asked.copy}. Try: wellward due --file {asked.copy}")
        return 0
    with tempfile.TemporaryDirectory(prefix="wellward-demo-") as folder:
        path = Path(folder) / "home.json"
        copy_sample(path, asked.today)
        return _show(Repository(path), asked, throwaway=True)


def copy_sample(path: Path, today: date) -> None:
    """Write the sample home, its story moved to end today, to a file that is not there yet."""
    from model.redate import redated
    from sample_data import SAMPLE

    store = Repository(path)
    if store.exists():
        raise BadInput(f"There is already a file at {path}.", "Choose another place for the copy.")
    sample = redated(Repository(SAMPLE).load(), today)
    store.create(sample.house, sample.events)


def _show(store: Repository, asked: Asked, *, throwaway: bool) -> int:
    from tui.app import run
    from tui.view import Session

    fixed = asked.on_day is not None
    today = asked.today
    first = None if store.exists() else _first_run(store, today)
    return run(Session(first or store, (lambda: today) if fixed else clock.today, throwaway=throwaway, first=first))


def _first_run(store: Repository, today: date) -> FirstRun:
    from model.store.first import FirstRun

    return FirstRun(store, today)
