"""Numbers, dates, amounts and prices as people type them."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from math import isfinite

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.errors import BadInput
from model.records.intake import check_date, parse_amount, parse_date, parse_number, parse_price
from model.records.typed import split_unit

TODAY = date(2027, 3, 1)
ODD_TEXT = st.one_of(
    st.text(max_size=20),
    st.text(alphabet="0123456789.,+-eE _'infNA∞ ", max_size=20),
    st.floats().map(repr),
    st.integers().map("{:,}".format),
)


@pytest.mark.parametrize(
    ("text", "value"),
    [
        ("14.2", 14.2),
        (" 7 ", 7.0),
        ("184,220", 184220.0),
        ("184,220.5", 184220.5),
        ("1,234,567", 1234567.0),
        ("184 220", 184220.0),
        ("184\u202f220", 184220.0),
        ("-3", -3.0),
        ("−3", -3.0),
        ("-1,234", -1234.0),
        (".5", 0.5),
        ("1e-05", 1e-05),
    ],
)
def test_numbers(text: str, value: float) -> None:
    assert parse_number(text) == value


@pytest.mark.parametrize(
    "text",
    [
        "",
        " ",
        "nan",
        "NaN",
        "inf",
        "-inf",
        "Infinity",
        "1e999",
        "9" * 400,
        "six",
        "1_000",
        "٣",
        "½",
        "0x10",
        "--1",
        "1.2.3",
    ],
)
def test_not_numbers(text: str) -> None:
    with pytest.raises(BadInput):
        parse_number(text)


@pytest.mark.parametrize("text", ["6,5", "0,450", "12,34", "1,23,456", ",5", "6,5000", "1,234,5", "1.234,5", "0 450"])
def test_a_comma_that_may_be_a_decimal_one_is_refused(text: str) -> None:
    with pytest.raises(BadInput, match="with a point"):
        parse_number(text)


@given(ODD_TEXT)
def test_no_text_gives_a_number_that_is_not_finite(text: str) -> None:
    try:
        value = parse_number(text)
    except BadInput:
        return
    assert isfinite(value)


@given(st.integers(-(10**12), 10**12))
def test_thousands_separators_change_nothing(number: int) -> None:
    assert parse_number(f"{number:,}") == number
    assert parse_number(str(number)) == number


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("14.2 in", ("14.2", "in")),
        ('14.2"', ("14.2", '"')),
        ("6mg/L as N", ("6", "mg/L as N")),
        ("<0.05 mg/L", ("<0.05", "mg/L")),
        ("1e-05 mg/L", ("1e-05", "mg/L")),
        ("184 220 gal", ("184 220", "gal")),
        ("95 %", ("95", "%")),
        ("52 °F", ("52", "°F")),
        ("12", ("12", "")),
        ("nan", ("nan", "")),
        ("", ("", "")),
    ],
)
def test_number_and_unit_in_one(text: str, parts: tuple[str, str]) -> None:
    assert split_unit(text) == parts


@pytest.mark.parametrize(
    ("text", "day"),
    [
        ("2027-01-31", date(2027, 1, 31)),
        ("2028-02-29", date(2028, 2, 29)),
        (" Today ", TODAY),
        ("yesterday", date(2027, 2, 28)),
    ],
)
def test_dates(text: str, day: date) -> None:
    assert parse_date(text, TODAY) == day


@pytest.mark.parametrize("text", ["2027-02-30", "2027-13-01", "2027-02-29", "0000-01-01", "2027-00-10"])
def test_days_that_do_not_exist(text: str) -> None:
    with pytest.raises(BadInput, match="no day"):
        parse_date(text, TODAY)


@pytest.mark.parametrize(
    "text", ["", "20270131", "2027-W05-1", "1/31/2027", "31.1.2027", "2027-1-31", "tomorrow", "２０２７-01-31"]
)
def test_dates_in_other_forms_are_refused(text: str) -> None:
    with pytest.raises(BadInput, match="YYYY-MM-DD"):
        parse_date(text, TODAY)


@given(st.text(max_size=12))
def test_no_text_breaks_the_date(text: str) -> None:
    try:
        says = str(parse_date(text, TODAY))
    except BadInput as refused:
        says = refused.now
    assert says


@given(st.dates())
def test_iso_dates_there_and_back(day: date) -> None:
    assert parse_date(day.isoformat(), TODAY) == day


@pytest.mark.parametrize(("on", "says"), [(date(2027, 3, 2), "future"), (date(1969, 12, 31), "long ago")])
def test_days_that_cannot_be_recorded(on: date, says: str) -> None:
    with pytest.raises(BadInput, match=says):
        check_date(on, TODAY)


def test_days_that_can() -> None:
    check_date(TODAY, TODAY)
    check_date(date(1970, 1, 1), TODAY)
    check_date(date(2027, 1, 1), TODAY, started=date(2027, 1, 1))


def test_before_the_home_was_written_down() -> None:
    with pytest.raises(BadInput, match="before this home's record"):
        check_date(date(2026, 12, 31), TODAY, started=date(2027, 1, 1))


@pytest.mark.parametrize(
    ("text", "hint", "amount"),
    [
        ("2", "each", 2.0),
        ("40", "kg", 40.0),
        ("40 kg", "kg", 40.0),
        pytest.param("40 lb", "kg", 18.143695, id="NIST SP 811 B.8: 40 pounds"),
        ("1,200 g", "kg", 1.2),
        ("999,999", "each", 999999.0),
    ],
)
def test_amounts(text: str, hint: str, amount: float) -> None:
    assert parse_amount(text, hint) == pytest.approx(amount, rel=1e-7)


@pytest.mark.parametrize("text", ["0", "-1", "1000000", "nan", "inf", "", "two", "40 in", "40 bags"])
def test_amounts_refused(text: str) -> None:
    with pytest.raises(BadInput):
        parse_amount(text, "kg")


def test_an_empty_shelf_can_be_counted() -> None:
    assert parse_amount("0", "kg", zero_ok=True) == 0.0
    with pytest.raises(BadInput, match="0 or more"):
        parse_amount("-1", "kg", zero_ok=True)


@pytest.mark.parametrize(
    ("text", "currency", "price"),
    [
        ("12.50", "USD", 12.5),
        ("$12.50", "USD", 12.5),
        ("12.50 EUR", "EUR", 12.5),
        ("EUR 1,250", "EUR", 1250.0),
        ("0", "USD", 0.0),
    ],
)
def test_prices(text: str, currency: str, price: float) -> None:
    assert parse_price(text, currency) == price


@pytest.mark.parametrize("text", ["-0.01", "1000000", "nan", "$", "", "12,5", "€12"])
def test_prices_refused(text: str) -> None:
    with pytest.raises(BadInput):
        parse_price(text)


@pytest.mark.parametrize("parse", [parse_amount, parse_price])
@given(text=ODD_TEXT)
def test_amounts_and_prices_are_always_finite(parse: Callable[[str], float], text: str) -> None:
    try:
        value = parse(text)
    except BadInput:
        return
    assert 0 <= value < 1e6
