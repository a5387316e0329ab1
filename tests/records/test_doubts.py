"""What is possible but unlikely is said, and nothing else; a meter does not run backwards."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from model.errors import BadInput
from model.records.events import Qualifier, Taken
from model.records.intake import doubts, refuse_meter
from tests.records.houses import house

ON = date(2027, 3, 1)
HOME = house()
Past = list[tuple[date, Taken]]


def one(quantity: str, value: float, point: str = "tap", qualifier: Qualifier = "=") -> Taken:
    return Taken(quantity=quantity, value=value, point=point, qualifier=qualifier)


def before(days: int, taken: Taken) -> tuple[date, Taken]:
    return ON - timedelta(days=days), taken


@pytest.mark.parametrize(
    ("taken", "previous", "says"),
    [
        pytest.param(one("pH", 3.9), [], "unusually low: seldom below 4.5", id="pH low"),
        pytest.param(one("pH", 9.9), [], "unusually high: seldom above 9.5", id="pH high"),
        pytest.param(one("iron", 21.0, "source"), [], "unusually high", id="iron high"),
        pytest.param(one("lead", 15.0), [], "seldom above 0.1 mg/L", id="lead in the wrong unit"),
        pytest.param(one("pH", 8.6), [before(30, one("pH", 7.2))], "far from the last one, 7.2", id="pH jumps"),
        pytest.param(one("hardness", 300.0), [before(9, one("hardness", 60.0))], "far from the last", id="hardness x5"),
        pytest.param(one("nitrate", 4.0), [before(9, one("nitrate", 17.7))], "17.7 mg/L as N", id="nitrate in NO3"),
        pytest.param(one("temperature", 20.0), [before(9, one("temperature", 10.0))], "far", id="temperature"),
        pytest.param(
            one("pH", 8.6), [before(9, one("pH", 7.2, "after_ultraviolet"))], "far", id="the tap by its other name"
        ),
        pytest.param(
            one("salt_depth", 40.0, "softener"),
            [before(14, one("salt_depth", 40.2, "softener"))],
            "salt bridge",
            id="salt stands still",
        ),
        pytest.param(
            one("lamp_hours", 10.0, "ultraviolet"),
            [before(9, one("lamp_hours", 8500.0, "ultraviolet"))],
            "a new lamp",
            id="lamp hours fall",
        ),
        pytest.param(
            one("lamp_hours", 900.0, "ultraviolet"),
            [before(9, one("lamp_hours", 100.0, "ultraviolet"))],
            "more hours than have passed",
            id="lamp hours run ahead",
        ),
        pytest.param(
            one("meter", 9100.0, "house"),
            [before(20, one("meter", 1000.0, "house")), before(10, one("meter", 3000.0, "house"))],
            "look for a leak",
            id="meter races",
        ),
        pytest.param(
            one("pressure_out", 3.0, "sediment_filter"),
            [before(0, one("pressure_in", 2.8, "sediment_filter"))],
            "Pressure after is above pressure before of the same day.",
            id="pressure rises across the filter",
        ),
        pytest.param(
            one("ro_feed_tds", 100.0, "reverse_osmosis"),
            [before(0, one("ro_product_tds", 120.0, "reverse_osmosis"))],
            "RO product solids is above RO feed solids",
            id="RO adds solids",
        ),
    ],
)
def test_doubtful(taken: Taken, previous: Past, says: str) -> None:
    found = doubts(HOME, taken, previous, ON)
    assert len(found) == 1
    assert says in found[0]


@pytest.mark.parametrize(
    ("taken", "previous"),
    [
        pytest.param(one("pH", 7.2), [], id="usual"),
        pytest.param(one("pH", 7.2), [before(9, one("pH", 6.5))], id="a little off"),
        pytest.param(one("pH", 8.6), [before(9, one("pH", 6.2, "source"))], id="another point"),
        pytest.param(one("pH", 8.6), [before(-9, one("pH", 6.2))], id="a later reading"),
        pytest.param(one("hardness", 17.0), [before(9, one("hardness", 0.0))], id="small numbers"),
        pytest.param(one("nitrate", 0.05, "tap", "<"), [before(9, one("nitrate", 6.0))], id="less-than"),
        pytest.param(one("iron", 30.0, "source", "<"), [], id="less-than of something high"),
        pytest.param(one("nitrate", 6.0), [before(9, one("nitrate", 0.05, "tap", "<"))], id="after a less-than"),
        pytest.param(
            one("salt_depth", 30.0, "softener"), [before(14, one("salt_depth", 40.0, "softener"))], id="salt falls"
        ),
        pytest.param(
            one("salt_depth", 40.0, "softener"), [before(2, one("salt_depth", 40.0, "softener"))], id="salt two days on"
        ),
        pytest.param(
            one("lamp_hours", 316.0, "ultraviolet"),
            [before(9, one("lamp_hours", 100.0, "ultraviolet"))],
            id="lamp always lit",
        ),
        pytest.param(
            one("meter", 6000.0, "house"),
            [before(20, one("meter", 1000.0, "house")), before(10, one("meter", 3000.0, "house"))],
            id="meter a little faster",
        ),
        pytest.param(
            one("pressure_out", 2.6, "sediment_filter"),
            [
                before(0, one("pressure_in", 2.8, "sediment_filter")),
                before(3, one("pressure_in", 2.5, "sediment_filter")),
            ],
            id="pressure drops across the filter",
        ),
        pytest.param(one("something_newer", 1e9), [], id="a quantity of a newer program"),
    ],
)
def test_not_doubtful(taken: Taken, previous: Past) -> None:
    assert doubts(HOME, taken, previous, ON) == ()


def test_the_owners_units_are_used() -> None:
    (said,) = doubts(HOME, one("hardness", 600.0), [], ON)
    assert "35.1 gpg" in said
    (said,) = doubts(house("metric"), one("hardness", 600.0), [], ON)
    assert "600 mg/L as CaCO3" in said


@pytest.mark.parametrize(
    ("value", "last", "rolls"), [(1000.0, 1000.0, None), (1001.0, 1000.0, None), (50.0, 9990.0, 1e4)]
)
def test_a_meter_that_runs_on(value: float, last: float, rolls: float | None) -> None:
    refuse_meter(one("meter", value, "house"), last, rolls)


@pytest.mark.parametrize(
    ("value", "last", "rolls", "says"),
    [
        (999.0, 1000.0, None, "If the meter was replaced, record that first"),
        (9900.0, 9990.0, 1e4, "less than the 9,990 L before"),
        (10_500.0, 9990.0, 1e4, "starts again at 10,000 L"),
    ],
)
def test_a_meter_that_runs_backwards(value: float, last: float, rolls: float | None, says: str) -> None:
    with pytest.raises(BadInput) as caught:
        refuse_meter(one("meter", value, "house"), last, rolls)
    assert says in str(caught.value)


def counts(*days_and_litres: tuple[int, float]) -> Past:
    return [before(days, one("meter", litres, "house")) for days, litres in days_and_litres]


NEXT_DAY = counts(*((day, 700_000.0 - 650.0 * day) for day in range(8, 0, -1)))
REPLACED = counts((60, 2_000_000.0), (30, 2_019_500.0), (20, 0.0), (10, 6500.0))
BY_SERVICE: Past = [
    *counts((30, 100.0), (20, 6600.0)),
    before(20, Taken(quantity="meter", value=6600.0, point="house", moment="before")),
    before(20, Taken(quantity="meter", value=500_000.0, point="house", moment="after")),
    *counts((10, 506_500.0)),
]


@pytest.mark.parametrize(
    ("value", "previous", "against"),
    [
        pytest.param(703_500.0, NEXT_DAY, "650 L/day before", id="the day after"),
        pytest.param(703_500.0, [*NEXT_DAY, *counts((0, 700_000.0))], "650 L/day before", id="the same day"),
        pytest.param(30_000.0, REPLACED, "650 L/day before", id="after a replacement"),
        pytest.param(10_000.0, REPLACED[:3], "", id="first count after a replacement is quiet"),
        pytest.param(60_000.0, REPLACED[:3], "650 L/day before", id="the new meter's first count"),
        pytest.param(530_000.0, BY_SERVICE, "650 L/day before", id="after one that began higher"),
        pytest.param(9_000_000.0, counts((1, 8_900_000.0)), "no use known before", id="the second count of all"),
        pytest.param(8_903_000.0, counts((1, 8_900_000.0)), "", id="a heavy day, no use known"),
        pytest.param(701_300.0, [*NEXT_DAY, *counts((0, 700_000.0))], "", id="read twice in a day"),
        pytest.param(700_000.0, [], "", id="the first count of all"),
    ],
)
def test_a_meter_that_jumps(value: float, previous: Past, against: str) -> None:
    found = doubts(house("metric"), one("meter", value, "house"), previous, ON)
    assert len(found) == bool(against)
    assert against in "".join(found)
