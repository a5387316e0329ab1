"""A home that is not written yet: its set-up, kept half-done beside the file to be, and its first writing."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from pathlib import Path

import msgspec

from model.errors import StoreError
from model.home import Home, House
from model.records.events import AnyEvent
from model.setup.question import Draft
from model.store.files import look, make_folder, replace_file, telling
from model.store.lock import locked
from model.store.repository import Repository


class FirstRun:
    """A repository before its file is there. A file that appears meanwhile is read, never touched."""

    def __init__(self, repository: Repository, today: date) -> None:
        self._repository = repository
        self._today = today
        self._begun = False
        self._draft = repository.path.with_name(f".{repository.path.name}.setup")

    @property
    def path(self) -> Path:
        """Where the home will be."""
        return self._repository.path

    def load(self) -> Home:
        """The home, an empty one while there is no file."""
        if self._repository.exists():
            return self._repository.load()
        return Home(House(name="My well", started=self._today))

    def append(self, event: AnyEvent, *more: AnyEvent) -> Home:
        """Record events; refused while there is no file."""
        return self._repository.append(event, *more)

    def changed_outside(self) -> bool:
        """Whether another program wrote the file."""
        return self._repository.changed_outside()

    def begin(self, house: House, events: Iterable[AnyEvent]) -> Home:
        """Write the home with its first events in one go, and forget the draft.

        Raises:
            StoreError: there is something at the path already, or it cannot be written; the draft stays.
        """
        home = self._repository.create(house, events)
        self._begun = True
        with telling(self._draft, "removed"):
            self._draft.unlink(missing_ok=True)
        return home

    def draft(self) -> Draft:
        """What was answered before, empty where nothing was or it cannot be read."""
        try:
            seen = look(self._draft)
            return msgspec.json.decode(seen.text, type=Draft) if seen else Draft()
        except (StoreError, msgspec.DecodeError, UnicodeDecodeError):
            return Draft()

    def keep(self, draft: Draft) -> None:
        """Keep what was answered, for the owner's eyes only, unless the home was begun from it already.

        Raises:
            StoreError: it cannot be written.
        """
        if self._begun:
            return
        with telling(self._draft, "written"):
            make_folder(self.path.parent)
        with locked(self.path), telling(self._draft, "written"):
            replace_file(self._draft, msgspec.json.encode(draft))
