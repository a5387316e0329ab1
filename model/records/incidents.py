"""What happened near the well or in the house, as the owner wrote it down: manure, hay, rain, drought, tile work."""

from __future__ import annotations

from datetime import date

from model.errors import BadInput
from model.records.events import Incident

LONGEST = 600


def incident(text: str, on: date) -> Incident:
    """The event of something that happened, in the words typed; control marks and new lines become spaces.

    Raises:
        BadInput: nothing was written, or more than `LONGEST` letters.
    """
    said = " ".join("".join(mark if mark.isprintable() else " " for mark in text).split())
    if not said:
        raise BadInput("What happened?", "Write it in a few words, as: manure on the north field.")
    if len(said) > LONGEST:
        raise BadInput(f"That is {len(said)} letters long.", f"Write it in {LONGEST} at most, or in two notes.")
    return Incident(on=on, what=said)
