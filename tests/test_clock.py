"""Days and months, held against pendulum; and the clock at its edges."""

from __future__ import annotations

import time
from datetime import date

import pendulum
import pytest
from freezegun import freeze_time
from hypothesis import given
from hypothesis import strategies as st

from model import clock


@given(st.dates(date(1900, 1, 1), date(2200, 12, 31)), st.integers(-1200, 1200))
def test_months_are_added_as_pendulum_adds_them(day: date, months: int) -> None:
    theirs = pendulum.Date(day.year, day.month, day.day).add(months=months)
    assert clock.add_months(day, months) == date(theirs.year, theirs.month, theirs.day)


def test_a_leap_day_moves_to_the_last_of_february() -> None:
    assert clock.add_months(date(2028, 2, 29), 12) == date(2029, 2, 28)


def test_beyond_the_calendar_is_refused() -> None:
    with pytest.raises(OverflowError):
        clock.add_months(date(9999, 6, 1), 12)


@pytest.mark.parametrize(
    ("moment", "day"), [("2027-12-31 23:59:59", date(2027, 12, 31)), ("2028-02-29 00:00:00", date(2028, 2, 29))]
)
def test_the_day_and_the_stamp_follow_the_clock(monkeypatch: pytest.MonkeyPatch, moment: str, day: date) -> None:
    monkeypatch.setenv("TZ", "UTC")
    time.tzset()
    with freeze_time(moment):
        assert clock.today() == day
        assert clock.stamp() == moment.replace(" ", "T") + "Z"
