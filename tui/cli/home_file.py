"""Which file a command works on, and how it prints."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar

import msgspec

from model.store.numbering import login
from model.store.repository import Repository, default_path
from model.visible import escaped

if TYPE_CHECKING:
    from model.records.events import AnyEvent
    from tui.cli.parser import Asked

E = TypeVar("E", bound="AnyEvent")


def path_of(asked: Asked) -> Path:
    """The home's file: --file, or the one in the user's data folder."""
    return asked.file if asked.file is not None else default_path()


def repository(asked: Asked) -> Repository:
    """The store of the home asked for."""
    return Repository(path_of(asked))


def by_command(event: E) -> E:
    """The event, said to be recorded by who is logged in, with a command."""
    return msgspec.structs.replace(event, by=f"{login()} (command)".lstrip())


def print_json(document: object) -> None:
    """One JSON document on stdout and nothing else."""
    print(escaped(json.dumps(document, indent=1, ensure_ascii=False, allow_nan=False, default=str)))


def warn(text: str) -> None:
    """A doubt, on stderr; the command goes on."""
    print(f"wellward: note: {text}", file=sys.stderr)
