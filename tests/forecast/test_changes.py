"""Known changes of the house and its use of water, past and to come."""

from __future__ import annotations

from datetime import date, timedelta

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.errors import BadInput
from model.forecast.explained import explained, explanations
from model.forecast.night import leaks_by_night, night_flows
from model.forecast.present import (
    FURTHEST_AHEAD_DAYS,
    check_fits,
    coming_changes,
    houses_since,
    present,
    scheduled,
    settings_changed,
)
from model.forecast.use import guest_people
from model.home import Home, Use
from model.records.events import AnyEvent, Correction, Explained, Guests, Setting, StageRemoved, UseAdded, UseEnded
from model.records.history import History
from model.redate import redated
from model.store.check import problems_in
from model.store.codec import tables_of, to_text
from tests.forecast.homes import START, TODAY, home, numbered, reading

DAY = timedelta(days=1)
POOL = msgspec.to_builtins(Use(title="Pool", litres_per_week=700.0, point="hose"))


def people(on: date, value: float) -> Setting:
    return Setting(on=on, path="people", value=value)


# Guests


def test_guests_count_on_each_of_their_days_and_add_up() -> None:
    history = History(
        numbered(
            Guests(on=TODAY - DAY, until=TODAY, people=2.0),
            Guests(on=TODAY, until=TODAY + DAY, people=0.5),
            Guests(on=TODAY + 9 * DAY, until=TODAY + 9 * DAY, people=1.0),
            Guests(on=TODAY, until=TODAY, people=9.0),
            Correction(on=TODAY, voids=4),
        ),
        TODAY,
    )
    assert guest_people(history) == {TODAY - DAY: 2.0, TODAY: 2.5, TODAY + DAY: 0.5, TODAY + 9 * DAY: 1.0}


@pytest.mark.parametrize(
    "odd",
    [
        Guests(on=TODAY, until=TODAY, people=float("1e300")),
        Guests(on=TODAY, until=TODAY, people=-1.0),
        Guests(on=TODAY, until=TODAY - DAY, people=1.0),
    ],
)
def test_guests_that_cannot_be_count_nothing_and_are_listed(odd: Guests) -> None:
    there = home(odd)
    assert guest_people(History(there.events, TODAY)) == {}
    (problem,) = problems_in(to_text(tables_of(there)))
    assert problem.where == "event 1"


def test_a_visit_without_end_is_cut_and_the_end_of_time_is_no_trouble() -> None:
    for first in (TODAY, date.max - DAY):
        days = guest_people(History(numbered(Guests(on=first, until=date.max, people=1.0)), TODAY))
        assert len(days) == min(3661, (date.max - first).days + 1)


# The house through time


def test_without_changes_there_is_one_house_from_ever() -> None:
    there = home(reading(TODAY, "meter", 1.0, "house"))
    assert houses_since(there, TODAY) == [(date.min, there.house)]
    assert scheduled(there, TODAY) == []
    assert coming_changes(there, TODAY) == []


def test_the_house_holds_from_each_day_also_the_later_ones() -> None:
    june, july, august = TODAY + 200 * DAY, TODAY + 230 * DAY, TODAY + 260 * DAY
    there = home(
        UseAdded(on=june, use=POOL),
        people(START, 4.0),
        people(START, 5.0),
        people(july, 2.0),
        UseEnded(on=august, title="pool"),
        people(TODAY + (FURTHEST_AHEAD_DAYS + 1) * DAY, 9.0),
        StageRemoved(on=TODAY, stage="no such stage"),
    )
    found = [(on, one.people, [use.title for use in one.uses]) for on, one in houses_since(there, TODAY)]
    assert found == [
        (date.min, 3.0, []),
        (START, 5.0, []),
        (june, 5.0, ["Pool"]),
        (july, 2.0, ["Pool"]),
        (august, 2.0, []),
    ]
    assert [on for on, _ in scheduled(there, TODAY)] == [june, july, august]
    assert [one.id for one in coming_changes(there, TODAY)] == [1, 4, 5]
    assert present(there, TODAY).uses == ()
    assert present(there, june).uses[0].litres_per_week == 700.0
    assert [(on, one.people) for on, one in settings_changed(there, july)] == [(START, 3.0), (july, 5.0)]


CHANGES = st.lists(
    st.tuples(st.integers(-20, 20), st.one_of(st.floats(0, 9), st.sampled_from(["add", "end"])), st.booleans()),
    max_size=8,
)


@settings(deadline=None, max_examples=60)
@given(CHANGES)
def test_one_walk_finds_the_house_of_every_day(changes: list[tuple[int, float | str, bool]]) -> None:
    events: list[AnyEvent] = []
    for days, what, taken_back in changes:
        on = TODAY + days * DAY
        events.append(
            people(on, what)
            if isinstance(what, float)
            else UseAdded(on=on, use=POOL)
            if what == "add"
            else UseEnded(on=on, title="Pool")
        )
        events += [Correction(on=TODAY, voids=len(events))] if taken_back else []
    there = home(*events)
    houses = houses_since(there, TODAY)
    assert [on for on, _ in houses] == sorted({on for on, _ in houses})
    for day in (TODAY + k * DAY for k in range(-21, 22)):
        assert [one for on, one in houses if on <= day][-1] == present(there, day)


def test_many_changes_are_walked_once() -> None:
    there = home(*(people(START + k * DAY, float(k % 5)) for k in range(300)))
    assert len(houses_since(there, TODAY)) == 301
    before = settings_changed(there, TODAY)
    assert [one.people for _, one in before] == [3.0, *(float(k % 5) for k in range(299))]


# What does not fit


@pytest.mark.parametrize(
    ("change", "says"),
    [
        (UseAdded(on=TODAY, use=POOL | {"title": " POOL"}), "already"),
        (UseAdded(on=TODAY - DAY, use=POOL), "would no longer fit"),
        (UseEnded(on=TODAY - DAY, title="Pool"), "in force"),
        (UseEnded(on=TODAY + 30 * DAY, title="Pool"), "in force"),
        (UseEnded(on=TODAY + DAY, title="Pool"), "would no longer fit"),
        (UseAdded(on=TODAY + (FURTHEST_AHEAD_DAYS + 1) * DAY, use=POOL), "two years"),
        (UseAdded(on=TODAY, use={"title": "Trough"}), "litres_per_week"),
    ],
)
def test_a_change_that_does_not_fit_is_refused(change: UseAdded | UseEnded, says: str) -> None:
    there = home(UseAdded(on=TODAY, use=POOL), UseEnded(on=TODAY + 20 * DAY, title="Pool"))
    with pytest.raises(BadInput, match=says):
        check_fits(there, TODAY, change)


def test_a_use_may_begin_again_on_the_day_it_ends() -> None:
    there = home(UseAdded(on=TODAY, use=POOL))
    more = POOL | {"litres_per_week": 900.0}
    check_fits(there, TODAY, UseEnded(on=TODAY + DAY, title="Pool"), UseAdded(on=TODAY + DAY, use=more))


# What the owner explained


def test_the_last_answer_for_a_stretch_counts() -> None:
    start, end = TODAY - 14 * DAY, TODAY - 7 * DAY
    answers = [explained(start, end, cause, None, TODAY) for cause in ("leak", "household")]
    found = explanations(History(numbered(*answers), TODAY))
    assert [(stretch, one.cause, one.over) for stretch, one in found.items()] == [((start, end), "household", False)]


@pytest.mark.parametrize(
    ("start", "end", "over"),
    [
        (TODAY, TODAY, None),
        (TODAY - DAY, TODAY + DAY, None),
        (date(1950, 1, 1), TODAY, None),
        (TODAY - DAY, TODAY, False),
    ],
)
def test_what_explains_nothing_is_refused(start: date, end: date, over: bool | None) -> None:
    with pytest.raises(BadInput):
        explained(start, end, "misread", over, TODAY)


def test_the_story_is_moved_with_all_its_days() -> None:
    old = numbered(
        Guests(on=date(2024, 12, 24), until=date(2024, 12, 27), people=2.0),
        Explained(on=date(2024, 12, 30), start=date(2024, 12, 9), end=date(2024, 12, 16), cause="leak", over=True),
        reading(date(2025, 12, 30), "meter", 1.0, "house"),
    )
    guests, answer = redated(Home(home().house, old), date(2026, 12, 31)).events
    assert isinstance(guests, Guests)
    assert isinstance(answer, Explained)
    assert (guests.on, guests.until) == (date(2026, 12, 24), date(2026, 12, 27))
    assert (answer.start, answer.end) == (date(2026, 12, 9), date(2026, 12, 16))


# Nights


def nights(*flows: float | None, end: date = TODAY) -> History:
    """Nights that end on `end`, the oldest first; None was not recorded."""
    first = end - (len(flows) - 1) * DAY
    days = (first + k * DAY for k in range(len(flows)))
    return History(
        numbered(
            *(reading(on, "night_flow", one, "house") for on, one in zip(days, flows, strict=True) if one is not None)
        ),
        TODAY,
    )


def test_water_that_runs_all_night_is_told_with_what_it_makes() -> None:
    said = leaks_by_night(nights(0.0, 6.0, None, 5.0, 4.0, 9.0, 5.0, 6.0), TODAY)
    assert said is not None
    for words in ("last 7 nights (6 on record)", "4 L/h", "22 Nov", "96 L a day", "2,880 L a month"):
        assert words in said
    american = leaks_by_night(nights(*[37.85411784] * 7), TODAY, "us")
    assert american is not None
    for words in ("10 gal/h", "240 gal a day", "7,200 gal a month"):
        assert words in american


@pytest.mark.parametrize(
    "history",
    [
        nights(),
        nights(5.0, 5.0, 5.0, 5.0),
        nights(5.0, 5.0, 2.0, 5.0, 5.0, 5.0, 5.0),
        nights(*[5.0] * 7, end=TODAY - 3 * DAY),
    ],
    ids=["none", "too few", "one still night", "too old"],
)
def test_otherwise_nothing_is_said(history: History) -> None:
    assert leaks_by_night(history, TODAY) is None


def test_the_value_recorded_last_for_a_night_counts() -> None:
    twice = numbered(reading(TODAY, "night_flow", 9.0, "house"), reading(TODAY, "night_flow", 1.0, "house"))
    assert night_flows(History(twice, TODAY)) == [(TODAY, 1.0)]
