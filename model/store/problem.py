"""Something wrong in a file, as a value that can be listed."""

from __future__ import annotations

import msgspec


class Problem(msgspec.Struct, frozen=True):
    """One thing wrong in a file.

    `where`: the line, or the table, document and field; `what`: what is wrong there; `now`: what to do about it, empty
    where only mending the file or bringing back a backup helps.
    """

    where: str
    what: str
    now: str = ""

    def __str__(self) -> str:
        return f"{self.where}: {self.what}" + (f" {self.now}" if self.now else "")
