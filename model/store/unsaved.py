"""Events recorded that the file does not hold yet: shown with the home, and written in order once it takes them.

Until then they have ids far above those of any file, each used once in a sitting, so that whoever took one of these ids
(a question that is still open) never means another program's event by it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import msgspec
from msgspec.structs import replace

from model.home import Home
from model.records.events import AnyEvent, Correction, PlaybookStep
from model.store.codec import event_text
from model.store.numbering import not_in, numbered_from

FIRST_ID = 1_000_000_001
"""The first id of an event that is in no file."""


class Unsaved(msgspec.Struct, frozen=True):
    """What waits, oldest first; each of `batches` was recorded in one go.

    `next_id`: the next id to give; `became`: which id in the file an event got that waited under another.
    """

    batches: tuple[tuple[AnyEvent, ...], ...] = ()
    next_id: int = FIRST_ID
    became: dict[int, int] = {}

    @property
    def events(self) -> tuple[AnyEvent, ...]:
        """All events that wait, in the order recorded."""
        return tuple(event for batch in self.batches for event in batch)

    def adding(self, events: Iterable[AnyEvent]) -> Unsaved:
        """With events recorded in one go as the last ones.

        Raises:
            StoreError: one of them could be kept in no file; waiting would not help it.
        """
        batch = tuple(event_text(one)[0] for one in numbered_from(self.next_id, events, None))
        return replace(self, batches=(*self.batches, batch), next_id=self.next_id + len(batch))

    def first(self) -> tuple[AnyEvent, ...]:
        """The batch to write next, what it says of other events said by their ids in the file; empty if none waits."""
        return tuple(_meaning(one, self.became) for one in self.batches[0]) if self.batches else ()

    def written(self, home: Home, batches: int = 1) -> Unsaved:
        """Without the first batches, whose events are now in the home."""
        return replace(self, batches=self.batches[batches:], became=self._became_in(home))

    def shown_on(self, home: Home) -> Home:
        """The home as it is in the file, with what waits at its end, but not what a failed try left in the file."""
        ids = self._became_in(home)
        waiting = (_meaning(one, ids) for one in not_in(home, self.events))
        return Home(home.house, (*home.events, *waiting)) if self.batches else home

    def numbered_after(self, home: Home) -> tuple[AnyEvent, ...]:
        """What waits and is not in the home, with the ids that it would have in a file of the home."""
        return renumbered_after(home, not_in(home, self.events), self._became_in(home))

    def _became_in(self, home: Home) -> dict[int, int]:
        waited = {one.token: one.id for one in self.events}
        return self.became | {waited[one.token]: one.id for one in home.events if one.token in waited}


def renumbered_after(home: Home, events: Sequence[AnyEvent], became: Mapping[int, int]) -> tuple[AnyEvent, ...]:
    """Events of another file with the ids that they get after those of a home, and what they say of others too.

    `became`: which id others, that the home holds, have in it; by their id in the other file.
    """
    first = max((one.id for one in home.events), default=0) + 1
    ids = {**became, **{one.id: number for number, one in enumerate(events, first)}}
    return tuple(replace(_meaning(one, ids), id=ids[one.id], group=ids.get(one.group, one.group)) for one in events)


def _meaning(event: AnyEvent, became: Mapping[int, int]) -> AnyEvent:
    """The event, with the other event it is about named by the id that this one has now."""
    if isinstance(event, Correction) and event.voids in became:
        return replace(event, voids=became[event.voids])
    if isinstance(event, PlaybookStep) and event.started in became:
        return replace(event, started=became[event.started])
    return event
