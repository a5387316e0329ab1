"""The commands that open the full screen: on the home's file, or on a copy of the sample home."""

from __future__ import annotations

import tempfile
from contextlib import suppress
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from model import clock
from model.errors import BadInput, WellwardError
from model.home import House
from model.store.repository import Repository
from tui.cli.home_file import path_of, print_json

if TYPE_CHECKING:
    from tui.cli.parser import Asked


def open_home(asked: Asked) -> int:
    """The full screen. Where there is no file yet, a blank home to fill in under House."""
    store = Repository(path_of(asked))
    if store.exists():
        return _show(store, asked, throwaway=False)
    folder_was_there = store.path.parent.exists()
    store.create(House(name="My well", started=asked.today))
    blank = store.path.read_bytes()
    try:
        return _show(store, asked, throwaway=False)
    except WellwardError:
        # No screen could be opened: what nobody has seen is not left behind.
        _clear_away(store.path, blank, with_folder=not folder_was_there)
        raise


def _clear_away(path: Path, blank: bytes, *, with_folder: bool) -> None:
    """Take away a home made a moment ago, unless something was recorded in it since."""
    with suppress(OSError):
        if path.read_bytes() != blank:
            return
        path.unlink()
        path.with_name(f".{path.name}.lock").unlink(missing_ok=True)
        if with_folder:
            path.parent.rmdir()


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
    return run(Session(store, (lambda: today) if fixed else clock.today, throwaway=throwaway))
