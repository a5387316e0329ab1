"""The TinyDB storage: reads strictly, and replaces the file whole with the old one kept as a backup."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from tinydb.storages import Storage

from model.errors import StoreError, UnreadableFile
from model.store import backups
from model.store.codec import read_json, to_text
from model.store.files import Mark, Seen, look, replace_file, sync_folder, telling, true_path
from model.store.lock import locked
from model.store.migrations import Tables
from model.store.problem import Problem


class SafeStorage(Storage):
    """One home's file: `TinyDB(path, storage=SafeStorage)`.

    A link is followed when the storage is made; from then on the file it led to is read and replaced.
    """

    def __init__(self, path: Path | str) -> None:
        self.path = true_path(path)

    def look(self) -> Seen | None:
        """The file's bytes and mark, None where there is no file. Errors as for `files.look`."""
        return look(self.path)

    def read(self) -> Tables | None:
        """The whole file as plain dicts, None where there is no file.

        Raises:
            UnreadableFile: it is not JSON (NaN is not JSON), or not tables of documents.
            StoreError: the operating system does not let it be read.
        """
        seen = self.look()
        if seen is None:
            return None
        found = read_json(seen.text)
        if isinstance(found, Problem):
            raise UnreadableFile(f"{self.path} cannot be read: {found.where}: {found.what}", found.now)
        return found

    def write(self, data: dict[str, dict[str, Any]]) -> None:
        """Put other tables in the file's place, under the lock.

        Raises:
            UnreadableFile: the file there cannot be read, and is left as it is.
            StoreError: the data cannot be JSON, or the file cannot be written; it is left as it was.
        """
        text = to_text(data)
        with locked(self.path):
            self.read()
            self.put(text)

    def put(self, text: bytes) -> Mark:
        """Put a text in the file's place and the old file among the backups. The caller holds the lock.

        Returns:
            The mark of the file written.

        Raises:
            StoreError: nothing was changed.
        """
        with telling(self.path, "written"):
            saved = backups.Keeper(self.path)
            try:
                mark = replace_file(self.path, text, before=saved.keep)
            except BaseException:
                saved.forget()
                raise
            self._confirm_or_undo(saved)
            saved.prune()
            return mark

    def confirm(self) -> None:
        """Have the disk confirm the file's name once more. Raises StoreError."""
        with telling(self.path, "written"):
            sync_folder(self.path.parent)

    def _confirm_or_undo(self, saved: backups.Keeper) -> None:
        """Have the disk confirm the new name; where it will not, bring the old file back.

        Raises:
            OSError: the old file is back: nothing was recorded.
            StoreError: it could not be brought back; the new file stands there, and its backup is kept.
        """
        try:
            sync_folder(self.path.parent)
        except OSError as error:
            try:
                saved.bring_back()
            except OSError:
                what = f"The disk did not confirm what was written to {self.path} ({error.strerror})."
                raise StoreError(what, "It may be there or not: `wellward log` shows it.") from error
            raise
