"""The level of water use: what each interval teaches, jumps that go on or end, and a household that changed."""

from __future__ import annotations

from math import exp, log

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.forecast.learning import Learned, Seen, learn
from model.forecast.level import interval_log_variance
from model.forecast.weekday import weekday_factors

WIDE = 0.588  # ln 1.8


def weeks(*uses: float, told: dict[int, str] | None = None) -> list[Seen]:
    said = told or {}
    return [
        Seen(7 * (k + 1), (7 * k) % 365 + 4, 7.0, use, told=said.get(k, ""))  # type: ignore[arg-type]
        for k, use in enumerate(uses)
    ]


def use_of(found: Learned, day_of_year: int = 1) -> float:
    return found.level.litres_per_day(day_of_year)


def test_one_interval_by_hand() -> None:
    """Prior N(ln 500, 0.588^2), seasons N(0, 0.12^2) each: together 0.3457 + 0.0144 at any day of the year.

    A week of 300 a day has the variance 0.35^2/7 + 0.08^2 + (0.3/7)^2 = 0.02574, so ln 300 counts
    0.3601/(0.3601 + 0.0257) = 0.9333: 500 (300/500)^0.9333 = 310.4.
    """
    found = learn(500.0, WIDE, weeks(300.0))
    assert use_of(found, 4) == pytest.approx(500.0 * (300.0 / 500.0) ** 0.9333, rel=2e-3)


def test_readings_of_a_steady_house_narrow_the_level() -> None:
    sds = [learn(500.0, WIDE, weeks(*[400.0] * count)).level.log_sd(7 * count) for count in (0, 1, 4, 16)]
    assert sds == sorted(sds, reverse=True)
    assert sds[-1] < 0.12


@pytest.mark.parametrize(("before", "after"), [(400.0, 520.0), (520.0, 400.0), (400.0, 900.0), (900.0, 400.0)])
def test_a_change_of_household_shows_within_six_weeks(before: float, after: float) -> None:
    """More than half of the way in six weekly readings, on the scale of logs."""
    found = learn(500.0, WIDE, weeks(*[before] * 30, *[after] * 6))
    assert abs(log(use_of(found, 255) / after)) < 0.5 * abs(log(before / after))


def test_a_leak_counts_as_going_on_until_the_next_reading() -> None:
    """Four times the use in one week: believed at first, and asked about."""
    leaking = learn(500.0, WIDE, weeks(*[400.0] * 20, 1600.0))
    assert use_of(leaking, 150) > 1000.0
    (one,) = leaking.unusual
    assert (one.place, one.ended) == (20, False)
    assert one.expected_l_per_day == pytest.approx(400.0, rel=0.1)
    mended = learn(500.0, WIDE, weeks(*[400.0] * 20, 1600.0, 400.0))
    assert use_of(mended, 150) == pytest.approx(400.0, rel=0.05)
    assert [one.ended for one in mended.unusual] == [True]
    assert mended.risen_from is None


def test_a_rise_that_stays_is_told() -> None:
    found = learn(500.0, WIDE, weeks(*[400.0] * 20, *[1600.0] * 3))
    assert found.risen_from == 20
    assert use_of(found, 165) == pytest.approx(1600.0, rel=0.15)


def test_what_the_owner_says_is_over_teaches_nothing() -> None:
    plain = learn(500.0, WIDE, weeks(*[400.0] * 20))
    over = learn(500.0, WIDE, weeks(*[400.0] * 20, 1600.0, told={20: "over"}))
    assert use_of(over) == pytest.approx(use_of(plain), rel=1e-3)
    assert not over.unusual
    goes_on = learn(500.0, WIDE, weeks(*[400.0] * 20, 1600.0, told={20: "goes_on"}))
    assert use_of(goes_on, 150) > 1000.0
    assert not goes_on.unusual


def test_one_week_far_below_moves_nothing_and_two_do() -> None:
    """A week that nobody wrote down as an absence must not postpone a date."""
    steady = learn(500.0, WIDE, weeks(*[400.0] * 20))
    once = learn(500.0, WIDE, weeks(*[400.0] * 20, 60.0))
    assert use_of(once, 150) == pytest.approx(use_of(steady, 150), rel=0.01)
    twice = learn(500.0, WIDE, weeks(*[400.0] * 20, 60.0, 60.0))
    assert use_of(twice, 150) < 200.0


def test_a_noisy_house_is_known_to_be_noisy() -> None:
    calm = learn(500.0, WIDE, weeks(*[400.0] * 40)).level
    wild = learn(500.0, WIDE, weeks(*[300.0, 520.0] * 20)).level
    assert wild.noise_log_sd(7) > 1.5 * calm.noise_log_sd(7)


@given(st.lists(st.floats(50.0, 3000.0), max_size=30), st.floats(1.0, 3.0))
@settings(max_examples=40, deadline=None)
def test_twice_the_litres_twice_the_level(uses: list[float], times: float) -> None:
    one, more = (learn(500.0 * k, WIDE, weeks(*[use * k for use in uses])) for k in (1.0, times))
    assert use_of(more) == pytest.approx(times * use_of(one), rel=1e-6)


@given(st.integers(1, 400), st.integers(1, 400))
def test_a_longer_interval_says_more(days: int, more: int) -> None:
    assert interval_log_variance(float(days + more)) < interval_log_variance(float(days))


def test_weekdays_by_hand() -> None:
    """Ten weeks, Sundays half as much again: drawn by 10 / (10 + 0.35^2 / 0.1^2) = 0.4494 towards the mean of all.

    ln 1.5 = 0.4055; the mean of all is a seventh of it, 0.0579. Sunday: exp(0.4494 x 0.3476) = 1.1691; the others
    exp(-0.4494 x 0.0579) = 0.9743; their mean 1.0021.
    """
    daily = [(weekday, log(1.5) if weekday == 6 else 0.0) for _ in range(10) for weekday in range(7)]
    found = weekday_factors(daily)
    assert found is not None
    assert found[6] == pytest.approx(1.1691 / 1.0021, rel=1e-3)
    assert found[0] == pytest.approx(0.9743 / 1.0021, rel=1e-3)
    assert sum(found) == pytest.approx(7.0)
    assert weekday_factors(daily[:27]) is None


def test_the_spread_of_a_season_not_yet_seen_is_told() -> None:
    """Read in winter only: next summer is less certain than next winter."""
    level = learn(500.0, WIDE, [Seen(7 * k, 7 * k % 60 + 1, 7.0, 400.0) for k in range(1, 9)]).level
    assert level.log_sd(200) > 1.3 * level.log_sd(30)
    assert exp(level.mean[0]) > 0.0
