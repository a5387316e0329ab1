"""The way to a home's file: load it, add events to it. Nothing else in the program touches the file."""

from __future__ import annotations

from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

import msgspec
from tinydb import TinyDB

from model.errors import StoreError, UnreadableFile
from model.home import Home, House
from model.records.events import AnyEvent
from model.store import backups, check, codec
from model.store.files import Mark, Seen, make_folder, mark_of, telling
from model.store.lock import locked
from model.store.numbering import not_in, numbered_after, numbered_once
from model.store.problem import Problem
from model.store.storage import SafeStorage
from model.store.taking_in import to_take_in


class _Known(msgspec.Struct, frozen=True):
    """The file as last read or written, and the home in it."""

    text: bytes
    mark: Mark
    found: codec.Contents

    @property
    def home(self) -> Home:
        """The home in the file."""
        return self.found.home


class Repository:
    """One home's file. It may be used by several threads, and beside other programs that do the same.

    Args:
        path: the file, or a link to it, which is followed once, here.
        by: who records, for events that do not say; the login name where None.

    Raises:
        StoreError: the path cannot be that of a file.
    """

    def __init__(self, path: Path | str, by: str | None = None) -> None:
        self._storage = SafeStorage(path)
        self._by = by
        self._known: _Known | None = None

    @property
    def path(self) -> Path:
        """The file itself, links followed."""
        return self._storage.path

    def tables(self) -> TinyDB:
        """The file as a TinyDB, for questions; what is recorded goes through `append`."""
        return TinyDB(self.path, storage=SafeStorage)

    def exists(self) -> bool:
        """Whether there is anything at the path."""
        with telling(self.path, "found"):
            return self.path.exists()

    def load(self) -> Home:
        """The home as it stands in the file.

        Raises:
            UnreadableFile: what is there is not a home; the message names the newest good backup, if there is one.
            StoreError: there is no file, or it may not be read.
        """
        return self._read().home

    def create(self, house: House, events: Iterable[AnyEvent] = ()) -> Home:
        """Write the first file of a home, in a new folder closed to others if need be.

        Events that have an id keep it, with their moment and author; the others come after them, as by `append`.

        Raises:
            StoreError: there is something at the path already, the home cannot be kept, or the file not be written.
        """
        text = codec.to_text(codec.tables_of(Home(house, tuple(numbered_once(events, self._by)))))
        found = codec.contents(text)
        if isinstance(found, tuple):
            raise StoreError(f"This home cannot be written: {found[0]}", "Nothing was written.")
        with telling(self.path, "written"):
            make_folder(self.path.parent)
        with locked(self.path):
            if self.exists():
                raise StoreError(f"There is something at {self.path} already.", "Name another file with --file.")
            self._known = _Known(text, self._storage.put(text), found)
        return found.home

    def append(self, event: AnyEvent, *more: AnyEvent) -> Home:
        """Record events, all of them or none, after whatever any program has recorded before.

        Each gets the next id, the moment of recording, who recorded it unless it says so, and a token. An event whose
        token is in the file already is not written again, so that a try which failed may be made once more.

        Returns:
            The home as it now stands in the file, with the events of other programs.

        Raises:
            UnreadableFile: the file cannot be read, and is left as it is.
            StoreError: an event that cannot be kept, or a file that cannot be written; nothing was recorded.
        """
        if not self.exists():
            raise self._nothing_there()
        with locked(self.path):
            known = self._read()
            new = not_in(known.home, (event, *more))
            if not new:
                self._storage.confirm()
                return known.home
            return self._add(known, numbered_after(known.home.events, new, self._by))

    def take_in(self, other: Home) -> Home:
        """Record the events of another file of this home that are not here yet; each keeps its moment and author. The
        file as it was is first kept for good beside it.

        Raises:
            UnreadableFile: the file cannot be read, and is left as it is.
            StoreError: the other is another home, or the file cannot be written; nothing was recorded.
        """
        with locked(self.path):
            known = self._read()
            if other.house != known.home.house:
                raise StoreError("That is a file of another home.", "Nothing was recorded.")
            new = to_take_in(known.home, other)
            if not new:
                return known.home
            with telling(self.path, "kept before it was changed"):
                backups.keep_beside(self.path)
            return self._add(known, new)

    def _add(self, known: _Known, events: Iterable[AnyEvent]) -> Home:
        """Write the file with numbered events at its end. The caller holds the lock."""
        added = [codec.event_text(one) for one in events]
        home = Home(known.home.house, (*known.home.events, *(one for one, _ in added)))
        if known.found.as_written:
            text = codec.with_events(known.text, {one.id: line for one, line in added})
        else:
            text = self._in_present_form(home)
        self._known = _Known(text, self._storage.put(text), codec.Contents(home, as_written=True))
        return home

    def changed_outside(self) -> bool:
        """Whether the file is another than the one last loaded or written here.

        Raises:
            StoreError: the operating system does not let it be asked.
        """
        with telling(self.path, "looked at"):
            return mark_of(self.path) != (self._known.mark if self._known else None)

    def problems(self) -> tuple[Problem, ...]:
        """Everything wrong in the file; empty where all is well.

        Raises:
            StoreError: there is no file, or it may not be read.
        """
        try:
            return check.problems_in(self._look().text)
        except UnreadableFile as error:
            return (Problem(str(self.path), error.what, error.now),)

    def _look(self) -> Seen:
        seen = self._storage.look()
        if seen is None:
            raise self._nothing_there()
        return seen

    def _nothing_there(self) -> StoreError:
        now = "Run wellward to set one up, or name its file with --file."
        return StoreError(f"There is no home at {self.path} yet.", now)

    def _read(self) -> _Known:
        """The file as it is now; bytes that are the same as before are not taken apart again."""
        seen, before = self._look(), self._known
        same = before is not None and before.text == seen.text
        found = before.found if before and same else codec.contents(seen.text)
        if isinstance(found, tuple):
            raise self._unreadable(found)
        known = self._known = _Known(seen.text, seen.mark, found)
        return known

    def _unreadable(self, problems: tuple[Problem, ...]) -> UnreadableFile:
        first, others = problems[0], len(problems) - 1
        also = f" {others} more: `wellward check` lists them." if others else ""
        what = f"{self.path} cannot be read: {first.where}: {first.what}{also}"
        return UnreadableFile(what, first.now or self._way_out())

    def _way_out(self) -> str:
        good = None
        with suppress(StoreError):
            good = backups.newest_good(self.path)
        if good is None:
            return "There is no backup of it. Nothing was changed."
        saved = f"{good.when:%Y-%m-%d %H:%M} UTC, {good.events} events"
        return f"The newest good backup ({saved}) is {good.path}: `wellward restore` brings it back."

    def _in_present_form(self, home: Home) -> bytes:
        """The whole file anew, for one in an older form or order, which is first kept for good beside it."""
        with telling(self.path, "kept before it was changed"):
            backups.keep_beside(self.path)
        return codec.to_text(codec.tables_of(home))


def default_path() -> Path:
    """Where a home's file lies if no other is named: "home.json" in the user's data folder for wellward."""
    # Here and not above: whoever names a file must not pay for it.
    from platformdirs import user_data_dir

    return Path(user_data_dir("wellward", appauthor=False)) / "home.json"
