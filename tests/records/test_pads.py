"""A colour between two pads is an interval: taken as one, kept as one, shown as one."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.errors import BadInput
from model.records.bounds import for_health, for_mean, is_pad
from model.records.doubts import doubts
from model.records.events import LabReport, Reading, Taken
from model.records.intake import take
from model.records.log import describe
from model.records.quantities import show_taken
from model.store import codec
from tests.records.houses import house

US = house()
DAY = date(2026, 11, 20)


@pytest.mark.parametrize(
    ("quantity", "typed", "unit", "low", "high", "entered"),
    [
        ("nitrate", "5-10", "mg/L as N", 5.0, 10.0, "5-10 mg/L as N"),
        ("nitrate", "5 – 10 mg/L as N", None, 5.0, 10.0, "5-10 mg/L as N"),
        ("nitrate", "44.3-88.6", "mg/L as NO3", 10.0, 20.0, "44.3-88.6 mg/L as NO3"),
        ("nitrite", "0-0.5", "mg/L as N", 0.0, 0.5, "0-0.5 mg/L as N"),
        ("pH", "6.5-7", None, 6.5, 7.0, "6.5-7"),
        ("hardness", "3-7", None, 51.35, 119.83, "3-7 gpg"),
        ("alkalinity", "40-80", "mg/L as CaCO3", 40.0, 80.0, "40-80 mg/L as CaCO3"),
        ("iron", "0.3-0.5", "mg/L", 0.3, 0.5, "0.3-0.5 mg/L"),
        ("copper", "0.5-1 mg/L", None, 0.5, 1.0, "0.5-1 mg/L"),
        ("copper", "500-1000", "ug/L", 0.5, 1.0, "500-1000 ug/L"),
        ("manganese", "0.05-0.1", "mg/L", 0.05, 0.1, "0.05-0.1 mg/L"),
        ("lead", "5-15", "ug/L", 0.005, 0.015, "5-15 ug/L"),
        ("arsenic", "0-10", "ug/L", 0.0, 0.01, "0-10 ug/L"),
        ("chloride", "25-50", None, 25.0, 50.0, "25-50 mg/L"),
        ("sulfate", "200-400", None, 200.0, 400.0, "200-400 mg/L"),
        ("fluoride", "0-0.5", None, 0.0, 0.5, "0-0.5 mg/L"),
        ("silica", "10-20", None, 10.0, 20.0, "10-20 mg/L"),
        ("calcium", "20-40", None, 20.0, 40.0, "20-40 mg/L"),
        ("magnesium", "5-10", None, 5.0, 10.0, "5-10 mg/L"),
        ("potassium", "2-4", None, 2.0, 4.0, "2-4 mg/L"),
    ],
)
def test_two_numbers_are_the_ends(
    quantity: str, typed: str, unit: str | None, low: float, high: float, entered: str
) -> None:
    taken = take(US, quantity, typed, unit)
    assert taken.value == pytest.approx(low, rel=1e-3)
    assert taken.high == pytest.approx(high, rel=1e-3)
    assert (taken.qualifier, taken.entered) == ("=", entered)


@pytest.mark.parametrize("typed", ["5-5", "1e-5"])
def test_one_number_is_no_interval(typed: str) -> None:
    assert take(US, "nitrate", typed, "mg/L as N").high is None


@pytest.mark.parametrize(
    ("quantity", "typed", "unit", "says"),
    [
        ("nitrate", "10-5", "mg/L as N", "5-10"),
        ("nitrate", "<5-10", "mg/L as N", "bound"),
        ("nitrate", "5-10-15", "mg/L as N", "two ends"),
        ("nitrate", "-3-5", "mg/L as N", "-3"),
        ("nitrate", "5-10", None, "as N"),
        ("nitrate", "5-10", "ppm", "as N"),
        ("pH", "7-15", None, "14"),
        ("copper", "0.5-1", None, "mg/L or ug/L"),
        ("copper", "1-0.5", "mg/L", "0.5-1"),
        ("salt_depth", "10-12", "in", "number"),
        ("tds", "100-200", "mg/L", "number"),
        ("sodium", "10-20", "mg/L", "number"),
        ("e_coli", "0-5", "CFU/100 mL", "number"),
    ],
)
def test_what_is_no_interval_is_refused(quantity: str, typed: str, unit: str | None, says: str) -> None:
    with pytest.raises(BadInput, match=says):
        take(US, quantity, typed, unit)


PAD = Taken(quantity="nitrate", value=5.0, high=10.0, point="source", entered="5-10 mg/L as N")


@pytest.mark.parametrize(
    ("taken", "mean", "health"),
    [
        (PAD, 7.5, 10.0),
        (Taken(quantity="nitrate", value=0.5, point="source", qualifier="<"), 0.25, 0.5),
        (Taken(quantity="nitrate", value=0.5, point="source", qualifier=">"), 0.5, 0.5),
        (Taken(quantity="nitrate", value=3.0, point="source"), 3.0, 3.0),
        (Taken(quantity="nitrate", value=3.0, high=1.0, point="source"), 3.0, 3.0),
    ],
    ids=["pad", "less than", "more than", "number", "ends the wrong way round"],
)
def test_what_it_counts_as(taken: Taken, mean: float, health: float) -> None:
    assert (for_mean(taken), for_health(taken)) == (mean, health)
    assert is_pad(taken) == (taken is PAD)


@given(st.floats(0, 1e4), st.none() | st.floats(0, 1e4), st.sampled_from(["=", "<", ">"]))
def test_health_is_never_planned_on_less_than_the_mean(low: float, high: float | None, sign: str) -> None:
    taken = Taken(quantity="nitrate", value=low, high=high, point="tap", qualifier=sign)  # type: ignore[arg-type]
    assert 0.0 <= for_mean(taken) <= for_health(taken)


def test_shown_as_an_interval_everywhere() -> None:
    bare = Taken(quantity="nitrate", value=5.0, high=10.0, point="source")
    assert show_taken(PAD, "us") == "5-10 mg/L as N"
    assert show_taken(Taken(quantity="pH", value=6.5, high=7.0, point="tap"), "us") == "6.5-7.0"
    assert describe(Reading(on=DAY, taken=PAD))[1] == "nitrate 5-10 mg/L as N at source"
    assert describe(Reading(on=DAY, taken=bare))[1] == "nitrate 5-10 at source"
    assert describe(LabReport(on=DAY, point="source", taken=(bare,)))[1] == "nitrate 5-10"


def test_a_bound_in_a_report_keeps_its_sign() -> None:
    low = Taken(quantity="iron", value=0.05, point="source", qualifier="<")
    assert describe(LabReport(on=DAY, point="source", taken=(low,)))[1] == "iron <0.05"


def test_kept_in_the_file_and_left_out_where_there_is_none() -> None:
    event, text = codec.event_text(Reading(id=1, on=DAY, taken=PAD))
    assert event == Reading(id=1, on=DAY, taken=PAD)
    assert b'"high":10.0' in text
    assert b"high" not in codec.event_text(Reading(id=1, on=DAY, taken=Taken(quantity="pH", value=7.0, point="tap")))[1]


@pytest.mark.parametrize(("low", "high", "far"), [(2.0, 4.0, False), (20.0, 40.0, True), (4.0, 20.0, False)])
def test_far_from_the_last_only_where_the_nearest_ends_are(low: float, high: float, far: bool) -> None:
    last = Taken(quantity="nitrate", value=3.0, high=5.0, point="source")
    new = Taken(quantity="nitrate", value=low, high=high, point="source")
    assert any("far from" in text for text in doubts(US, new, [(date(2026, 10, 1), last)], DAY)) == far


def test_a_bare_nought_of_nitrate_is_questioned() -> None:
    zero = Taken(quantity="nitrate", value=0.0, point="tap")
    below = Taken(quantity="nitrate", value=1.0, point="tap", qualifier="<")
    assert any("<1" in text for text in doubts(US, zero, [], DAY))
    assert not doubts(US, below, [], DAY)


def test_a_pH_beyond_the_last_mark_says_that_nothing_is_reckoned_with_it() -> None:
    below = Taken(quantity="pH", value=6.0, point="source", qualifier="<")
    exact = Taken(quantity="pH", value=6.0, point="source")
    assert any("pH <6 is kept" in text for text in doubts(US, below, [], DAY))
    assert not doubts(US, exact, [], DAY)
