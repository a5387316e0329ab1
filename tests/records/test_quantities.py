"""The registry of quantities: complete, consistent, found by any spelling, shown for people."""

from __future__ import annotations

import pytest

from model.equipment.registry import KINDS
from model.errors import UnknownName
from model.records.events import Qualifier, Taken
from model.records.quantities import QUANTITIES, Quantity, find_quantity, show_quantity, show_taken
from model.units import UNITS, find_unit

# The names and inside units promised to scripts.
PROMISED = {
    "meter": "L",
    "salt_depth": "cm",
    "bed_depth": "cm",
    "pressure_in": "bar",
    "pressure_out": "bar",
    "cut_in": "bar",
    "cut_out": "bar",
    "precharge": "bar",
    "drawdown": "L",
    "run_time": "s",
    "pH": "",
    "hardness": "mg/L as CaCO3",
    "alkalinity": "mg/L as CaCO3",
    "nitrate": "mg/L as N",
    "iron": "mg/L",
    "manganese": "mg/L",
    "tds": "mg/L",
    "conductivity": "uS/cm",
    "temperature": "C",
    "lamp_hours": "h",
    "uv_intensity": "%",
    "ro_flow": "L/day",
    "ro_feed_tds": "mg/L",
    "ro_product_tds": "mg/L",
    "regenerations": "times",
}
FROM_A_LABORATORY = [
    "pH",
    "temperature",
    "alkalinity",
    "hardness",
    "calcium",
    "magnesium",
    "sodium",
    "potassium",
    "iron",
    "manganese",
    "chloride",
    "sulfate",
    "nitrate",
    "nitrite",
    "fluoride",
    "silica",
    "total dissolved solids",
    "conductivity",
    "turbidity",
    "uv transmittance",
    "arsenic",
    "lead",
    "copper",
    "uranium",
    "total coliform",
    "e. coli",
]


@pytest.mark.parametrize(("name", "unit"), PROMISED.items())
def test_promised_quantities(name: str, unit: str) -> None:
    assert QUANTITIES[name].unit == unit


@pytest.mark.parametrize("analyte", FROM_A_LABORATORY)
def test_every_analyte_of_a_laboratory_file_is_a_quantity_of_water(analyte: str) -> None:
    assert find_quantity(analyte).points == "water"


@pytest.mark.parametrize("one", QUANTITIES.values(), ids=list(QUANTITIES))
def test_rows_hold_together(one: Quantity) -> None:
    assert one.unit == UNITS[one.dimension][0].name
    assert find_unit(one.us_unit, one.dimension)
    assert find_unit(one.metric_unit, one.dimension)
    assert set(one.kinds) <= set(KINDS)
    assert one.default_point in {*KINDS, "source", "tap", "house"}
    assert one.help
    for impossible, unlikely in (
        (one.impossible_below, one.unlikely_below),
        (one.unlikely_above, one.impossible_above),
    ):
        if impossible is not None and unlikely is not None:
            assert impossible < unlikely


@pytest.mark.parametrize("name", ["ph", "PH", "Ph", " pH "])
def test_pH_in_any_case(name: str) -> None:
    assert find_quantity(name).id == "pH"


@pytest.mark.parametrize(
    ("name", "found"),
    [
        ("Salt Depth", "salt_depth"),
        ("salt-depth", "salt_depth"),
        ("E. coli", "e_coli"),
        ("TDS", "tds"),
        ("UVT", "uv_transmittance"),
    ],
)
def test_other_spellings(name: str, found: str) -> None:
    assert find_quantity(name).id == found


def test_a_near_miss_is_helped() -> None:
    with pytest.raises(UnknownName, match="no quantity “nitrat”") as caught:
        find_quantity("nitrat")
    assert caught.value.now == "Did you mean nitrate?"


def test_a_far_miss_is_pointed_to_the_list() -> None:
    with pytest.raises(UnknownName, match="--help"):
        find_quantity("zzzzzz")


def test_where_no_unit_is_assumed() -> None:
    assert {one.id for one in QUANTITIES.values() if one.needs_basis} == {
        "nitrate",
        "nitrite",
        "hardness",
        "alkalinity",
    }
    assert {one.id for one in QUANTITIES.values() if one.needs_unit} == {
        "nitrate",
        "nitrite",
        "arsenic",
        "lead",
        "copper",
        "uranium",
    }


@pytest.mark.parametrize(
    ("quantity", "value", "qualifier", "text"),
    [
        ("salt_depth", 36.07, "=", "14.2 in"),
        ("nitrate", 0.05, "<", "<0.05 mg/L as N"),
        ("total_coliform", 0.0, "=", "absent"),
        ("total_coliform", 1.0, "=", "present"),
        ("e_coli", 12.0, "=", "12 per 100 mL"),
        ("e_coli", 200.0, ">", ">200 per 100 mL"),
        ("something_newer", 3.5, "=", "3.5"),
    ],
)
def test_shown_for_people(quantity: str, value: float, qualifier: Qualifier, text: str) -> None:
    assert show_quantity(quantity, value, "us", qualifier) == text
    assert show_taken(Taken(quantity=quantity, value=value, point="tap", qualifier=qualifier), "us") == text
