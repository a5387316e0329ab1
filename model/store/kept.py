"""Which backups there are, which of them are kept and for how long, and how old ones are packed."""

from __future__ import annotations

import zlib
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path

from model.errors import StoreError
from model.store.files import MOST_BYTES, Seen, look, replace_file

LAST_SAVES = 10
"""So many backups are kept whatever their day. From memory; owner's default."""
LAST_DAYS = 14
"""So many days keep their newest backup; only days with a save count. From memory; owner's default."""
LAST_MONTHS = 12
"""So many months keep their newest backup; only months with a save count. From memory; owner's default."""

PLAIN, PACKED = ".json", ".json.gz"
_GZIP, _QUICK = 31, 1


def folder_of(path: Path) -> Path:
    """Where the backups of a file lie."""
    return path.with_name(f".{path.name}.backups")


def backups_in(folder: Path) -> list[Path]:
    """The backups in a folder, oldest first. Raises OSError."""
    if not folder.is_dir():
        return []
    return sorted((one for one in folder.iterdir() if saved_at(one)), key=number_of)


def number_of(backup: Path) -> int:
    """The number of the save it was made at: clocks go back, numbers do not."""
    return int(backup.name.partition("-")[0])


def saved_at(backup: Path) -> datetime | None:
    """When a backup's state was saved, from its name; None for a file that is no backup."""
    stem, dot, rest = backup.name.partition(".")
    number, _, stamp = stem.partition("-")
    with suppress(ValueError):
        if number.isdecimal() and dot + rest in (PLAIN, PACKED):
            return datetime.strptime(stamp, "%Y%m%dT%H%M%SZ").replace(tzinfo=UTC)
    return None


def prune(folder: Path) -> None:
    """Take away what is no longer kept, and pack what is kept but not one of the last saves.

    What cannot be deleted or packed is no reason to stop.
    """
    with suppress(OSError):
        found = backups_in(folder)
        kept = _kept(found)
        for one in found[:-LAST_SAVES]:
            with suppress(OSError):
                if one not in kept:
                    one.unlink(missing_ok=True)
                elif one.name.endswith(PLAIN):
                    _pack(one)


def text_of(backup: Path) -> Seen | None:
    """What a backup holds, unpacked; None where it is gone.

    Raises:
        StoreError: it may not be read, is far too large, or cannot be unpacked.
    """
    seen = look(backup)
    if seen is None or not backup.name.endswith(".gz"):
        return seen
    try:
        text = zlib.decompressobj(_GZIP).decompress(seen.text, MOST_BYTES)
    except zlib.error as error:
        raise StoreError("it cannot be unpacked.", "Choose another backup.") from error
    return Seen(text, seen.mark)


def _kept(found: list[Path]) -> set[Path]:
    newest_of_day = {_stamp(one)[:8]: one for one in found}
    newest_of_month = {_stamp(one)[:6]: one for one in found}
    days, months = list(newest_of_day.values()), list(newest_of_month.values())
    return {*found[-LAST_SAVES:], *days[-LAST_DAYS:], *months[-LAST_MONTHS:]}


def _pack(backup: Path) -> None:
    """Keep a backup in a tenth of the space; it is safe on the disk before the plain one goes."""
    packer = zlib.compressobj(_QUICK, wbits=_GZIP)
    packed = packer.compress(backup.read_bytes()) + packer.flush()
    replace_file(backup.with_name(backup.name.removesuffix(PLAIN) + PACKED), packed)
    backup.unlink(missing_ok=True)


def _stamp(backup: Path) -> str:
    return backup.name.partition("-")[2]
