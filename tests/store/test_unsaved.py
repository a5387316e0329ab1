"""Events that wait: kept in order, about the same things once they are in a file, whatever was written meanwhile."""

from __future__ import annotations

from datetime import date

import pytest

from model.errors import StoreError
from model.home import Home, House
from model.records.events import AnyEvent, Correction, Incident, PlaybookStarted, PlaybookStep
from model.store.numbering import numbered_after
from model.store.unsaved import FIRST_ID, Unsaved
from tests.store.kinds import meter

DAY = date(2027, 1, 11)


def _grown(home: Home, *batch: AnyEvent) -> Home:
    """The home with events recorded in one go, as a file would number them."""
    return Home(home.house, (*home.events, *numbered_after(home.events, batch, "Ann")))


def _written(waiting: Unsaved, home: Home) -> Home:
    while batch := waiting.first():
        home = _grown(home, *batch)
        waiting = waiting.written(home)
    assert not waiting.events
    return home


def test_what_waits_is_shown_after_what_is_written(house: House) -> None:
    home = _grown(Home(house), meter(1.0))
    waiting = Unsaved().adding([meter(2.0)]).adding([meter(3.0), meter(4.0)])
    shown = waiting.shown_on(home).events
    assert [one.id for one in shown] == [1, FIRST_ID, FIRST_ID + 1, FIRST_ID + 2]
    assert [one.group for one in shown] == [0, 0, FIRST_ID + 1, FIRST_ID + 1]
    assert Unsaved().shown_on(home) is home


def test_what_was_recorded_in_one_go_stays_together(house: House) -> None:
    home = _written(Unsaved().adding([meter(1.0)]).adding([meter(2.0), meter(3.0)]), Home(house))
    assert [(one.id, one.group) for one in home.events] == [(1, 0), (2, 2), (3, 2)]


def test_a_correction_of_what_waits_is_of_the_same_event_in_the_file(house: House) -> None:
    """Another program writes two events before what waits can be written."""
    waiting = Unsaved().adding([Incident(on=DAY, what="frost")]).adding([Correction(on=DAY, voids=FIRST_ID)])
    home = _written(waiting, _grown(_grown(Home(house), meter(1.0)), meter(2.0)))
    correction = home.events[-1]
    assert isinstance(correction, Correction)
    assert correction.voids == home.events[-2].id == 3


def test_what_was_asked_about_before_the_writing_still_means_the_same(house: House) -> None:
    """A question opened while an event waited is answered after it was written: its old id belongs to no other."""
    waiting = Unsaved().adding([PlaybookStarted(on=DAY, playbook="flood")])
    home = _grown(_grown(Home(house), meter(1.0)), *waiting.first())
    waiting = waiting.written(home).adding([PlaybookStep(on=DAY, started=FIRST_ID, step="flush", outcome="done")])
    (step,) = waiting.first()
    assert isinstance(step, PlaybookStep)
    assert step.started == 2
    assert step.id == FIRST_ID + 1
    assert waiting.shown_on(home).events[-1] == step


def test_a_copy_has_the_ids_of_a_file_of_its_own(house: House) -> None:
    home = _grown(Home(house), meter(1.0))
    waiting = Unsaved().adding([meter(2.0), meter(3.0)]).adding([Correction(on=DAY, voids=FIRST_ID + 1)])
    copied = waiting.numbered_after(home)
    assert [(one.id, one.group) for one in copied] == [(2, 2), (3, 2), (4, 0)]
    assert isinstance(copied[-1], Correction)
    assert copied[-1].voids == 3


def test_what_no_file_could_hold_does_not_wait() -> None:
    with pytest.raises(StoreError, match="cannot be written"):
        Unsaved().adding([meter(float("nan"))])
