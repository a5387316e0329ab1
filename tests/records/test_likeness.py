"""Unlike the last ones: their own scatter decides, every quantity is covered, and the likely slip of unit is named."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.errors import BadInput
from model.records.doubts import doubts, refuse_meter
from model.records.events import State, Taken
from model.records.intake import take
from model.records.likeness import NOT_COMPARED
from model.records.quantities import QUANTITIES, Quantity
from tests.records.houses import house

ON = date(2027, 3, 1)
US, METRIC = house(), house("metric")
Past = list[tuple[date, Taken]]


def monthly(quantity: str, point: str, *values: float, state: State = "") -> Past:
    """Readings a month apart, the last a month ago."""
    days = [ON - timedelta(days=30 * back) for back in range(len(values), 0, -1)]
    rows = [Taken(quantity=quantity, value=value, point=point, state=state) for value in values]
    return list(zip(days, rows, strict=True))


SLIPS = [
    ("salt_depth", "20 cm", "softener", (50.0, 45.0, 52.0, 48.0, 51.0, 47.0), "20 in", "2.54"),
    ("bed_depth", "28 cm", "neutralizer", (72.0, 71.5, 71.0), "28 in", "2.54"),
    ("drawdown", "46 gal", "pressure_tank", (46.0, 45.0, 46.5), "46 L", "3.785"),
    ("nitrate", "55 mg/L as N", "source", (12.1, 12.6, 12.4), "55 mg/L as NO3", "4.43"),
    ("hardness", "120 gpg", "source", (118.0, 121.0, 120.0), "120 mg/L as CaCO3", "17.1"),
    ("pressure_in", "3.4 psi", "sediment_filter", (3.4, 3.5, 3.4), "3.4 bar", "14.5"),
    ("temperature", "52 C", "source", (11.0, 11.5, 11.2), "52 F", "Fahrenheit"),
    ("nitrate", "55 mg/L as N", "source", (12.4,), "55 mg/L as NO3", "4.43 against one reading"),
    ("static_level", "61 m", "well", (18.4, 18.6, 18.5), "61 ft", "3.28"),
]


@pytest.mark.parametrize(
    ("quantity", "typed", "point", "values", "meant"),
    [pytest.param(*row[:5], id=f"{row[0]} {row[5]}") for row in SLIPS],
)
def test_a_slip_of_the_unit_is_named(
    quantity: str, typed: str, point: str, values: tuple[float, ...], meant: str
) -> None:
    taken = take(METRIC, quantity, typed, None, point)
    said = " ".join(doubts(METRIC, taken, monthly(quantity, point, *values), ON))
    assert f"as {meant} it would fit" in said


def test_what_fits_in_no_other_unit_is_only_asked_about() -> None:
    taken = take(METRIC, "nitrate", "31 mg/L as N", None, "source")
    (said,) = doubts(METRIC, taken, monthly("nitrate", "source", 2.1, 2.0, 2.2), ON)
    assert said.endswith("is far from your last 3, 2 to 2.2 mg/L as N: check the unit, or read again.")


QUIET = (12.0, 12.1, 12.0, 12.1, 12.0, 12.1)
WILD = (4.0, 19.0, 8.0, 22.0, 5.0, 18.0)


@pytest.mark.parametrize(("values", "odd"), [(QUIET, True), (WILD, False)], ids=["quiet", "wild"])
def test_their_own_scatter_decides(values: tuple[float, ...], odd: bool) -> None:
    taken = Taken(quantity="nitrate", value=24.0, point="source")
    assert bool(doubts(US, taken, monthly("nitrate", "source", *values), ON)) is odd


def test_one_slip_among_the_last_ones_does_not_hide_the_next() -> None:
    past = monthly("hardness", "source", 120.0, 118.0, 2050.0, 121.0, 119.0, 120.0)
    taken = take(METRIC, "hardness", "120 gpg", None, "source")
    assert "as 120 mg/L as CaCO3 it would fit" in " ".join(doubts(METRIC, taken, past, ON))


def test_water_that_stood_is_compared_with_water_that_stood() -> None:
    flowing = monthly("pH", "tap", 7.2, 7.3, 7.2)
    stood = monthly("pH", "tap", 9.0, 9.1, 9.2, state="at_rest")
    reading = Taken(quantity="pH", value=9.1, point="tap", state="at_rest")
    assert doubts(US, reading, flowing + stood, ON) == ()
    assert "far from your last 3" in doubts(US, Taken(quantity="pH", value=9.1, point="tap"), flowing + stood, ON)[0]


def test_what_work_sets_back_is_no_surprise_after_the_work() -> None:
    past = monthly("bed_depth", "neutralizer", 60.0, 59.0, 58.0)
    refilled = Taken(quantity="bed_depth", value=100.0, point="neutralizer", moment="after")
    assert doubts(US, refilled, past, ON) == ()


COMPARED = [one for one in QUANTITIES.values() if one.id not in NOT_COMPARED]
PLACE = {"source": "source", "tap": "tap", "house": "house"}


@pytest.mark.parametrize("one", COMPARED, ids=[one.id for one in COMPARED])
def test_every_quantity_is_compared_with_its_last_ones(one: Quantity) -> None:
    low = one.unlikely_below or 0.0
    high = one.unlikely_above or one.impossible_above
    assert high is not None
    steady = (low + 0.02 * (high - low),) * 5
    point = PLACE.get(one.default_point, one.default_point)
    same = Taken(quantity=one.id, value=steady[0], point=point)
    assert "far from" not in " ".join(doubts(METRIC, same, monthly(one.id, point, *steady), ON))
    far = Taken(quantity=one.id, value=high, point=point)
    assert "far from your last 5" in " ".join(doubts(METRIC, far, monthly(one.id, point, *steady), ON))


def test_a_meter_read_in_the_other_unit() -> None:
    past = monthly("meter", "house", 100_000.0, 118_600.0)
    litres = take(METRIC, "meter", "137000 gal", None, None)
    assert "(as 137,000 L they would fit)" in " ".join(doubts(METRIC, litres, past, ON))
    with pytest.raises(BadInput, match=r"as 36,200 gal they would fit"):
        refuse_meter(take(METRIC, "meter", "36200 L", None, None), 118_600.0)


@given(st.floats(0.1, 100.0), st.integers(1, 8))
def test_the_same_again_is_never_unlike(value: float, count: int) -> None:
    past = monthly("nitrate", "source", *[value] * count)
    said = " ".join(doubts(US, Taken(quantity="nitrate", value=value, point="source"), past, ON))
    assert "far from" not in said
