"""Writing a page to where the user asks: a file, whole or not at all, or the standard output."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING

from model.errors import StoreError
from model.store.files import replace_file, telling, true_path
from tui.cli.home_file import path_of, print_json

if TYPE_CHECKING:
    from tui.cli.parser import Asked

_NOW = "Name another file, or see who may write there."


def give(asked: Asked, text: bytes, what: str, document: dict[str, object]) -> int:
    """Write `text` to the file asked for, or print it. With --json: `document`, with the file under "file".

    Raises:
        StoreError: the file is the home's own, no plain file, or cannot be written.
    """
    path = None if asked.to is None else _written(asked, asked.to, text)
    if asked.json:
        print_json({"file": str(path) if path else None, **document})
    elif path:
        print(f"Wrote {what} to {path}.")
    else:
        _print(text)
    return 0


def _written(asked: Asked, to: Path, text: bytes) -> Path:
    try:
        path = true_path(to)
        _check(path, true_path(path_of(asked)))
        with telling(path, "written"):
            replace_file(path, text)
    except StoreError as problem:
        raise StoreError(problem.what, _NOW) from problem
    return path


def _check(path: Path, home: Path) -> None:
    with telling(path, "looked at"):
        if path.exists() and not path.is_file():
            raise StoreError(f"{path} is not a file but a folder or device.", _NOW)
        if path == home or (path.exists() and home.exists() and path.samefile(home)):
            raise StoreError(f"{path} is the home's own file and stays as it is.", _NOW)


def _print(text: bytes) -> None:
    """The bytes as they are: a calendar's lines end in two marks. What people wrote was made harmless before."""
    out = getattr(sys.stdout, "buffer", None)
    if out is None:
        print(text.decode())
        return
    sys.stdout.flush()
    out.write(text)
    out.flush()
