"""Which settings nobody knew at set-up, so that House can say so until they are changed."""

from __future__ import annotations

from collections.abc import Iterable

from model.records.events import AnyEvent, Setting
from model.records.history import voided

ASSUMED = "Not known at set-up: a usual value is taken."
"""The note of the event that marks such a setting."""


def assumed_paths(events: Iterable[AnyEvent]) -> frozenset[str]:
    """Paths of the settings that still have the value taken at set-up."""
    recorded = tuple(events)
    gone = voided(recorded)
    newest = {one.path: one.note for one in recorded if isinstance(one, Setting) and one.id not in gone}
    return frozenset(path for path, note in newest.items() if note == ASSUMED)
