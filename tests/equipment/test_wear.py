"""A stock followed from mark to mark: by hand, against a dense reference, and what must always hold."""

from __future__ import annotations

from datetime import date, timedelta
from math import exp, log

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from model.equipment.levels import Mark
from model.equipment.wear import Drawn, Errors, Followed, follow

DAY = date(2026, 1, 1)
A_DAY = 0.5  # kg
ERRORS = Errors(seen_sd=2.0, rate_sd=0.2)
START = (DAY, 80.0, 8.0)


def on(days: int) -> date:
    return DAY + timedelta(days=days)


def drawn(start: date, end: date) -> Drawn:
    return Drawn(A_DAY * (end - start).days, 0.0)


def followed(*marks: Mark, errors: Errors = ERRORS) -> Followed:
    return follow(list(marks), START, 100.0, drawn, errors)


def seen(days: int, level: float) -> Mark:
    return Mark(on(days), level, 0.0)


def test_the_first_look_stands_by_itself() -> None:
    found = followed(seen(10, 60.0))
    assert (found.on, found.level, found.sd, found.log_rate) == (on(10), 60.0, 2.0, 0.0)


def test_two_looks_weigh_level_and_rate_as_least_squares_do() -> None:
    """60 kg, then 40 after 60 days in which 30 were reckoned to go: the draw was 20, so ln(20/30) on the rate.

    On a fine grid of ln(rate): prior N(0, 0.2^2 + wander), level 60 +- 2 then 40 +- 2 after 30 e^r (5 % of it by
    chance); the posterior mean of the last level and of r, worked out here by sums.
    """
    found = followed(seen(0, 60.0), seen(60, 40.0))
    wander = 0.10**2 * 60 / 365.25
    top = bottom = level = 0.0
    for k in range(-2000, 2001):
        rate = k / 2000.0
        expected = 60.0 - 30.0 * exp(rate)
        variance = 4.0 + (0.05 * 30.0 * exp(rate)) ** 2
        weight = exp(-0.5 * rate**2 / 0.04 - 0.5 * (40.0 - expected) ** 2 / (variance + 4.0)) / (variance + 4.0) ** 0.5
        gain = variance / (variance + 4.0)
        top, bottom = top + weight * rate, bottom + weight
        level += weight * (expected + gain * (40.0 - expected))
    assert found.log_rate == pytest.approx(top / bottom, abs=0.04)
    assert found.level == pytest.approx(level / bottom, abs=0.6)
    assert found.log_sd < 0.2 + wander


def test_many_looks_find_the_true_rate() -> None:
    """A quarter more than reckoned, read each month, refilled in between."""
    marks, level = [], 80.0
    for month in range(12):
        marks.append(seen(30 * month, level))
        level -= 30 * A_DAY * 1.25
        if level < 30.0:
            marks.append(Mark(on(30 * month + 29), None, 40.0))
            level += 40.0
    assert followed(*marks).log_rate == pytest.approx(log(1.25), abs=0.05)


def test_a_counter_tells_how_often_and_depth_how_much() -> None:
    """4 kg each by the label. 15 regenerations counted where 12 were reckoned; the salt fell by 12 x 4 all the same."""
    errors = Errors(seen_sd=1.0, rate_sd=0.2, dose_sd=0.2, each=4.0)
    marks = [Mark(on(0), 90.0, 0.0, 100.0), Mark(on(96), 42.0, 0.0, 115.0)]
    found = follow(marks, START, 100.0, drawn, errors)
    assert found.log_rate == pytest.approx(0.0, abs=0.05)
    counted_only = follow([marks[0], Mark(on(96), None, 0.0, 115.0)], START, 100.0, drawn, errors)
    assert counted_only.log_rate == pytest.approx(log(15 / 12), abs=0.05)


def test_salt_that_has_not_fallen_moves_nothing_later_and_is_told() -> None:
    """60 kg, and 60 again after 60 days: a bridge, or no brine drawn. What was reckoned stands."""
    found = followed(seen(0, 60.0), seen(60, 60.0))
    assert found.odd == "stuck"
    assert (found.on, found.level) == (on(0), 60.0)
    assert found.odd_reckoned == pytest.approx(30.0)
    assert found.log_rate == 0.0


def test_a_level_too_high_is_left_out_until_it_has_fallen_as_it_should() -> None:
    """20 kg put in and not written down: 60, then 58.9 where 45 was reckoned, then 43.5 a month later."""
    high = followed(seen(0, 60.0), Mark(on(1), None, 0.0), seen(30, 58.9))
    assert (high.odd, round(high.odd_reckoned)) == ("high", 45)
    settled = followed(seen(0, 60.0), seen(30, 58.9), seen(60, 43.5))
    assert settled.odd == ""
    assert settled.level == pytest.approx(43.5, abs=1.5)


def test_a_level_far_too_low_counts_at_once() -> None:
    found = followed(seen(0, 60.0), seen(30, 25.0))
    assert found.odd == "low"
    assert found.level == pytest.approx(25.0, abs=1.5)
    assert found.log_rate > 0.0


def test_a_refill_that_nobody_measured_fills_to_the_mark() -> None:
    errors = Errors(seen_sd=2.0, rate_sd=0.2, full=90.0, full_sd=4.0, much=25.0)
    found = follow([Mark(on(0), 85.0, 0.0), Mark(on(100), None, 60.0)], START, 100.0, drawn, errors)
    assert found.level == pytest.approx(91.0, abs=2.0)
    assert found.log_rate > 0.05


levels = st.floats(20.0, 58.9)


@given(levels, st.floats(0.1, 30.0), st.integers(20, 60))
@settings(max_examples=80)
def test_more_seen_is_never_less_left_nor_a_faster_draw(level: float, more: float, days: int) -> None:
    """Both fallen, neither beyond the errors."""
    less, most = (followed(seen(0, 60.0), seen(days, one)) for one in (level, min(level + more, 58.9)))
    if less.odd or most.odd:
        return
    assert most.level >= less.level - 1e-9
    assert most.log_rate <= less.log_rate + 1e-9


@given(levels, st.floats(0.5, 6.0), st.floats(1.0, 3.0), st.integers(20, 60))
@example(58.0, 5.0, 1.25, 20)
@settings(max_examples=80)
def test_a_sharper_look_never_leaves_more_doubt(level: float, sharp: float, times: float, days: int) -> None:
    def doubt(sd: float) -> tuple[float, float]:
        found = followed(seen(0, 60.0), seen(days, level), errors=Errors(seen_sd=sd, rate_sd=0.2))
        # A look that is left out until a second one, as it shows no fall, leaves the doubt of before.
        return (0.0, 0.0) if found.odd or found.seen != on(days) else (found.sd, found.log_sd)

    sharper, blunter = doubt(sharp), doubt(sharp * times)
    if sharper == (0.0, 0.0) or blunter == (0.0, 0.0):
        return
    assert sharper[0] <= blunter[0] + 1e-9


@given(st.lists(st.tuples(st.integers(1, 40), st.floats(0.0, 100.0), st.floats(0.0, 60.0)), max_size=12))
@settings(max_examples=60)
def test_the_level_stays_in_the_tank_and_the_doubt_is_a_number(rows: list[tuple[int, float, float]]) -> None:
    marks, day = [], 0
    for days, level, added in rows:
        day += days
        marks.append(Mark(on(day), level if days % 2 else None, added if days % 3 == 0 else 0.0, float(day // 7)))
    found = follow(marks, START, 100.0, drawn, Errors(seen_sd=2.0, rate_sd=0.2, dose_sd=0.1, water_sd=0.3, each=4.0))
    assert 0.0 <= found.level <= 100.0
    assert found.sd >= 0.0
    assert 0.0 < found.log_sd < 1.0
    assert 0.0 <= found.water_known <= 1.001


def test_a_bridge_looked_at_each_week_is_found_all_the_same() -> None:
    """Four kilograms go each eight days by reckoning, and the stick finds the same every week: no date moves later."""
    errors = Errors(seen_sd=2.0, rate_sd=0.1, dose_sd=0.1, each=4.0)
    weekly = follow([Mark(on(7 * k), 60.0, 0.0) for k in range(13)], START, 100.0, drawn, errors)
    assert weekly.on <= on(7)
    assert weekly.log_rate > -0.1
    assert weekly.odd == "stuck"


def test_measured_again_on_the_same_day_a_level_too_high_stays_too_high() -> None:
    again = followed(seen(0, 60.0), seen(60, 56.0), seen(60, 55.9))
    assert again.odd == "high"
    assert again.on == on(0)


def test_a_count_that_cannot_be_says_nothing() -> None:
    errors = Errors(seen_sd=2.0, rate_sd=0.1, dose_sd=0.1, each=4.0)
    marks = [Mark(on(0), 90.0, 0.0, 100.0), Mark(on(80), None, 0.0, 5000.0)]
    found = follow(marks, START, 100.0, drawn, errors)
    assert abs(found.log_rate) < 0.2
    assert found.level == pytest.approx(50.0, abs=2.0)


def test_a_refill_measured_but_not_weighed_is_no_bridge() -> None:
    found = followed(seen(0, 60.0), Mark(on(60), 85.0, 0.0, None, refilled=True))
    assert (found.odd, found.level, found.log_rate) == ("", 85.0, 0.0)


def test_a_long_log_does_not_begin_at_a_level_that_hangs() -> None:
    """Seventy looks a week apart at the same level: what was there at first has long gone by reckoning."""
    errors = Errors(seen_sd=2.0, rate_sd=0.1, dose_sd=0.1, each=4.0)
    marks = [Mark(on(0), 80.0, 60.0, refilled=True), *(Mark(on(7 * k), 80.0, 0.0) for k in range(1, 70))]
    assert follow(marks, START, 100.0, drawn, errors).on <= on(7)
