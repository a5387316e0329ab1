"""One writer at a time, among all programs on this computer."""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from model.errors import StoreError
from model.store.files import PRIVATE_FILE, telling

LOCK_SECONDS = 10.0
"""How long a writer waits for another one [s]. From memory; owner's default."""


@contextmanager
def locked(path: Path) -> Iterator[None]:
    """Hold the write lock of a file: `.<name>.lock` beside it. Not to be nested. Readers need no lock.

    Raises:
        StoreError: another program kept writing for `LOCK_SECONDS`, or the folder cannot be written.
    """
    # Here and not above: reading a home must not pay for it.
    from filelock import FileLock, Timeout

    beside = path.with_name(f".{path.name}.lock")
    lock = FileLock(beside, timeout=LOCK_SECONDS, mode=PRIVATE_FILE, poll_interval=0.01)
    with telling(path, "locked for writing"):
        _reach(beside)
        try:
            lock.acquire()
        except Timeout as error:
            now = f"Close the other program and try again. If there is none, delete {beside}."
            raise StoreError(f"Another program is writing to {path}. Nothing was recorded.", now) from error
        except NotImplementedError as error:
            raise StoreError(f"The disk of {path} cannot lock files.", "Keep the home on a local disk.") from error
    try:
        yield
    finally:
        lock.release()


def _reach(beside: Path) -> None:
    """Raise OSError at once where no lock file can be: the lock itself would wait as for another program."""
    if not os.access(beside, os.W_OK):
        os.close(os.open(beside, os.O_WRONLY | os.O_CREAT, PRIVATE_FILE))
