"""One line on what the house is exposed to: how bad it is, and what it says."""

from __future__ import annotations

import re
from enum import IntEnum

import msgspec

INFANTS = "Infant formula: tested bottled water only."
FISH = "Fish: no water change from the tap until it is back and tested."

_LEAD_ENDS = re.compile(r"(?<!\bE)\. ")


class Rank(IntEnum):
    """How bad it is, the worst first; what stands every day comes after what is not working now. Owner's default."""

    INFANT = 0
    GERMS_DRUNK = 1
    NITRATE_DRUNK = 2
    GERMS_PASS = 3
    NITRATE_PASSES = 4
    DOSE_UNKNOWN = 5
    GERMS_BEFORE = 6
    METALS = 7
    NOT_WORKING = 8
    RAW_NITRATE = 9
    LATE = 10
    AT_NIGHT = 11


class Line(msgspec.Struct, frozen=True):
    """`lead` makes sense alone, in one row of 80 columns; `more` says what it means for whom, in sentences."""

    rank: Rank
    lead: str
    more: str = ""

    @property
    def text(self) -> str:
        """All of it."""
        return f"{self.lead} {self.more}".strip()


def lead_of(text: str) -> str:
    """The first sentence of a line: what is shown where there is one row for it."""
    found = _LEAD_ENDS.search(text)
    return text[: found.start() + 1] if found else text


def said(*parts: str) -> str:
    """Sentences joined, the empty ones left out."""
    return " ".join(part for part in parts if part)
