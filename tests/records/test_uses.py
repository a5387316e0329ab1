"""Named uses, guests and their days, as people type them."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.errors import BadInput
from model.home import Use
from model.records.stays import LONGEST_STAY_DAYS, check_stay, guests_in_words, parse_guests
from model.records.uses import make_use, months_in_words, parse_months, use_in_words
from tests.records.houses import house

TODAY = date(2026, 11, 25)


@pytest.mark.parametrize(
    ("typed", "months", "words"),
    [
        ("", tuple(range(1, 13)), "all year"),
        ("5-9", (5, 6, 7, 8, 9), "May-Sep"),
        ("11-2", (1, 2, 11, 12), "Nov-Feb"),
        (" 7 ", (7,), "Jul"),
        ("5, 7-8", (5, 7, 8), "May, Jul-Aug"),
        ("12-11", tuple(range(1, 13)), "all year"),
    ],
)
def test_months(typed: str, months: tuple[int, ...], words: str) -> None:
    assert parse_months(typed) == months
    assert months_in_words(months) == words


@pytest.mark.parametrize("typed", ["0", "13", "5-", "-9", "May", "5;6", "5-9-11", "1.5", "²", ","])
def test_what_names_no_months(typed: str) -> None:
    with pytest.raises(BadInput):
        parse_months(typed)


@given(st.sets(st.integers(1, 12), min_size=1))
def test_months_in_words_name_each_run_once(months: set[int]) -> None:
    there = tuple(sorted(months))
    assert parse_months(",".join(map(str, there))) == there
    assert months_in_words(there)


# 1 gal = 3.785411784 L (NIST SP 811, appendix B.8)
@pytest.mark.parametrize(
    ("amount", "unit", "litres"),
    [
        ("100", "", 378.5411784),
        ("100", "L", 100.0),
        ("100 L", "", 100.0),
        ("1", "m3", 1000.0),
        ("1,000gal", "", 3785.411784),
    ],
)
def test_a_use_in_the_owners_units(amount: str, unit: str, litres: float) -> None:
    made = make_use(house(hose=True), "  The \n pool ", amount, unit, "hose", "6-8")
    assert (made.title, made.point, made.months) == ("The pool", "hose", (6, 7, 8))
    assert made.litres_per_week == pytest.approx(litres)


def test_a_use_in_words() -> None:
    assert use_in_words(Use(title="x", litres_per_week=378.5411784, point="ro"), "us") == "100 gal a week at the RO tap"
    made = Use(title="x", litres_per_week=70.0, months=(5, 6, 7, 8, 9))
    assert use_in_words(made, "metric") == "70 L a week at the taps, May-Sep"


@pytest.mark.parametrize(
    ("title", "amount", "unit", "point"),
    [
        (" \n", "5", "", "tap"),
        ("Pool", "0", "", "tap"),
        ("Pool", "-5", "", "tap"),
        ("Pool", "nan", "", "tap"),
        ("Pool", "5", "psi", "tap"),
        ("Pool", "999999", "m3", "tap"),
        ("Pool", "5", "", "hose"),
    ],
)
def test_what_is_no_use(title: str, amount: str, unit: str, point: str) -> None:
    with pytest.raises(BadInput) as refused:
        make_use(house(), title, amount, unit, point, "")
    assert str(refused.value)


@pytest.mark.parametrize("typed", ["0", "0.09", "50.5", "-2", "nan", "inf", "two", ""])
def test_what_is_no_number_of_guests(typed: str) -> None:
    with pytest.raises(BadInput):
        parse_guests(typed)


def test_guests_in_words() -> None:
    assert [guests_in_words(parse_guests(one)) for one in ("0.1", "1", "50")] == ["0.1 guests", "1 guest", "50 guests"]


@pytest.mark.parametrize(
    ("first", "last"),
    [
        (TODAY, TODAY - timedelta(days=1)),
        (TODAY, TODAY + timedelta(days=LONGEST_STAY_DAYS + 1)),
        (date(2206, 12, 1), date(2206, 12, 2)),
        (date(1926, 12, 1), date(1926, 12, 2)),
    ],
)
def test_what_is_no_stay(first: date, last: date) -> None:
    with pytest.raises(BadInput):
        check_stay("visit", first, last, TODAY)


def test_the_longest_stay_is_one() -> None:
    check_stay("visit", TODAY, TODAY + timedelta(days=LONGEST_STAY_DAYS), TODAY)
