"""Conversions against published figures, round trips over every unit, and display."""

from __future__ import annotations

from math import inf, isfinite, nan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.errors import BadInput
from model.units import UNITS, display_unit, find_unit, from_si, inside_unit, money, plain, show, to_si

EVERY_UNIT = [(dimension, unit.name) for dimension, units in UNITS.items() for unit in units]


@pytest.mark.parametrize(
    ("value", "unit", "dimension", "outside", "expected", "within"),
    [
        pytest.param(1, "gal", "volume", "L", 3.785412, 5e-7, id="NIST SP 811 B.8: gallon"),
        pytest.param(1, "ft3", "volume", "L", 28.31685, 5e-6, id="NIST SP 811 B.8: cubic foot"),
        pytest.param(1, "in", "length", "cm", 2.54, 0, id="NIST SP 811 B.8: inch"),
        pytest.param(1, "ft", "length", "m", 0.3048, 1e-12, id="NIST SP 811 B.8: foot"),
        pytest.param(1, "psi", "pressure", "kPa", 6.894757, 5e-7, id="NIST SP 811 B.8: psi"),
        pytest.param(1, "lb", "mass", "kg", 0.4535924, 5e-8, id="NIST SP 811 B.8: pound"),
        pytest.param(1, "gpm", "flow", "m3/h", 0.2271247, 5e-8, id="NIST SP 811 B.8: gpm (6.309020 E-05 m3/s)"),
        pytest.param(77, "F", "temperature", "C", 25, 1e-9, id="WQA education kit: membranes rated at 77 F, 25 C"),
        pytest.param(212, "F", "temperature", "C", 100, 1e-9, id="NIST SP 811 B.8: degree Fahrenheit, boiling"),
        pytest.param(10, "mg/L as N", "nitrate", "mg/L as NO3", 44.3, 0.1, id="common practice, no source: 10 as N"),
        pytest.param(10, "mg/L as N", "nitrate", "mg/L as CaCO3", 35.7, 0.1, id="common practice, no source: as CaCO3"),
        pytest.param(
            44.3, "mg/L as NO3", "nitrate", "mg/L as N", 10, 0.01, id="UC Cooperative Extension Monterey 2014"
        ),
        pytest.param(50, "mg/L as NO3", "nitrate", "mg/L as N", 11.3, 0.05, id="WQA nitrate fact sheet: WHO guideline"),
        pytest.param(
            3, "mg/L as NO2", "nitrite", "mg/L as N", 0.913, 0.001, id="atomic weights, by hand: 3 x 14.007/46.005"
        ),
        pytest.param(118, "mg/L as CaCO3", "hardness", "gpg", 6.9, 0.05, id="common practice, no source: 118 mg/L"),
        pytest.param(150, "mg/L as CaCO3", "hardness", "gpg", 8.8, 0.05, id="CT DPH publication 29 (2009)"),
        pytest.param(1, "gpg", "hardness", "mg/L as CaCO3", 17.1181, 5e-5, id="grain and gallon, exact: 17.1181"),
        pytest.param(120, "mg/L as CaCO3", "hardness", "gpg", 7, 0.05, id="common practice, no source: UV feed limit"),
        pytest.param(1, "dH", "hardness", "mg/L as CaCO3", 17.848, 0, id="common practice, no source: 1 dH"),
        pytest.param(1, "dH", "hardness", "mmol/L", 0.17832, 2e-5, id="common practice, no source: 1 dH in mmol/L"),
        pytest.param(1, "mmol/L", "hardness", "dH", 5.608, 0.001, id="FAO glossary: 1 mmol/L"),
        pytest.param(50, "mg/L as CaCO3", "hardness", "meq/L", 1, 0.002, id="FAO: 50 mg/L is 1 meq/L"),
        pytest.param(50, "mg/L as CaCO3", "hardness", "dH", 2.805, 0.0056, id="FAO: 1 meq/L is 2.805 dH"),
        pytest.param(329, "mg/L as CaCO3", "hardness", "dH", 18.4, 0.092, id="common practice, no source: 329 mg/L"),
        pytest.param(298, "mg/L as CaCO3", "hardness", "dH", 16.7, 0.084, id="common practice, no source: 298 mg/L"),
        pytest.param(1, "dH", "hardness", "fH", 1.7848, 1e-9, id="from memory: French degree is 10 mg/L"),
        pytest.param(133, "mg/L as HCO3", "alkalinity", "mg/L as CaCO3", 109, 1, id="common practice, no source: KH"),
        pytest.param(
            21.761, "mg/L as HCO3", "alkalinity", "dH", 1, 0.002, id="common practice, no source: 1 dH of HCO3"
        ),
        pytest.param(15, "ug/L", "concentration", "mg/L", 0.015, 1e-12, id="NR 809: lead action level 0.015 mg/L"),
        pytest.param(50, "gpd", "daily_flow", "L/day", 189.27, 0.005, id="NIST SP 811 B.8: 50 gallons a day"),
        pytest.param(100, "mL/min", "daily_flow", "L/day", 144, 1e-9, id="by hand: 1,440 minutes a day"),
    ],
)
def test_published(value: float, unit: str, dimension: str, outside: str, expected: float, within: float) -> None:
    assert from_si(to_si(value, unit, dimension), outside, dimension) == pytest.approx(expected, abs=within or 1e-12)


@pytest.mark.parametrize(("dimension", "unit"), EVERY_UNIT)
@given(value=st.floats(-1e9, 1e9))
def test_there_and_back(dimension: str, unit: str, value: float) -> None:
    assert from_si(to_si(value, unit, dimension), unit, dimension) == pytest.approx(value, rel=1e-12, abs=1e-9)


@given(st.sampled_from(EVERY_UNIT), st.floats())
def test_only_finite_numbers_come_in(which: tuple[str, str], value: float) -> None:
    dimension, unit = which
    try:
        inside = to_si(value, unit, dimension)
    except BadInput:
        assert not isfinite(value) or abs(value) > 1e300
    else:
        assert isfinite(inside)


@pytest.mark.parametrize("value", [nan, inf, -inf])
def test_not_finite(value: float) -> None:
    with pytest.raises(BadInput, match="not finite"):
        to_si(value, "gal", "volume")
    with pytest.raises(BadInput, match="not finite"):
        from_si(value, "gal", "volume")


@pytest.mark.parametrize(
    ("typed", "dimension", "meant"),
    [
        ("mg/l AS n", "nitrate", "mg/L as N"),
        ("MG/L as N", "nitrate", "mg/L as N"),
        ("mg/L (as N)", "nitrate", "mg/L as N"),
        ("mg/L as NO3-N", "nitrate", "mg/L as N"),
        ("milligrams per litre as NO3", "nitrate", "mg/L as NO3"),
        ("ppm as CaCO3", "hardness", "mg/L as CaCO3"),
        ("grains per gallon", "hardness", "gpg"),
        ("°dH", "hardness", "dH"),
        ("dKH", "alkalinity", "dH"),
        ("inches", "length", "in"),
        ('"', "length", "in"),
        ("Inch", "length", "in"),
        ("gallons", "volume", "gal"),
        ("Litres", "volume", "L"),
        ("liters", "volume", "L"),
        ("m³", "volume", "m3"),
        ("m^3", "volume", "m3"),
        ("cu ft", "volume", "ft3"),
        ("degF", "temperature", "F"),
        ("°F", "temperature", "F"),
        ("º C", "temperature", "C"),
        ("µS/cm", "conductivity", "uS/cm"),
        ("μg/L", "concentration", "ug/L"),
        ("gal/day", "daily_flow", "gal/day"),
        ("GPD", "daily_flow", "gal/day"),
        ("gallons per minute", "flow", "gpm"),
        ("lbs", "mass", "lb"),
        ("percent", "percent", "%"),
        ("hrs", "lit_time", "h"),
        ("MPN / 100 mL", "organisms", "MPN/100 mL"),
        ("per 100 mL", "organisms", "CFU/100 mL"),
        ("SU", "pH", ""),
    ],
)
def test_spellings(typed: str, dimension: str, meant: str) -> None:
    assert find_unit(typed, dimension).name == meant


def test_every_spelling_means_one_unit() -> None:
    for dimension, units in UNITS.items():
        names = [name for unit in units for name in {plain(typed) for typed in (unit.name, *unit.also)}]
        assert len(names) == len(set(names)), dimension


@pytest.mark.parametrize("bare", ["mg/L", "ppm", "PPM", " mg / l ", "ppb", "ug/L", "milligrams per liter"])
@pytest.mark.parametrize(
    ("dimension", "say"),
    [
        ("nitrate", "mg/L as N or mg/L as NO3"),
        ("nitrite", "mg/L as N or mg/L as NO2"),
        ("hardness", "gpg, dH or mg/L as CaCO3"),
        ("alkalinity", "mg/L as CaCO3, mg/L as HCO3 or dH"),
    ],
)
def test_basis_is_asked_for(dimension: str, bare: str, say: str) -> None:
    with pytest.raises(BadInput, match="as what") as caught:
        to_si(10, bare, dimension)
    assert caught.value.now == f"Say {say}."


@pytest.mark.parametrize(
    ("unit", "dimension", "says"),
    [
        ("psi", "length", "“psi” is a unit of pressure, not of length. Use cm, in, mm, m or ft."),
        ("zork", "volume", "“zork” is not known as a unit of volume. Use L, gal, m3, ft3 or mL."),
        ("imp gal", "volume", "“imp gal” is not known as a unit of volume. Use L, gal, m3, ft3 or mL."),
        ("", "volume", "The unit of volume is missing. Use L, gal, m3, ft3 or mL."),
        ("mg/L as NO2", "nitrate", "“mg/L as NO2” is a unit of nitrite, not of nitrate."),
        ("in", "pH", "“in” is a unit of length, not of pH. Leave the unit out."),
    ],
)
def test_wrong_units(unit: str, dimension: str, says: str) -> None:
    with pytest.raises(BadInput) as caught:
        to_si(1, unit, dimension)
    assert str(caught.value).startswith(says)


def test_a_message_holds_no_control_characters_and_stays_short() -> None:
    with pytest.raises(BadInput) as caught:
        to_si(1, "\x1b[31m" + "x" * 5000, "volume")
    assert str(caught.value).isprintable()
    assert len(str(caught.value)) < 200


@pytest.mark.parametrize(
    ("value", "dimension", "us", "metric"),
    [
        (36.07, "length", "14.2 in", "36 cm"),
        (232.0, "volume", "61 gal", "232 L"),
        (1234.0, "volume", "326 gal", "1,234 L"),
        (42.8, "volume", "11.3 gal", "43 L"),
        (135.0, "hardness", "7.9 gpg", "135 mg/L as CaCO3"),
        (18.14, "mass", "40 lb", "18.1 kg"),
        (2.7579, "pressure", "40 psi", "2.76 bar"),
        (11.0, "temperature", "52 °F", "11 °C"),
        (189.27, "daily_flow", "50 gal/day", "189 L/day"),
        (12.5, "nitrate", "12.5 mg/L as N", "12.5 mg/L as N"),
        (0.0, "nitrate", "0 mg/L as N", "0 mg/L as N"),
        (0.015, "concentration", "0.015 mg/L", "0.015 mg/L"),
        (1234.5, "concentration", "1,234 mg/L", "1,234 mg/L"),
        (7.0, "pH", "7.0", "7.0"),
        (93.0, "percent", "93 %", "93 %"),
        (8500.0, "lit_time", "8,500 h", "8,500 h"),
        (12.0, "count", "12", "12"),
        (-0.001, "length", "0 in", "0 cm"),
        (nan, "length", "not known", "not known"),
    ],
)
def test_show(value: float, dimension: str, us: str, metric: str) -> None:
    assert (show(value, dimension, "us"), show(value, dimension, "metric")) == (us, metric)


def test_show_with_decimals_asked_for() -> None:
    assert show(100.0, "volume", "metric", digits=2) == "100.00 L"
    assert show(-0.001, "volume", "metric", digits=1) == "0.0 L"


@pytest.mark.parametrize("dimension", UNITS)
def test_every_dimension_can_be_shown(dimension: str) -> None:
    assert find_unit(display_unit(dimension, "us"), dimension)
    assert find_unit(display_unit(dimension, "metric"), dimension)
    assert from_si(1.0, inside_unit(dimension), dimension) == 1.0


@given(st.sampled_from(list(UNITS)), st.floats(allow_nan=True, allow_infinity=True))
def test_show_never_fails(dimension: str, value: float) -> None:
    assert show(value, dimension, "us")
    assert show(value, dimension, "metric")


@pytest.mark.parametrize(
    ("amount", "currency", "text"),
    [
        (12.5, "USD", "$12.50"),
        (12.5, "EUR", "EUR 12.50"),
        (1234.0, "USD", "$1,234.00"),
        (-1234.5, "USD", "-$1,234.50"),
        (-3.0, "EUR", "-EUR 3.00"),
        (-0.001, "USD", "$0.00"),
        (nan, "USD", "not known"),
    ],
)
def test_money(amount: float, currency: str, text: str) -> None:
    assert money(amount, currency) == text
