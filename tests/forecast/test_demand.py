"""Water use: from people, then from the meter with all its troubles."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.forecast.demand import Demand
from model.home import House, Use
from model.records.events import Absence, AnyEvent, MeterReplaced
from model.records.history import History
from tests.forecast.homes import START, TODAY, home, house, meter, reading


def demand(events: list[AnyEvent], **more: object) -> Demand:
    made = home(*events, **more)
    return Demand(made.house, History(made.events, TODAY), START)


def test_without_a_meter_people_decide() -> None:
    """0.23 m3 per person and day, NAP 6287 p. 56, in a mean house of 2.6; others by 69.2 + 37.2 n (both from memory).

    By hand: 2.6 x 230 x (69.2 + 37.2 x 3) / (69.2 + 37.2 x 2.6) = 598 x 180.8 / 165.92 = 651.6.
    """
    assert demand([]).per_day() == pytest.approx(651.6, abs=0.1)


def test_the_mean_of_many_houses_is_as_published() -> None:
    """NAP 6287 p. 56 prints a mean of 0.28 m3 beside the geometric mean 0.23 and GSD 1.8: our prior has that mean."""
    prior = demand([]).level
    assert 0.230 * 2.718281828 ** (0.5 * prior.covariance[0][0]) == pytest.approx(0.28, rel=0.05)


@pytest.mark.parametrize("use", [150.0, 480.0, 1400.0])
def test_the_meter_takes_over(use: float) -> None:
    assert demand(meter(use)).per_day() == pytest.approx(use, rel=0.03)


def test_a_new_household_shows_within_two_months() -> None:
    events = meter(400.0, weeks=40, end=TODAY - timedelta(weeks=8))
    last = 7 * 40 * 400.0
    events += [reading(TODAY - timedelta(weeks=8 - k), "meter", last + 7 * k * 800.0, "house") for k in range(1, 9)]
    assert demand(events).per_day() > 480.0


def test_the_season_is_learned() -> None:
    """Two years with half as much again in July as in January."""
    from math import cos, pi

    events: list[AnyEvent] = []
    first, total = TODAY - timedelta(days=728), 0.0
    for k in range(729):
        day = first + timedelta(days=k)
        if k % 7 == 0:
            events.append(reading(day, "meter", total, "house"))
        total += 500.0 * (1.0 + 0.2 * cos(2 * pi * (day.timetuple().tm_yday - 196) / 365.25))
    learned = demand(events)
    assert learned.per_day_on(date(2027, 7, 15)) / learned.per_day_on(date(2027, 1, 15)) == pytest.approx(1.5, abs=0.15)


def test_a_replaced_meter_joins() -> None:
    events: list[AnyEvent] = [
        reading(date(2026, 10, 1), "meter", 900_000.0, "house"),
        MeterReplaced(on=date(2026, 10, 11), old_reading_l=905_000.0, new_reading_l=10.0),
        reading(date(2026, 10, 21), "meter", 5_010.0, "house"),
    ]
    assert demand(events).litres(date(2026, 10, 1), date(2026, 10, 21)) == pytest.approx(10_000.0)


def test_a_meter_that_rolls_over_joins_where_the_house_says_so() -> None:
    events: list[AnyEvent] = [
        reading(date(2026, 10, 1), "meter", 998_000.0, "house"),
        reading(date(2026, 10, 11), "meter", 3_000.0, "house"),
    ]
    known = demand(events, meter_rolls_over_at_l=1_000_000.0)
    assert known.litres(date(2026, 10, 1), date(2026, 10, 11)) == pytest.approx(5_000.0)


def test_a_meter_that_ran_backwards_is_left_out_and_named() -> None:
    events: list[AnyEvent] = [
        reading(date(2026, 10, 1), "meter", 998_000.0, "house"),
        reading(date(2026, 10, 11), "meter", 3_000.0, "house"),
    ]
    backwards = demand(events)
    assert backwards.level.seen == 0
    assert "2026-10-01" in backwards.problems[0]


def test_an_absence_takes_no_water_and_is_no_lower_level() -> None:
    """Ten of fourteen days away: what was used belongs to the four days at home."""
    away = Absence(on=date(2026, 11, 1), until=date(2026, 11, 10))
    events: list[AnyEvent] = [
        away,
        reading(date(2026, 11, 1), "meter", 0.0, "house"),
        reading(date(2026, 11, 15), "meter", 4 * 500.0, "house"),
    ]
    lived = demand(events)
    assert lived.litres(date(2026, 11, 2), date(2026, 11, 10)) == 0.0
    assert lived.litres(date(2026, 11, 1), date(2026, 11, 15)) == pytest.approx(2000.0)
    assert 450.0 < lived.per_day() < 690.0


def test_an_absence_to_come_counts_nothing() -> None:
    away = Absence(on=TODAY + timedelta(days=10), until=TODAY + timedelta(days=19))
    known, at_home = demand([*meter(500.0), away]), demand(meter(500.0))
    month = (TODAY, TODAY + timedelta(days=30))
    assert known.litres(*month) == pytest.approx(at_home.litres(*month) * 20 / 30, rel=0.02)


def test_the_hose_is_not_treated_water() -> None:
    trough = Use(title="Trough", litres_per_week=700.0, point="hose")
    assert demand(meter(500.0), uses=(trough,)).per_day() == pytest.approx(400.0, rel=0.03)
    assert demand(meter(500.0), uses=(trough,), meter_reads="house").per_day() == pytest.approx(500.0, rel=0.03)


def test_a_named_use_comes_in_its_months() -> None:
    greenhouse = Use(title="Greenhouse", litres_per_week=1400.0, months=(6, 7))
    known = demand([], uses=(greenhouse,))
    assert known.per_day_on(date(2027, 7, 1)) - known.per_day_on(date(2027, 5, 31)) == pytest.approx(200.0, rel=0.01)


uses = st.lists(st.floats(1.0, 3000.0), min_size=2, max_size=20)


@given(uses)
def test_metered_days_add_up_to_the_meter(litres: list[float]) -> None:
    days = [START + timedelta(days=5 * k) for k in range(len(litres) + 1)]
    events: list[AnyEvent] = [reading(day, "meter", sum(litres[:k]), "house") for k, day in enumerate(days)]
    known = demand(events)
    for k, used in enumerate(litres):
        assert known.litres(START + timedelta(days=5 * k), START + timedelta(days=5 * k + 5)) == pytest.approx(used)


@given(st.floats(0.2, 12.0), st.floats(1.01, 3.0))
def test_more_people_use_more(people: float, more: float) -> None:
    def year(count: float) -> float:
        made: House = house(people=count)
        return Demand(made, History((), TODAY), START).year_litres()

    assert year(people * more) > year(people)


def test_spread_shrinks_with_readings() -> None:
    assert demand(meter(500.0)).forecast_log_sd(30) < 0.3 * demand([]).forecast_log_sd(30)
