"""What a person types becomes a measured quantity, or is refused with what to do."""

from __future__ import annotations

from math import isfinite

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.equipment.softener import Softener
from model.errors import BadInput, UnknownName
from model.records.intake import measure, take
from model.records.quantities import QUANTITIES, show_taken
from model.units import UNITS, System
from tests.records.houses import house, two_softeners

US = house()
METRIC = house("metric")


@pytest.mark.parametrize(
    ("typed", "value", "point"),
    [
        (("meter", "184220", "gal"), 697348.6, "house"),
        (("meter", "184,220", None), 697348.6, "house"),
        (("meter", "184220", "gal", "neutralizer"), 697348.6, "house"),
        (("pressure_in", "50", None, "ro"), 3.447, "reverse_osmosis"),
        (("salt_depth", "14", "in"), 35.56, "softener"),
        (("salt_depth", "14 in", None), 35.56, "softener"),
        (("salt_depth", "14", None), 35.56, "softener"),
        (("nitrate", "6", "mg/L as N", "after_softener"), 6.0, "after_softener"),
        (("nitrate", "44.3", "MG/L AS no3"), 10.0, "tap"),
        (("nitrate", "6 mg/L as N", None, "after ultraviolet"), 6.0, "tap"),
        (("hardness", "7", None), 119.8, "tap"),
        (("hardness", "7", "gpg", "source"), 119.8, "source"),
        (("PH", "6.3", None, "Source"), 6.3, "source"),
        (("alkalinity", "2", "dKH"), 35.7, "tap"),
        (("temperature", "52", None), 11.11, "source"),
        (("pressure_in", "50", None), 3.447, "sediment_filter"),
        (("pressure_in", "50", None, "neutralizer"), 3.447, "neutralizer"),
        (("ro_flow", "50", "gpd"), 189.3, "reverse_osmosis"),
        (("ro_flow", "100", "mL/min", "ro"), 144.0, "reverse_osmosis"),
        (("tds", "14", "ppm", "ro"), 14.0, "ro"),
        (("lamp_hours", "8,500", None), 8500.0, "ultraviolet"),
        (("regenerations", "412", None), 412.0, "softener"),
        (("lead", "4", "ug/L"), 0.004, "tap"),
        (("uv_intensity", "93", "%"), 93.0, "ultraviolet"),
    ],
)
def test_taken(typed: tuple[str, str, str | None], value: float, point: str) -> None:
    taken = take(US, *typed)
    assert taken.value == pytest.approx(value, rel=1e-3)
    assert taken.point == point


@pytest.mark.parametrize(
    ("quantity", "typed", "value"),
    [
        ("hardness", "120", 120.0),
        ("salt_depth", "36", 36.0),
        ("meter", "697348", 697348.0),
        ("temperature", "11", 11.0),
    ],
)
def test_a_metric_house_reads_metric_units(quantity: str, typed: str, value: float) -> None:
    assert take(METRIC, quantity, typed).value == value


def test_what_was_typed_is_kept_with_its_unit() -> None:
    assert take(US, "salt_depth", "14").entered == "14 in"
    assert take(US, "salt_depth", " 14in ").entered == "14 in"
    assert take(US, "nitrate", "<0.05", "mg/L as N").entered == "<0.05 mg/L as N"


@pytest.mark.parametrize(("typed", "qualifier", "value"), [("<0.05", "<", 0.05), ("> 5", ">", 5.0), ("0.3", "=", 0.3)])
def test_bounds_stay_bounds(typed: str, qualifier: str, value: float) -> None:
    taken = take(US, "iron", typed, "mg/L")
    assert (taken.qualifier, taken.value) == (qualifier, value)


@pytest.mark.parametrize(("typed", "qualifier", "value"), [("<6.0", "<", 6.0), (">8.4", ">", 8.4)])
def test_the_end_mark_of_a_strip_is_a_bound_of_pH(typed: str, qualifier: str, value: float) -> None:
    taken = take(US, "pH", typed, None, "source")
    assert (taken.qualifier, taken.value, taken.entered) == (qualifier, value, typed)
    assert show_taken(taken, "us") == typed


@pytest.mark.parametrize(
    ("typed", "unit", "qualifier", "value"),
    [
        ("absent", None, "=", 0.0),
        ("Present", "CFU/100 mL", "=", 1.0),
        ("<1", "MPN/100 mL", "=", 0.0),
        ("< 1.0", "CFU/100 mL", "=", 0.0),
        ("<1.1", "MPN/100 mL", "=", 0.0),
        ("12", "MPN/100 mL", "=", 12.0),
        (">2419.6", "MPN/100 mL", ">", 2419.6),
        ("TNTC", "", ">", 200.0),
    ],
)
def test_bacteria(typed: str, unit: str | None, qualifier: str, value: float) -> None:
    taken = take(US, "e_coli", typed, unit)
    assert (taken.qualifier, taken.value) == (qualifier, value)


@pytest.mark.parametrize("quantity", ["total_coliform", "e_coli"])
@pytest.mark.parametrize("typed", ["<200 MPN/100 mL", "<10 CFU/100 mL", "<2", "<1.2 per 100 mL"])
def test_too_coarse_a_test_for_germs_is_never_taken_for_absent(quantity: str, typed: str) -> None:
    with pytest.raises(BadInput, match="does not show that there are none") as caught:
        take(US, quantity, typed)
    assert "absent or present" in caught.value.now


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        (("pH", "15"), "14 is the most"),
        (("pH", "-0.1"), "0 is the least"),
        (("pH", "<0"), "nothing below it"),
        (("pH", ">14"), "nothing above it"),
        (("pH", "<15"), "14 is the most"),
        (("temperature", "<7"), "Leave out < and >"),
        (("iron", "-1"), "the least"),
        (("iron", "<0"), "nothing below it"),
        (("iron", "ND"), "reporting limit"),
        (("salt_depth", "<5"), "Leave out < and >"),
        (("salt_depth", "-1"), "0 in is the least"),
        (("salt_depth", "34"), "brine tank is only 33.1 in high"),
        (("bed_depth", "60"), "cannot exceed 50.2 in"),
        (("drawdown", "80"), "pressure tank holds only 79 gal"),
        (("uv_intensity", "101"), "100 % is the most"),
        (("uv_transmittance", "101", "%"), "100 % is the most"),
        (("temperature", "213"), "212 °F is the most"),
        (("temperature", "31"), "32 °F is the least"),
        (("pressure_in", "1000"), "is the most"),
        (("regenerations", "3.5"), "whole number"),
        (("nitrate", "6"), "Say mg/L as N or mg/L as NO3"),
        (("nitrate", "6", "ppm"), "Say mg/L as N or mg/L as NO3"),
        (("nitrite", "1"), "Say mg/L as N or mg/L as NO2"),
        (("hardness", "120", "mg/L"), "Say gpg, dH or mg/L as CaCO3"),
        (("alkalinity", "40", "ppm"), "Say mg/L as CaCO3, mg/L as HCO3 or dH"),
        (("lead", "15"), "Say mg/L or ug/L"),
        (("salt_depth", "14", "psi"), "unit of pressure, not of length"),
        (("salt_depth", "14", "cubits"), "not known as a unit of length"),
        (("pH", "6,5"), "with a point"),
        (("nitrate", "6,500", "mg/L as N"), "two ways"),
        (("iron", ""), "not a number"),
        (("iron", "nan"), "not a number"),
        (("meter", "1e999"), "too large"),
        (("salt_depth", "14", "in", "tap"), "not read at tap"),
        (("salt_depth", "14", "in", "neutralizer"), "not read at neutralizer"),
        (("pH", "7", None, "softener"), "before or after softener"),
        (("meter", "100", "gal", "tap"), "whole house"),
    ],
)
def test_refused(typed: tuple[str, str], says: str) -> None:
    with pytest.raises(BadInput) as caught:
        take(US, *typed)
    assert says in str(caught.value)
    assert caught.value.now


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        (("nitrat", "6"), "Did you mean nitrate?"),
        (("pH", "7", None, "basement"), "no point “basement”"),
        (("pH", "7", None, "hose"), "no point “hose”"),
        (("salt_depth", "14", None, "softener_2"), "no stage “softener_2”"),
    ],
)
def test_unknown_names(typed: tuple[str, str], says: str) -> None:
    with pytest.raises(UnknownName) as caught:
        take(US, *typed)
    assert says in str(caught.value)


def test_a_home_without_the_stage() -> None:
    with pytest.raises(UnknownName, match="no reverse osmosis on which to read RO flow"):
        take(house(stages=(Softener(id="softener"),)), "ro_flow", "50")


def test_two_softeners_have_to_be_told_apart() -> None:
    with pytest.raises(BadInput, match="--at softener or --at softener_2"):
        take(two_softeners(), "salt_depth", "14")
    assert take(two_softeners(), "salt_depth", "14", None, "softener_2").point == "softener_2"
    assert take(two_softeners(), "salt_depth", "14", None, "softener").point == "softener"


def test_the_limits_themselves_are_possible() -> None:
    assert take(US, "pH", "0").value == 0.0
    assert take(US, "pH", "14").value == 14.0
    assert take(US, "temperature", "212").value == pytest.approx(100.0)
    assert take(US, "temperature", "32").value == 0.0
    assert take(METRIC, "salt_depth", "84").value == 84.0


def test_a_file_must_state_every_unit() -> None:
    with pytest.raises(BadInput, match="unit of iron is missing"):
        measure(QUANTITIES["iron"], "0.3", "", "source")
    assert measure(QUANTITIES["pH"], "7.1", "", "source").value == 7.1
    assert measure(QUANTITIES["hardness"], "4", "dH", "source").value == pytest.approx(71.392)


TYPED = st.one_of(
    st.text(max_size=15),
    st.text(alphabet="0123456789.,<>-+e inf", max_size=12),
    st.floats().map(repr),
    st.sampled_from(["present", "absent", "TNTC", "nan", "1e308", "-0"]),
)
ANY_UNIT = st.one_of(st.none(), st.text(max_size=8), st.sampled_from([u.name for us in UNITS.values() for u in us]))


@given(st.sampled_from(list(QUANTITIES)), TYPED, ANY_UNIT, st.sampled_from(["us", "metric"]))
def test_nothing_typed_gets_in_unless_finite_and_possible(
    quantity: str, typed: str, unit: str | None, units: System
) -> None:
    known = QUANTITIES[quantity]
    try:
        taken = take(US if units == "us" else METRIC, quantity, typed, unit)
    except BadInput:
        return
    assert isfinite(taken.value)
    assert taken.entered.isprintable()
    assert known.impossible_below is None or taken.value >= known.impossible_below - 1e-6
    assert known.impossible_above is None or taken.value <= known.impossible_above * (1 + 1e-6)


@given(st.text(max_size=30), st.text(max_size=30))
def test_no_name_or_point_breaks_it(quantity: str, point: str) -> None:
    for name in (quantity, "pH", "salt_depth", "meter"):
        try:
            said = take(US, name, "7", None, point).quantity
        except BadInput as refused:
            said = str(refused)
        assert said.isprintable()
        assert len(said) < 300
