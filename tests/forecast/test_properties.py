"""What must hold of every date, whatever is recorded."""

from __future__ import annotations

from datetime import date, timedelta
from random import Random

import msgspec
from hypothesis import given, settings
from hypothesis import strategies as st

from model.equipment.base import Probe, Stock
from model.forecast.chance import day_of_chance, likely_out
from model.forecast.demand import Demand
from model.forecast.narrowing import best_reading, looked_at
from model.home import Home
from model.plan import plan
from model.plan_types import Due
from model.records.events import Absence, AnyEvent, Correction, Guests, Service
from model.records.history import History
from model.records.intake import take
from tests.forecast.homes import START, TODAY, home, house, meter, numbered, raw_water, reading, salt_filled

LITRE_DRIVEN = ("softener.refill_salt", "neutralizer.top_up", "sediment_filter.replace_cartridge", "part.replace")
LIVED: list[AnyEvent] = [
    raw_water(),
    *meter(500.0, weeks=20),
    salt_filled(date(2026, 10, 1), 50.0),
    reading(date(2026, 11, 1), "salt_depth", 42.0, "softener"),
    reading(date(2026, 9, 1), "bed_depth", 80.0, "neutralizer"),
    Service(on=date(2026, 9, 1), task="sediment_filter.replace_cartridge"),
    Service(on=date(2026, 9, 1), task="part.replace"),
]
FEW = settings(max_examples=12, deadline=None)


def due_of(made: Home) -> dict[str, Due]:
    return {item.task: item for item in plan(made, TODAY).due}


BEFORE = due_of(home(*LIVED))


@given(st.integers(0, 60), st.integers(0, 90))
@FEW
def test_an_absence_to_come_is_never_earlier_for_what_goes_with_the_water(wait: int, days: int) -> None:
    first = TODAY + timedelta(days=wait)
    away = due_of(home(*LIVED, Absence(on=first, until=first + timedelta(days=days))))
    for task in LITRE_DRIVEN:
        was, now = BEFORE[task], away[task]
        assert now.act_on >= was.act_on, task
        assert was.middle is not None
        assert now.middle is not None
        assert now.middle >= was.middle, task


@given(st.integers(0, 40), st.integers(1, 30), st.floats(0.5, 20.0))
@FEW
def test_guests_to_come_are_never_later_for_what_goes_with_the_water(wait: int, days: int, people: float) -> None:
    first = TODAY + timedelta(days=wait)
    full = due_of(home(*LIVED, Guests(on=first, until=first + timedelta(days=days), people=people)))
    for task in LITRE_DRIVEN:
        assert full[task].act_on <= BEFORE[task].act_on, task


@given(st.randoms(use_true_random=False))
@FEW
def test_the_order_of_entry_does_not_matter(dice: Random) -> None:
    """Each event on a day of its own: entered in any order the plan is the same but for the numbers of events."""
    mixed = list(LIVED)
    dice.shuffle(mixed)
    assert due_of(Home(house(), numbered(*mixed))) == BEFORE


VOIDED: tuple[AnyEvent, ...] = (
    reading(TODAY, "meter", 9e7, "house"),
    reading(TODAY, "salt_depth", 20.0, "softener"),
    reading(TODAY, "bed_depth", 61.0, "neutralizer"),
    reading(TODAY, "regenerations", 400.0, "softener"),
    reading(TODAY, "ro_feed_tds", 300.0, "reverse_osmosis"),
    Guests(on=TODAY, until=TODAY + timedelta(days=30), people=9.0),
)


@given(st.sampled_from(VOIDED))
@FEW
def test_a_voided_reading_leaves_no_trace(event: AnyEvent) -> None:
    made = home(*LIVED, event)
    last = len(made.events)
    undone = Home(made.house, (*made.events, Correction(id=last + 1, on=TODAY, voids=last)))
    assert plan(undone, TODAY) == plan(home(*LIVED), TODAY)


@given(st.integers(30, 45), st.integers(100, 2000))
@FEW
def test_units_do_not_matter(depth_cm: int, more_litres: int) -> None:
    """The same salt in inches, the same water in gallons."""
    plain = house()
    count = 7 * 20 * 500.0 + more_litres
    metric = (
        take(plain, "salt_depth", str(depth_cm), "cm", "softener"),
        take(plain, "meter", str(count), "L"),
    )
    us = (
        take(plain, "salt_depth", repr(depth_cm / 2.54), "in", "softener"),
        take(plain, "meter", repr(count / 3.785411784), "gal"),
    )
    first, second = (
        due_of(home(*LIVED, *(reading(TODAY, one.quantity, one.value, one.point) for one in both)))
        for both in (metric, us)
    )
    assert {task: (one.act_on, one.earliest, one.latest) for task, one in first.items()} == {
        task: (one.act_on, one.earliest, one.latest) for task, one in second.items()
    }


STEADY = Demand(house(), History(numbered(*meter(500.0)), TODAY), START)
stocks = st.builds(
    lambda left, sd, spread, lean, step: Stock(
        job="x",
        driver="volume",
        unit="kg",
        since=TODAY - timedelta(days=20),
        left=left,
        left_sd=sd,
        full=100.0,
        per_litre=0.001,
        spread=spread,
        covariance=-lean * sd * spread,
        step=step,
    ),
    st.floats(15.0, 200.0),
    st.floats(0.1, 6.0),
    st.floats(0.03, 0.5),
    st.floats(0.0, 0.9),
    st.floats(0.0, 4.0),
)


def width(one: Stock) -> int:
    low, high = (day_of_chance(one, STEADY, chance, likely_out) for chance in (0.1, 0.9))
    assert low is not None
    assert high is not None
    return (high - low).days


@given(stocks, st.floats(0.1, 5.0), st.floats(1.0, 4.0))
@settings(max_examples=40, deadline=None)
def test_a_sharper_reading_never_widens_the_window(one: Stock, sharp: float, times: float) -> None:
    """A day at most, by whole days."""
    sharper, blunter = (looked_at(one, STEADY, Probe(do="look", seen_sd=sd)) for sd in (sharp, sharp * times))
    assert width(sharper) <= width(blunter) + 1
    assert width(blunter) <= width(one) + 2


@given(stocks)
@settings(max_examples=25, deadline=None)
def test_the_reading_that_is_asked_for_does_narrow(one: Stock) -> None:
    asked = msgspec.structs.replace(one, probes=(Probe(do="Measure", seen_sd=0.5),))
    low, high = (day_of_chance(asked, STEADY, chance, likely_out) for chance in (0.1, 0.9))
    found = best_reading(asked, STEADY, low, high)
    if found is not None:
        assert found.do == "Measure"
        assert found.days_then < found.days_now == width(asked)


def test_a_salt_level_that_has_not_fallen_across_regenerations_never_moves_a_date_later() -> None:
    """42 cm on the first, and as much or more on the 25th: 500 L a day and 4,000 L each are three regenerations."""
    was = BEFORE["softener.refill_salt"]
    for depth in (42.0, 45.0, 60.0, 80.0):
        now = due_of(home(*LIVED, reading(TODAY, "salt_depth", depth, "softener")))["softener.refill_salt"]
        assert was.middle is not None
        assert now.middle is not None
        assert (now.act_on, now.middle) <= (was.act_on, was.middle)
        assert any("bridge" in line for line in now.why) == (depth > 50.0) or depth < 50.0


def test_a_probe_is_named_with_both_widths() -> None:
    """Salt not looked at for months: a stick would tell most, and by how many days is said."""
    unread: list[AnyEvent] = [raw_water(), *meter(500.0, weeks=20), salt_filled(date(2026, 8, 1), 55.0)]
    why = due_of(home(*unread))["softener.refill_salt"].why
    assert any(line.startswith("Measure the salt depth: the window shrinks from ") for line in why)
    assert len(why) <= 8


def test_a_sudden_use_is_asked_about_and_an_answer_settles_it() -> None:
    from model.records.events import Explained

    weeks = meter(500.0, weeks=20, end=TODAY - timedelta(days=7))
    last = 7 * 20 * 500.0
    leak: list[AnyEvent] = [*weeks, reading(TODAY, "meter", last + 7 * 2000.0, "house")]
    asked = plan(home(raw_water(), *leak), TODAY)
    (question,) = asked.questions
    assert (question.start, question.end) == (TODAY - timedelta(days=7), TODAY)
    assert question.litres == 14_000.0
    assert 3000.0 < question.expected_litres < 4000.0
    assert asked.litres_per_day > 1000.0
    over = Explained(on=TODAY, start=question.start, end=question.end, cause="leak", over=True)
    answered = plan(home(raw_water(), *leak, over), TODAY)
    assert not answered.questions
    assert abs(answered.litres_per_day - 500.0) < 25.0
