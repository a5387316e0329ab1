"""Replacing a file so that either the old or the new one is there, whole, whatever happens in between."""

from __future__ import annotations

import errno
import os
import stat
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

import msgspec

from model.errors import StoreError, UnreadableFile

Mark = tuple[int, int, int]
"""What tells one state of a file from another: time of change [ns], size [bytes], inode."""

MOST_BYTES = 1 << 29
"""A larger file is not taken into memory: a home of a million events has a third of this. Owner's default."""

PRIVATE_FILE = 0o600
PRIVATE_FOLDER = 0o700

_FULL = "Free some space, then try again."
_OWNER = "See who may write to this file and its folder, or name another file with --file."
_REASONS = {
    errno.ENOSPC: ("the disk is full.", _FULL),
    errno.EFBIG: ("it would be larger than a file may be here.", _FULL),
    errno.EDQUOT: ("the disk quota is used up.", _FULL),
    errno.EACCES: ("permission was denied.", _OWNER),
    errno.EPERM: ("permission was denied.", _OWNER),
    errno.ENOENT: ("its folder is not there, or takes no new files.", _OWNER),
    errno.EROFS: ("the disk is read-only.", _OWNER),
}


class Seen(msgspec.Struct, frozen=True):
    """A file's bytes and the mark they were read under."""

    text: bytes
    mark: Mark


@contextmanager
def telling(path: Path, doing: str) -> Iterator[None]:
    """Turn an error of the operating system into one message.

    Args:
        path: the file in question.
        doing: what was tried, as in "could not be <doing>": "read", "written".

    Raises:
        StoreError: names the file, the reason and what to do.
    """
    try:
        yield
    except (OSError, ValueError) as error:
        code = error.errno if isinstance(error, OSError) else None
        plain = (error.strerror if isinstance(error, OSError) else "") or str(error)
        reason, now = _REASONS.get(code or 0, (f"{plain}.", "Check the path, then try again."))
        raise StoreError(f"{path} could not be {doing}: {reason}", now) from error


def true_path(path: Path | str) -> Path:
    """The absolute path of the file meant, links followed; it need not be there.

    Raises:
        StoreError: links that lead in a circle, or a path no file can have.
    """
    try:
        with telling(Path(path), "found"):
            return Path(path).expanduser().resolve()
    except RuntimeError as error:
        raise StoreError(f"{path} could not be found: {error}.", "Check the path.") from error


def mark_of(path: Path) -> Mark | None:
    """The file's mark now, None where there is no file."""
    with suppress(FileNotFoundError):
        return _mark(path.stat())
    return None


def look(path: Path) -> Seen | None:
    """The file as it is now, None where there is none.

    Raises:
        UnreadableFile: a folder or a device is in its place, or it is far too large.
        StoreError: the operating system does not let it be read.
    """
    with telling(path, "read"):
        try:
            if not stat.S_ISREG(path.stat().st_mode):
                raise UnreadableFile(f"{path} is not a file but a folder or device.", "Name the home's file itself.")
            with path.open("rb") as opened:
                mark = _mark(os.fstat(opened.fileno()))
                if mark[1] > MOST_BYTES:
                    raise UnreadableFile(f"{path} is too large to be a home.", "Name the home's file with --file.")
                return Seen(mark=mark, text=opened.read(MOST_BYTES + 1))
        except FileNotFoundError:
            return None


def make_folder(folder: Path) -> None:
    """Make a folder and those above it, closed to others. Folders already there are left as they are."""
    missing = [one for one in (folder, *folder.parents) if not one.exists()]
    for one in reversed(missing):
        one.mkdir(mode=PRIVATE_FOLDER, exist_ok=True)


def replace_file(path: Path, text: bytes, before: Callable[[], object] = lambda: None) -> Mark:
    """Put `text` in the place of the file; it is on the disk when this returns. The caller holds the write lock.

    Args:
        path: the file, not a link to it.
        text: its new bytes.
        before: called when the new bytes are safe beside the file, before they take its place.

    Returns:
        The new file's mark.

    Raises:
        OSError: nothing was changed.
    """
    temporary = path.with_name(f".{path.name}.tmp")
    try:
        # Whatever is found here was left by a writer that was killed: the lock lets only one write at a time.
        temporary.unlink(missing_ok=True)
        mark = _write_new(temporary, text)
        before()
        temporary.replace(path)
    except BaseException:
        with suppress(OSError):
            temporary.unlink(missing_ok=True)
        raise
    return mark


def sync_folder(folder: Path) -> None:
    """Make the folder's list of names safe on the disk, where the system can do that."""
    if not hasattr(os, "O_DIRECTORY"):
        return
    opened = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(opened)
    finally:
        os.close(opened)


def second_name(path: Path, other: Path) -> None:
    """Give a file's present bytes another name; a copy where the disk knows only one name for a file.

    Raises:
        FileExistsError: the other name is taken.
    """
    try:
        os.link(path, other)
    except FileExistsError:
        raise
    except OSError:
        _write_new(other, path.read_bytes())


def utc_stamp(seconds: float | None = None) -> str:
    """A moment for file names, "20270111T080000Z"; now where no seconds since 1970 are given."""
    return time.strftime("%Y%m%dT%H%M%SZ", time.gmtime(seconds))


def _write_new(path: Path, text: bytes) -> Mark:
    opened = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), PRIVATE_FILE)
    try:
        left = memoryview(text)
        while left:
            left = left[os.write(opened, left) :]
        os.fsync(opened)
        return _mark(os.fstat(opened))
    finally:
        os.close(opened)


def _mark(found: os.stat_result) -> Mark:
    return found.st_mtime_ns, found.st_size, found.st_ino
