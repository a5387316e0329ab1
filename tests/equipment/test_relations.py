"""What the relations must always do, and what they refuse."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from model.equipment.relations import (
    neutralizer,
    pressure_tank,
    reverse_osmosis,
    sediment_filter,
    softener,
    ultraviolet,
)
from model.errors import BadInput

shares = st.floats(0.0, 1.0)
some = st.floats(0.01, 1000.0)


@given(some, st.floats(0.0, 200.0), st.floats(0.0, 50.0))
def test_more_salt_never_gives_less_capacity(resin: float, salt: float, more: float) -> None:
    assert softener.capacity_g_caco3(resin, salt + more) >= softener.capacity_g_caco3(resin, salt) - 1e-9


@given(st.floats(0.0, 100.0), st.floats(20.0, 100.0), st.floats(0.0, 60.0), st.floats(0.9, 1.3))
def test_salt_and_depth_go_round(depth: float, diameter: float, water: float, density: float) -> None:
    salt = softener.salt_kg_from_depth(depth, diameter, water, density)
    assert softener.depth_cm_from_salt(salt, diameter, water, density) == pytest.approx(depth, abs=1e-9)


@given(st.floats(0.0, 100.0), st.floats(20.0, 100.0), st.floats(0.0, 60.0))
def test_the_wet_part_holds_more_salt(depth: float, diameter: float, water: float) -> None:
    wet = softener.salt_kg_from_depth(depth, diameter, water, 1.1)
    assert wet >= softener.salt_kg_from_depth(depth, diameter, 0.0, 1.1)


@given(st.floats(0.0, 200.0), st.floats(10.0, 60.0), st.floats(0.8, 2.0))
def test_bed_and_depth_go_round(depth: float, diameter: float, density: float) -> None:
    mass = neutralizer.bed_kg(depth, diameter, density)
    assert neutralizer.bed_cm(mass, diameter, density) == pytest.approx(depth, abs=1e-9)


@given(st.floats(0.0, 300.0), shares)
def test_media_and_hardness_balance(rise: float, share: float) -> None:
    calcite, magnesia = neutralizer.media_g_per_m3_from_hardness_rise(rise, share)
    assert calcite + magnesia * 100.087 / 40.304 == pytest.approx(rise, abs=1e-9)


@given(st.floats(1.0, 200.0), some, some, shares, shares)
def test_the_dose_is_never_above_the_rating(rated: float, flow: float, peak: float, lamp: float, water: float) -> None:
    assert 0.0 <= ultraviolet.dose_mj_cm2(rated, flow, peak, lamp, water) <= rated


@given(st.floats(0.0, 300.0), st.floats(0.0, 50.0))
def test_more_dose_never_inactivates_less(dose: float, more: float) -> None:
    less, greater = ultraviolet.log_inactivation(dose), ultraviolet.log_inactivation(dose + more)
    assert all(greater[name] >= less[name] for name in less)


@given(st.floats(0.0, 6.0), st.floats(0.0, 6.0), st.floats(0.0, 8.0), st.floats(-400.0, 4000.0))
def test_the_draw_lies_within_the_tank(precharge: float, low: float, high: float, elevation: float) -> None:
    assume(high > low)
    assert 0.0 <= pressure_tank.drawdown_l(300.0, precharge, low, high, elevation) < 300.0


@given(st.floats(0.0, 4000.0), st.floats(1.0, 1000.0))
def test_the_air_thins_with_height(low: float, more: float) -> None:
    assert pressure_tank.atmospheric_bar(low + more) < pressure_tank.atmospheric_bar(low)


@given(st.floats(-20.0, 60.0), st.floats(0.0, 10.0))
def test_warmer_water_never_makes_less(celsius: float, more: float) -> None:
    assert reverse_osmosis.temperature_factor(celsius + more) >= reverse_osmosis.temperature_factor(celsius)


@given(st.floats(0.0, 2.0), st.floats(0.0, 1.0), st.floats(0.05, 2.0))
def test_a_load_is_a_share(drop: float, clean: float, range_bar: float) -> None:
    assert 0.0 <= sediment_filter.share_used(drop, clean, clean + range_bar) <= 1.0


NAN, INFINITE = float("nan"), float("inf")


@pytest.mark.parametrize(
    "asked",
    [
        lambda: softener.capacity_g_caco3(0.0, 5.0),
        lambda: softener.capacity_g_caco3(28.0, -1.0),
        lambda: softener.capacity_g_caco3(28.0, NAN),
        lambda: softener.compensated_hardness_mg_l_caco3(-1.0, 0.0, 0.0, 2.0),
        lambda: softener.litres_between_regenerations(1000.0, 0.0, 0.2),
        lambda: softener.litres_between_regenerations(1000.0, 100.0, 1.2),
        lambda: softener.salt_kg_from_depth(-1.0, 45.0, 0.0, 1.1),
        lambda: softener.salt_kg_from_depth(10.0, 0.0, 0.0, 1.1),
        lambda: softener.sodium_added_mg_l(INFINITE),
        lambda: softener.chloride_added_mg_l(-1.0, 0.0),
        lambda: neutralizer.bed_kg(10.0, 0.0, 1.4),
        lambda: neutralizer.media_g_per_m3_from_hardness_rise(10.0, 1.1),
        lambda: pressure_tank.drawdown_l(0.0, 2.0, 2.1, 3.0),
        lambda: pressure_tank.drawdown_l(300.0, 2.0, 3.0, 3.0),
        lambda: ultraviolet.dose_mj_cm2(40.0, 30.0, 0.0),
        lambda: ultraviolet.log_inactivation(-1.0),
        lambda: ultraviolet.lamp_days(9000.0, 0.0),
        lambda: reverse_osmosis.rejection(0.0, 1.0),
        lambda: reverse_osmosis.feed_l(1.0, 0.0),
        lambda: reverse_osmosis.net_pressure_bar(-1.0, 0.0, 0.0),
        lambda: sediment_filter.share_used(0.5, 0.5, 0.5),
        lambda: sediment_filter.litres_left(100.0, 0.0),
    ],
)
def test_what_cannot_be_is_refused(asked: Callable[[], float]) -> None:
    with pytest.raises(BadInput):
        asked()
