"""Events of every kind, for hypothesis and for tests by hand."""

from __future__ import annotations

from datetime import date
from typing import get_args

from hypothesis import strategies as st

from model.records.events import (
    Absence,
    Answer,
    AnyEvent,
    Cause,
    Contact,
    Correction,
    Explained,
    FindingAnswered,
    Guests,
    HandleMoved,
    Incident,
    LabReport,
    LocalRule,
    MeterReplaced,
    PausedService,
    PlaybookStarted,
    PlaybookStep,
    Purchase,
    Reading,
    Service,
    Setting,
    ShelfCount,
    StageAdded,
    StageRemoved,
    SupplyAdded,
    Taken,
    UseAdded,
    UseEnded,
    Wait,
)

WORDS = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
NUMBERS = st.floats(allow_nan=False, allow_infinity=False)
DAYS = st.dates(date(1970, 1, 1), date(2199, 12, 31))
TAKEN = st.builds(
    Taken,
    quantity=WORDS,
    value=NUMBERS,
    point=WORDS,
    qualifier=st.sampled_from(["=", "<", ">"]),
    entered=WORDS,
    method=WORDS,
    moment=st.sampled_from(["", "before", "after"]),
    high=st.none() | NUMBERS,
)
SEVERAL = st.lists(TAKEN, max_size=3).map(tuple)
DESCRIPTION = st.dictionaries(WORDS, st.one_of(WORDS, NUMBERS, st.booleans(), st.none()), max_size=3)
VALUE = st.one_of(NUMBERS, st.integers(-(2**53), 2**53), WORDS, st.booleans(), st.none())
SAID = {"on": DAYS, "by": WORDS, "note": WORDS}

KINDS: dict[type[AnyEvent], st.SearchStrategy[AnyEvent]] = {
    Service: st.builds(
        Service,
        task=WORDS,
        used=st.dictionaries(WORDS, NUMBERS, max_size=2),
        taken=SEVERAL,
        handles=WORDS,
        accepted=WORDS,
        photo=WORDS,
        **SAID,
    ),
    PausedService: st.builds(
        PausedService,
        task=WORDS,
        ticked=st.lists(st.integers(0, 40), max_size=4).map(tuple),
        typed=st.dictionaries(WORDS, WORDS, max_size=2),
        waits=st.lists(
            st.builds(Wait, step=st.integers(0, 40), left_s=NUMBERS, since=st.none() | NUMBERS), max_size=2
        ).map(tuple),
        **SAID,
    ),
    Reading: st.builds(Reading, taken=TAKEN, **SAID),
    LabReport: st.builds(LabReport, point=WORDS, taken=SEVERAL, **SAID),
    Purchase: st.builds(Purchase, supply=WORDS, quantity=NUMBERS, price=st.none() | NUMBERS, **SAID),
    ShelfCount: st.builds(ShelfCount, supply=WORDS, quantity=NUMBERS, **SAID),
    Setting: st.builds(Setting, path=WORDS, value=VALUE, was=VALUE, **SAID),
    StageAdded: st.builds(StageAdded, stage=DESCRIPTION, after=WORDS, **SAID),
    StageRemoved: st.builds(StageRemoved, stage=WORDS, **SAID),
    SupplyAdded: st.builds(SupplyAdded, supply=DESCRIPTION, **SAID),
    UseAdded: st.builds(UseAdded, use=DESCRIPTION, **SAID),
    UseEnded: st.builds(UseEnded, title=WORDS, **SAID),
    Absence: st.builds(Absence, until=DAYS, **SAID),
    Guests: st.builds(Guests, until=DAYS, people=NUMBERS, **SAID),
    Explained: st.builds(
        Explained, start=DAYS, end=DAYS, cause=st.sampled_from(get_args(Cause)), over=st.booleans(), **SAID
    ),
    FindingAnswered: st.builds(
        FindingAnswered,
        finding=WORDS,
        answer=st.sampled_from(get_args(Answer)),
        reason=WORDS,
        until=st.none() | DAYS,
        **SAID,
    ),
    MeterReplaced: st.builds(MeterReplaced, old_reading_l=NUMBERS, new_reading_l=NUMBERS, **SAID),
    Incident: st.builds(Incident, what=WORDS, **SAID),
    HandleMoved: st.builds(HandleMoved, handle=WORDS, position=WORDS, **SAID),
    LocalRule: st.builds(LocalRule, topic=WORDS, text=WORDS, said_by=WORDS, checked_on=DAYS, **SAID),
    Contact: st.builds(Contact, role=WORDS, name=WORDS, phone=WORDS, **SAID),
    PlaybookStarted: st.builds(PlaybookStarted, playbook=WORDS, **SAID),
    PlaybookStep: st.builds(
        PlaybookStep,
        started=st.integers(1, 10**6),
        step=WORDS,
        outcome=st.sampled_from(["done", "skipped"]),
        reason=WORDS,
        **SAID,
    ),
    Correction: st.builds(Correction, voids=st.integers(1, 10**6), **SAID),
}


def meter(litres: float, note: str = "") -> Reading:
    """A meter reading [L]."""
    return Reading(on=date(2027, 1, 11), note=note, taken=Taken(quantity="meter", value=litres, point="source"))
