"""What always holds of a bed of calcite and magnesia."""

from __future__ import annotations

from itertools import pairwise
from math import inf, isfinite
from typing import Any

import msgspec
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from model.errors import BadInput
from model.water.balance import hardness_mg_l_caco3
from model.water.bed_life import bed_life, day_below_ph
from model.water.carbonate import dissolve, mix, speciate
from model.water.contactor import Bed, approach_share, bed_doses, contact_minutes, outside_range
from model.water.media import calcite_limit_mmol_l
from model.water.neutralizing import (
    brucite_limit_mmol_l,
    bypass_for_ph,
    calibrated,
    depth_for_ph,
    outlet,
    standing,
    valve_curve,
)
from model.water.sample import Sample
from tests.water.waters import water, waters

FEW = settings(max_examples=10, deadline=None)


def lean(raw: Sample) -> float:
    """How much pH the relation may come out beside itself. Surface and film are taken one after the other by the slope
    of the rate in the water, which is steep where water near pH 5 has hardly any buffer: there slower water was seen up
    to 0.013 too far on by a search of 2,500 beds."""
    return 0.004 if raw.alkalinity_mg_l_caco3 >= 8.0 else 0.03


def bed(**fields: float) -> Bed:
    """A household tank of 10 inches, with what the test changes."""
    base: dict[str, Any] = {"bed_cm": 75.0, "tank_diameter_cm": 25.4, "flow_l_min": 8.0}
    return Bed(**(base | fields))


beds = st.builds(
    bed,
    bed_cm=st.floats(5.0, 120.0),
    tank_diameter_cm=st.floats(15.0, 40.0),
    flow_l_min=st.floats(0.2, 30.0),
    grain_mm=st.floats(0.3, 5.0),
    porosity=st.floats(0.3, 0.55),
    magnesia_share=st.just(0.0) | st.floats(0.01, 0.6),
    rate_factor=st.floats(0.2, 5.0),
)
acid = waters.filter(lambda sample: sample.pH < 7.0 and sample.calcium_mg_l < 40.0)


@given(waters, beds, st.floats(0.0, 1.0))
@FEW
def test_media_dissolved_are_exactly_the_hardness_and_alkalinity_gained(raw: Sample, one: Bed, bypass: float) -> None:
    done = outlet(raw, msgspec.structs.replace(one, bypass_share=bypass))

    gained = done.calcite_g_per_m3 + done.magnesia_g_per_m3 * 100.087 / 40.304
    assert hardness_mg_l_caco3(done.sample) - hardness_mg_l_caco3(raw) == pytest.approx(gained, rel=1e-9, abs=1e-9)
    assert done.sample.alkalinity_mg_l_caco3 - raw.alkalinity_mg_l_caco3 == pytest.approx(gained, rel=1e-9, abs=1e-9)


@given(waters, beds)
@FEW
def test_calcite_alone_never_passes_its_limit(raw: Sample, one: Bed) -> None:
    alone = msgspec.structs.replace(one, magnesia_share=0.0)

    assert bed_doses(raw, alone)[0] <= calcite_limit_mmol_l(raw) * 1.002 + 1e-6
    assert bed_doses(raw, alone)[1] == 0.0
    assert 0.0 <= approach_share(raw, one) <= 1.0


@given(acid, beds, st.floats(1.15, 4.0))
@FEW
def test_more_bed_or_finer_grains_dissolve_more(raw: Sample, one: Bed, times: float) -> None:
    less = outlet(raw, one).sample.pH

    assert outlet(raw, msgspec.structs.replace(one, bed_cm=one.bed_cm * times)).sample.pH > less - 0.004
    assert outlet(raw, msgspec.structs.replace(one, grain_mm=one.grain_mm / times)).sample.pH > less - 0.004


@given(acid, beds, st.floats(1.15, 4.0))
@FEW
def test_a_faster_flow_dissolves_less(raw: Sample, one: Bed, times: float) -> None:
    assume(approach_share(raw, one) < 0.98)
    faster = msgspec.structs.replace(one, flow_l_min=one.flow_l_min * times)

    assert outlet(raw, faster).sample.pH < outlet(raw, one).sample.pH + lean(raw)


@given(acid, beds, st.floats(0.0, 0.9), st.floats(0.02, 0.1))
@FEW
def test_more_bypass_is_less_pH(raw: Sample, one: Bed, bypass: float, more: float) -> None:
    a, b = (outlet(raw, msgspec.structs.replace(one, bypass_share=share)) for share in (bypass, bypass + more))

    assert b.sample.pH < a.sample.pH + lean(raw)


def test_pH_rises_all_the_way_down_the_bed() -> None:
    for magnesia in (0.0, 0.2):
        found = [outlet(water(), bed(bed_cm=cm, magnesia_share=magnesia)).sample.pH for cm in range(5, 121, 5)]
        assert found == sorted(found)
        assert len(set(found)) == len(found)


def test_warm_water_dissolves_faster() -> None:
    assert approach_share(water(temperature_c=20.0), bed()) > approach_share(water(temperature_c=5.0), bed()) + 0.02


def test_the_house_water_is_the_bed_water_mixed_with_the_bypass() -> None:
    half = bed(bypass_share=0.5, magnesia_share=0.1)
    through = dissolve(water(), *bed_doses(water(), half))

    by_hand = mix(through, water(), 0.5)
    assert outlet(water(), half).sample.pH == pytest.approx(by_hand.pH, abs=1e-6)
    assert outlet(water(), half).sample.calcium_mg_l == pytest.approx(by_hand.calcium_mg_l, abs=1e-9)


def test_nothing_passes_a_bed_that_is_gone_or_gone_round() -> None:
    for one in (bed(bed_cm=0.0), bed(bypass_share=1.0)):
        assert outlet(water(), one).sample == water()
        assert standing(water(), one).high_pH == water().pH
    assert contact_minutes(bed(bypass_share=1.0)) == inf
    assert approach_share(water(pH=8.6, alkalinity_mg_l_caco3=200.0, calcium_mg_l=100.0), bed()) == 1.0


def test_magnesia_goes_on_where_calcite_stops() -> None:
    saturated = dissolve(water(), calcite_limit_mmol_l(water()), 0.0)

    assert bed_doses(saturated, bed())[0] == pytest.approx(0.0, abs=1e-6)
    assert bed_doses(saturated, bed(magnesia_share=0.2))[1] > 0.05


@given(acid, beds)
@FEW
def test_calibration_gives_the_measured_pH_back(raw: Sample, one: Bed) -> None:
    measured = outlet(raw, one).sample.pH
    assume(raw.pH + 0.1 < measured and approach_share(raw, one) < 0.9)
    blank = msgspec.structs.replace(one, rate_factor=1.0)

    again = calibrated(raw, blank, measured)
    assert outlet(raw, again).sample.pH == pytest.approx(measured, abs=1e-5)
    assert again.rate_factor == pytest.approx(one.rate_factor, rel=0.05)


@pytest.mark.parametrize("measured", [6.1, 6.2, 12.0])
def test_a_pH_that_no_rate_explains_is_refused(measured: float) -> None:
    with pytest.raises(BadInput, match="No rate of these media"):
        calibrated(water(), bed(), measured)


@given(acid, beds, st.floats(0.05, 0.95))
@FEW
def test_the_valve_gives_the_pH_asked_for(raw: Sample, one: Bed, at: float) -> None:
    most = outlet(raw, one).sample.pH
    assume(most > raw.pH + 0.05)
    wanted = raw.pH + at * (most - raw.pH)

    share = bypass_for_ph(raw, one, wanted)
    assert outlet(raw, msgspec.structs.replace(one, bypass_share=share)).sample.pH == pytest.approx(wanted, abs=1e-5)


@pytest.mark.parametrize("wanted", [5.0, 8.6])
def test_a_pH_beyond_the_valve_is_refused(wanted: float) -> None:
    with pytest.raises(BadInput, match="No setting of the valve"):
        bypass_for_ph(water(), bed(), wanted)


def test_the_ends_of_the_valve() -> None:
    assert bypass_for_ph(water(), bed(), water().pH) == 1.0
    assert bypass_for_ph(water(), bed(), outlet(water(), bed()).sample.pH) == 0.0


def test_the_valve_curve_falls_in_everything() -> None:
    curve = valve_curve(water(), bed(magnesia_share=0.1), [0.0, 0.25, 0.5, 0.75, 1.0])

    for name in ("pH", "hardness_mg_l_caco3", "alkalinity_mg_l_caco3", "calcite_g_per_m3", "softened_sodium_mg_l"):
        found = [getattr(point, name) for point in curve]
        assert found == sorted(found, reverse=True), name
    assert curve[-1].pH == water().pH
    # 100 mg/L of hardness is 45.94 mg/L of sodium: 2 x 22.990 / 100.087.
    assert curve[0].softened_sodium_mg_l == pytest.approx(8.0 + 0.4594 * curve[0].hardness_mg_l_caco3, abs=0.01)


@pytest.mark.parametrize("magnesia", [0.0, 0.15])
def test_the_bed_loses_what_the_water_gains(magnesia: float) -> None:
    one = bed(magnesia_share=magnesia)
    days = bed_life(water(), one, 700.0)
    first, last = days[0], days[-1]

    for now in days:
        calcite, magnesia_gone = now.calcite_dissolved_kg, now.magnesia_dissolved_kg
        assert first.calcite_kg - now.calcite_kg == pytest.approx(calcite, rel=1e-9, abs=1e-9)
        assert first.magnesia_kg - now.magnesia_kg == pytest.approx(magnesia_gone, rel=1e-9, abs=1e-9)
        assert now.hardness_gained_kg == pytest.approx(calcite + magnesia_gone * 100.087 / 40.304, rel=1e-9)
        assert now.litres == pytest.approx(now.days * 700.0)
    assert [day.pH for day in days] == sorted((day.pH for day in days), reverse=True)
    assert [day.bed_cm for day in days] == sorted((day.bed_cm for day in days), reverse=True)
    assert last.bed_cm <= 10.0
    # By the trapezoid over the rows, quite another sum than the one that made them.
    hardness = [day.hardness_mg_l_caco3 - hardness_mg_l_caco3(water()) for day in days]
    steps = zip(pairwise(hardness), pairwise(days), strict=True)
    total = sum(0.5 * (a + b) * (later.litres - earlier.litres) for (a, b), (earlier, later) in steps)
    assert 1e-6 * total == pytest.approx(last.hardness_gained_kg, rel=0.01)


def test_the_bed_weighs_what_its_size_says() -> None:
    # pi/4 x 25.4^2 cm2 x 75 cm = 38.0 L at 1.44 kg/L.
    assert bed_life(water(), bed(), 700.0)[0].calcite_kg == pytest.approx(38.003 * 1.44, rel=1e-3)


def test_backwash_takes_its_share_besides() -> None:
    days = bed_life(water(), bed(), 700.0, 10.0, 0.07)
    gone = days[0].calcite_kg - days[-1].calcite_kg

    assert gone == pytest.approx(1.07 * days[-1].calcite_dissolved_kg, rel=1e-9)


def test_the_day_under_the_floor_is_where_the_depth_under_the_floor_is_reached() -> None:
    one = bed(bed_cm=85.0)
    floor = outlet(water(), bed(bed_cm=60.0)).sample.pH
    on = day_below_ph(water(), one, 700.0, floor)
    depth = depth_for_ph(water(), one, floor)

    assert depth == pytest.approx(60.0, abs=1e-3)
    assert on is not None
    days = bed_life(water(), one, 700.0, 0.5)
    before = next(day for day in reversed(days) if day.days <= on)
    after = next(day for day in days if day.days > on)
    assert before.bed_cm >= 60.0 >= after.bed_cm


def test_a_floor_now_or_never() -> None:
    assert day_below_ph(water(), bed(), 700.0, 9.0) == 0.0
    assert day_below_ph(water(), bed(), 700.0, 6.0) is None
    assert depth_for_ph(water(), bed(), 9.0) is None
    assert depth_for_ph(water(), bed(), 6.0) == 0.0


def test_a_saturated_water_leaves_the_bed_as_it_is() -> None:
    hard = water(pH=8.4, alkalinity_mg_l_caco3=220.0, calcium_mg_l=90.0)

    assert len(bed_life(hard, bed(), 700.0)) == 1


def test_no_water_is_refused() -> None:
    with pytest.raises(BadInput, match="passes no bed"):
        bed_life(water(), bed(), 0.0)


@given(acid)
@FEW
def test_magnesium_hydroxide_is_where_standing_water_ends(raw: Sample) -> None:
    limit = brucite_limit_mmol_l(raw)

    assert limit > 0.0
    assert 9.0 < dissolve(raw, 0.0, limit).pH < 11.6


def test_standing_water_beside_magnesia_is_a_range_and_a_warning() -> None:
    stood, calm = standing(water(), bed(magnesia_share=0.2)), standing(water(), bed())

    assert stood.low_pH < stood.likely_pH <= stood.high_pH
    assert stood.high_pH > 9.5
    assert "estimate" in stood.text
    assert calm.low_pH == calm.high_pH < 8.0
    assert standing(water(), bed(magnesia_share=0.2, bypass_share=0.4)).high_pH < stood.high_pH


def test_what_is_outside_the_sources_is_said() -> None:
    assert outside_range(water(), bed()) == ()
    assert "5 to 60" in outside_range(water(temperature_c=3.0), bed())[0]
    assert "Reynolds" in outside_range(water(), bed(flow_l_min=2e4))[0]
    assert "doubt" in outside_range(water(), bed(magnesia_share=0.1))[0]


@pytest.mark.parametrize(
    "fields",
    [
        {"tank_diameter_cm": 0.0},
        {"flow_l_min": 0.0},
        {"grain_mm": -1.0},
        {"porosity": 0.0},
        {"porosity": 1.0},
        {"bed_cm": -1.0},
        {"bypass_share": 1.1},
        {"magnesia_share": float("nan")},
        {"rate_factor": 0.0},
        {"calcite_kg_per_l": float("inf")},
    ],
)
def test_a_bed_that_cannot_be_is_refused(fields: dict[str, float]) -> None:
    with pytest.raises(BadInput, match=next(iter(fields))):
        bed(**fields)


@given(
    st.floats(4.0, 9.5),
    st.floats(0.0, 600.0),
    st.floats(0.0, 400.0),
    st.floats(0.0, 50.0),
    st.floats(0.0, 500.0),
    st.floats(1e-3, 1e3),
    st.floats(0.0, 1.0),
)
@FEW
def test_an_absurd_bed_gives_finite_numbers(
    pH: float, alkalinity: float, calcium: float, t: float, cm: float, flow: float, magnesia: float
) -> None:
    odd = water(pH=pH, alkalinity_mg_l_caco3=alkalinity, calcium_mg_l=calcium, temperature_c=t)
    done = outlet(odd, bed(bed_cm=cm, flow_l_min=flow, magnesia_share=magnesia))

    assert all(isfinite(number) and number >= 0.0 for number in (done.calcite_g_per_m3, done.magnesia_g_per_m3))
    # A pH that the alkalinity cannot make has no carbon, and is not that of any water.
    assert done.sample.pH >= odd.pH - 1e-6 or speciate(odd).total_carbon_mmol_l == 0.0
    assert isfinite(speciate(done.sample).co2_mg_l)
