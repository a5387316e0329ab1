"""Earlier states of the file: made at each save, listed with what they hold, brought back.

They lie in `.<name>.backups/` beside the file, one for each of the last saves and one a day for longer.
"""

from __future__ import annotations

from contextlib import suppress
from datetime import UTC, date, datetime
from itertools import count
from pathlib import Path

import msgspec

from model.errors import StoreError
from model.store.codec import contents
from model.store.files import look, make_folder, replace_file, second_name, sync_folder, telling, true_path, utc_stamp
from model.store.lock import locked

LAST_SAVES = 10
"""So many backups are kept whatever their day. From memory; owner's default."""
LAST_DAYS = 14
"""So many days keep their newest backup; only days with a save count. From memory; owner's default."""


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
        last = max((_number(one) for one in _found(folder)), default=0)
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
        found = _found(folder_of(self._path)) if self._made else []
        kept = _kept(found)
        for one in found:
            if one not in kept:
                with suppress(OSError):
                    one.unlink(missing_ok=True)


def folder_of(path: Path) -> Path:
    """Where the backups of a file lie."""
    return path.with_name(f".{path.name}.backups")


def list_backups(path: Path | str) -> tuple[Backup, ...]:
    """All backups of a home's file, newest first, each with what it holds. The file itself need not be there.

    Raises:
        StoreError: the folder cannot be read.
    """
    file = true_path(path)
    with telling(folder_of(file), "read"):
        found = _found(folder_of(file))
    return tuple(_described(one) for one in reversed(found))


def newest_good(path: Path | str) -> Backup | None:
    """The newest backup that can be read, None where there is none. Errors as for `list_backups`."""
    file = true_path(path)
    with telling(folder_of(file), "read"):
        found = _found(folder_of(file))
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
    seen = look(source)
    problem = _described(source).problem if seen else "it is not there."
    if seen is None or problem:
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


def _found(folder: Path) -> list[Path]:
    """The backups in the folder, oldest first."""
    if not folder.is_dir():
        return []
    return sorted((one for one in folder.iterdir() if _saved(one) and one.suffix == ".json"), key=_number)


def _number(backup: Path) -> int:
    return int(backup.name.partition("-")[0])


def _saved(backup: Path) -> datetime | None:
    """When a backup's state was saved, from its name; None for a file that is no backup."""
    number, _, stamp = backup.stem.partition("-")
    with suppress(ValueError):
        if number.isdecimal():
            return datetime.strptime(stamp, "%Y%m%dT%H%M%SZ").replace(tzinfo=UTC)
    return None


def _kept(found: list[Path]) -> set[Path]:
    newest_of_day = {_day(one): one for one in found}
    return {*found[-LAST_SAVES:], *list(newest_of_day.values())[-LAST_DAYS:]}


def _day(backup: Path) -> str:
    return backup.stem.partition("-")[2][:8]


def _described(backup: Path) -> Backup:
    when = _saved(backup) or datetime.fromtimestamp(backup.stat().st_mtime, UTC)
    try:
        seen = look(backup)
    except StoreError as error:
        return Backup(backup, when, problem=error.what)
    found = contents(seen.text) if seen else ()
    if isinstance(found, tuple):
        return Backup(backup, when, problem=str(found[0]) if found else "it is gone.")
    events = found.home.events
    return Backup(backup, when, len(events), max((event.on for event in events), default=None))
