"""Files from outside that a person names."""

from __future__ import annotations

from pathlib import Path

from model.errors import BadInput
from model.records.csv_text import MOST_BYTES
from model.units import echo


def read_bounded(path: Path) -> bytes:
    """The file, and a little more than may be, so that a larger one is seen to be too large.

    Raises:
        BadInput: it cannot be read.
    """
    try:
        with path.open("rb") as file:
            return file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        why = (error.strerror if isinstance(error, OSError) else None) or str(error)
        raise BadInput(f"{echo(str(path))} cannot be read: {why}.", "Name a CSV file.") from error


def is_copy(data: bytes) -> bool:
    """Whether a file begins as a home's does, and no CSV file."""
    return data.lstrip().startswith(b"{")
