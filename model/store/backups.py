"""Earlier states of the file: made at each save, listed with what they hold, brought back.

They lie in `.<name>.backups/` beside the file, one for each of the last saves, one a day and one a month for longer.
"""

from __future__ import annotations

from contextlib import suppress
from datetime import UTC, date, datetime
from itertools import count
from pathlib import Path

import msgspec

from model.errors import StoreError
from model.store.codec import contents
from model.store.files import make_folder, replace_file, second_name, sync_folder, telling, true_path, utc_stamp
from model.store.kept import backups_in, folder_of, number_of, prune, saved_at, text_of
from model.store.lock import locked


class Backup(msgspec.Struct, frozen=True):
    """One earlier state of a home's file.

    `when` it was saved (UTC, to the second); how many `events` it holds and the day of the last one that happened;
    `problem` says why it cannot be read, empty where it can.
    """

    path: Path
    when: datetime
    events: int = 0
    last_day: date | None = None
    problem: str = ""

    @property
    def readable(self) -> bool:
        """Whether it can be brought back."""
        return not self.problem


class Keeper:
    """Makes the backup that belongs to one save. The caller holds the write lock."""

    def __init__(self, path: Path) -> None:
        self._path = path
        self._made: Path | None = None

    def keep(self) -> None:
        """Put the present file among the backups, if there is one. Raises OSError."""
        if not self._path.exists():
            return
        folder = folder_of(self._path)
        make_folder(folder)
        last = max((number_of(one) for one in backups_in(folder)), default=0)
        made = folder / f"{last + 1:06d}-{utc_stamp(self._path.stat().st_mtime)}.json"
        second_name(self._path, made)
        self._made = made

    def forget(self) -> None:
        """Take the backup away again: the save did not happen."""
        if self._made is not None:
            with suppress(OSError):
                self._made.unlink(missing_ok=True)

    def bring_back(self) -> None:
        """Undo a save that took place. Raises OSError."""
        if self._made is None:
            self._path.unlink()
        else:
            self._made.replace(self._path)

    def prune(self) -> None:
        """Take away what is no longer kept. A backup that cannot be deleted is no reason to stop."""
        if self._made:
            prune(folder_of(self._path))


def list_backups(path: Path | str) -> tuple[Backup, ...]:
    """All backups of a home's file, newest first, each with what it holds. The file itself need not be there.

    Raises:
        StoreError: the folder cannot be read.
    """
    file = true_path(path)
    with telling(folder_of(file), "read"):
        found = backups_in(folder_of(file))
    return tuple(_described(one) for one in reversed(found))


def newest_good(path: Path | str) -> Backup | None:
    """The newest backup that can be read, None where there is none. Errors as for `list_backups`."""
    file = true_path(path)
    with telling(folder_of(file), "read"):
        found = backups_in(folder_of(file))
    described = (_described(one) for one in reversed(found))
    return next((one for one in described if one.readable), None)


def restore(path: Path | str, backup: Backup | Path) -> Path | None:
    """Bring a backup back. The file it replaces is kept beside it under another name.

    Args:
        path: the home's file.
        backup: which one, from `list_backups`; any other file of a home will do.

    Returns:
        Where the replaced file is now; None where there was none.

    Raises:
        StoreError: the backup cannot be read, or the file cannot be written. The file is left as it was.
    """
    file = true_path(path)
    source = backup if isinstance(backup, Path) else backup.path
    with telling(source, "read"):
        problem = _described(source).problem if source.exists() else "it is not there."
    seen = None if problem else text_of(source)
    if seen is None:
        raise StoreError(f"The backup {source} cannot be brought back: {problem}", "Choose another backup.")
    with locked(file), telling(file, "replaced"):
        kept = keep_beside(file) if file.exists() else None
        try:
            replace_file(file, seen.text)
            sync_folder(file.parent)
        except BaseException:
            _undo(file, kept)
            raise
    return kept


def keep_beside(path: Path) -> Path:
    """Keep the file's present bytes for good, beside it under a new name, which is returned. Raises OSError."""
    stamp = utc_stamp()
    for number in count(1):
        kept = path.with_name(f"{path.name}.kept-{stamp}" + (f"-{number}" if number > 1 else ""))
        with suppress(FileExistsError):
            second_name(path, kept)
            return kept
    raise AssertionError("unreachable")


def _undo(path: Path, kept: Path | None) -> None:
    with suppress(OSError):
        if kept is None:
            path.unlink(missing_ok=True)
        elif path.samefile(kept):
            kept.unlink()
        else:
            kept.replace(path)


def _described(backup: Path) -> Backup:
    when = saved_at(backup) or datetime.fromtimestamp(backup.stat().st_mtime, UTC)
    try:
        seen = text_of(backup)
    except StoreError as error:
        return Backup(backup, when, problem=error.what)
    found = contents(seen.text) if seen else ()
    if isinstance(found, tuple):
        return Backup(backup, when, problem=str(found[0]) if found else "it is gone.")
    events = found.home.events
    return Backup(backup, when, len(events), max((event.on for event in events), default=None))
