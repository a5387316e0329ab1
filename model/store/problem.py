"""Something wrong in a file, as a value that can be listed."""

from __future__ import annotations

import msgspec

_LONGEST = 300
"""So many characters of what a file holds are quoted in a message."""


class Problem(msgspec.Struct, frozen=True):
    """One thing wrong in a file.

    `where`: the line, or the table, document and field; `what`: what is wrong there; `now`: what to do about it, empty
    where only mending the file or bringing back a backup helps. What is quoted from the file is kept short and on one
    line.
    """

    where: str
    what: str
    now: str = ""

    def __post_init__(self) -> None:
        for name in ("where", "what"):
            msgspec.structs.force_setattr(self, name, _short(getattr(self, name)))

    def __str__(self) -> str:
        return f"{self.where}: {self.what}" + (f" {self.now}" if self.now else "")


def _short(text: str) -> str:
    one_line = " ".join(text[: 4 * _LONGEST].splitlines())
    return one_line if len(text) <= _LONGEST else f"{one_line[: _LONGEST - 40]} ... {text[-30:]}"
