"""What must always hold of light, brine, resin, membrane and cartridge, and what they refuse."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.equipment.relations import brine, lamp, membrane, peak_flow, pressure_tank, resin, sediment_filter
from model.errors import BadInput
from model.water.balance import charge_balance_error_percent, tds_mg_l
from model.water.sample import Sample
from tests.published.plain import plain
from tests.water.waters import waters

shares = st.floats(0.0, 1.0)
percents = st.floats(0.0, 100.0)
some = st.floats(0.01, 1000.0)
salts = st.sampled_from([brine.SODIUM_CHLORIDE, brine.POTASSIUM_CHLORIDE])


@given(percents, percents)
def test_clearer_water_never_has_less_light(uvt: float, other: float) -> None:
    low, high = sorted((uvt, other))
    assert 0.0 <= lamp.mean_light_share(low) <= lamp.mean_light_share(high) + 1e-12 <= 1.0 + 1e-9


@given(st.floats(0.0, 5000.0), st.floats(0.0, 500.0), st.floats(0.0, 5.0), st.floats(0.0, 2.0), shares)
def test_a_sleeve_only_gets_dirtier(days: float, hardness: float, iron: float, manganese: float, loss: float) -> None:
    now = lamp.sleeve_share(days, hardness, iron, manganese, loss)
    assert 0.0 <= lamp.sleeve_share(days + 30.0, hardness, iron, manganese, loss) <= now <= 1.0
    assert lamp.sleeve_share(days, hardness, iron + 0.5, manganese, loss) <= now


@given(st.floats(0.0, 50_000.0), st.floats(100.0, 20_000.0), st.floats(0.05, 1.0), st.booleans())
def test_an_older_lamp_never_shines_more(hours: float, life: float, end: float, at_end: bool) -> None:
    def left(lit: float) -> float:
        return lamp.output_of_rating(lamp.lamp_output_share(lit, life, end), end, rated_at_end_of_life=at_end)

    assert 0.0 <= left(hours + 100.0) <= left(hours) <= 1.0


@given(st.floats(0.0, 20.0), st.floats(0.0, 50.0))
def test_the_estimate_is_a_percentage(iron: float, nitrate: float) -> None:
    assert 0.0 <= lamp.estimated_uvt_percent(iron, nitrate) <= lamp.CLEAR_UVT_PERCENT


@given(st.floats(0.0, 30.0), st.floats(0.0, 10.0), st.one_of(st.none(), st.floats(0.0, 200.0)))
def test_more_people_never_draw_less(people: float, more: float, pump: float | None) -> None:
    assert peak_flow.peak_l_per_min(people + more, pump) >= peak_flow.peak_l_per_min(people, pump) > 0.0


@given(salts, st.floats(-20.0, 60.0), st.floats(0.0, 20.0))
def test_warm_water_never_holds_less_salt(salt: str, celsius: float, more: float) -> None:
    assert brine.saturated_mass_percent(salt, celsius + more) >= brine.saturated_mass_percent(salt, celsius)


@given(st.floats(0.0, 60.0), st.floats(0.0, 0.5), st.floats(0.0, 20.0))
def test_resin_never_grows(years: float, loss: float, more: float) -> None:
    assert 0.0 <= resin.capacity_left_share(years + more, loss) <= resin.capacity_left_share(years, loss) <= 1.0


@given(st.floats(0.0, 1e5), st.floats(0.0, 1e4), st.floats(1.0, 1e5), st.floats(0.0, 800.0), st.floats(0.0, 50.0))
def test_hardness_only_rises_through_a_run(litres: float, more: float, run: float, fed: float, leak: float) -> None:
    first, later = (resin.outlet_hardness_mg_l_caco3(at, run, fed, leak) for at in (litres, litres + more))
    assert 0.0 <= first <= later + 1e-9
    assert later <= fed


@given(st.floats(1.0, 100.0), st.floats(10.0, 600.0), st.floats(1e4, 1e6), shares, salts)
def test_more_salt_never_shortens_a_run(litres: float, hardness: float, use: float, capacity: float, salt: str) -> None:
    options = resin.dose_options(
        litres, hardness, use, capacity_share=max(capacity, 0.1), regenerant=salt, price_per_kg=0.5
    )
    runs, yearly = [one.litres_between for one in options], [one.salt_kg_per_year for one in options]
    assert runs == sorted(runs)
    assert yearly == sorted(yearly)
    assert all(one.cost_per_year == pytest.approx(0.5 * one.salt_kg_per_year) for one in options)


@given(waters, st.floats(0.0, 0.5), shares)
def test_a_product_is_thinner_and_as_neutral_as_its_feed(fed: Sample, passage: float, nitrate: float) -> None:
    product = membrane.permeate(fed, passage, nitrate)
    assert product.nitrate_mg_l_n == pytest.approx(nitrate * fed.nitrate_mg_l_n)
    for name in ("calcium_mg_l", "sodium_mg_l", "chloride_mg_l", "sulfate_mg_l", "alkalinity_mg_l_caco3"):
        assert 0.0 <= getattr(product, name) <= getattr(fed, name) + 1e-9
    assert 3.0 < product.pH < 12.0


@given(waters, st.floats(0.02, 0.3))
def test_solids_come_out_as_read(fed: Sample, passage: float) -> None:
    if abs(charge_balance_error_percent(fed)) > 30.0:
        return
    product = membrane.permeate(fed, passage, passage)
    assert tds_mg_l(product) == pytest.approx(passage * tds_mg_l(fed), rel=1e-6)


@pytest.mark.parametrize(
    "fed",
    [
        plain(alkalinity_mg_l_caco3=0.0),
        plain(alkalinity_mg_l_caco3=0.0, sodium_mg_l=39.3, chloride_mg_l=60.7),
        plain(alkalinity_mg_l_caco3=0.0, nitrate_mg_l_n=10.0, sodium_mg_l=16.4),
        plain(alkalinity_mg_l_caco3=50.0, calcium_mg_l=20.0),
    ],
    ids=["pure", "chloride alone", "nitrate alone", "bicarbonate alone"],
)
def test_odd_waters_have_a_product(fed: Sample) -> None:
    product = membrane.permeate(fed, 0.07, 0.15)
    assert product.nitrate_mg_l_n == pytest.approx(0.15 * fed.nitrate_mg_l_n)
    assert 4.0 < product.pH < 10.0


@given(st.floats(0.0, 0.95), shares)
def test_the_reject_is_never_thinner(recovery: float, passage: float) -> None:
    assert membrane.concentrate_factor(recovery, passage) >= 1.0 - 1e-12


@given(shares, st.floats(0.0, 0.99), shares)
def test_nitrate_passes_at_least_as_solids(passage: float, rejection: float, nitrate: float) -> None:
    assert passage <= membrane.nitrate_passage(passage, rejection, nitrate) <= 1.0


@given(shares, shares, st.floats(0.0, 1.0), st.floats(0.05, 2.0), st.floats(1.0, 6.0))
def test_a_drop_and_its_litres_go_round(
    litres: float, other: float, clean: float, range_bar: float, exponent: float
) -> None:
    def drop(at: float) -> float:
        return sediment_filter.drop_after_bar(at, clean, clean + range_bar, exponent)

    low, high = sorted((litres, other))
    assert drop(low) <= drop(high) + 1e-12
    used = sediment_filter.share_used(drop(litres), clean, clean + range_bar, exponent)
    assert drop(used) == pytest.approx(drop(litres), abs=1e-9)


@given(st.floats(0.0, 2.0), st.floats(1.0, 6.0))
def test_a_steepening_drop_never_promises_more_litres(drop: float, exponent: float) -> None:
    assert sediment_filter.share_used(drop, 0.1, 0.9, exponent) >= sediment_filter.share_used(drop, 0.1, 0.9)


NAN = float("nan")


@pytest.mark.parametrize(
    "asked",
    [
        lambda: lamp.lamp_output_share(-1.0, 9000.0, 0.6),
        lambda: lamp.lamp_output_share(NAN, 9000.0, 0.6),
        lambda: lamp.output_of_rating(0.5, 0.0, rated_at_end_of_life=True),
        lambda: lamp.sleeve_share(-1.0, 0.0, 0.0, 0.0, 0.02),
        lambda: lamp.mean_light_share(101.0),
        lambda: lamp.transmittance_of_rating(80.0, 0.0),
        lambda: lamp.estimated_uvt_percent(NAN, 0.0),
        lambda: peak_flow.peak_l_per_min(-1.0),
        lambda: brine.saturated_mass_percent("sugar", 10.0),
        lambda: brine.dissolved_kg(-1.0, brine.SODIUM_CHLORIDE, 10.0),
        lambda: brine.cation_added_mg_l(-1.0, brine.SODIUM_CHLORIDE),
        lambda: resin.capacity_left_share(-1.0, 0.05),
        lambda: resin.outlet_hardness_mg_l_caco3(1.0, 0.0, 100.0, 5.0),
        lambda: resin.setting_gpg_for_run(0.0, 1000.0, 0.2),
        lambda: resin.dose_options(0.0, 100.0, 1e5),
        lambda: resin.dose_options(28.0, 0.0, 1e5),
        lambda: membrane.concentrate_factor(1.0, 0.1),
        lambda: membrane.normalized_salt_passage(0.1, 4.0, 0.0, 25.0),
        lambda: membrane.normalized_salt_passage(0.1, 4.0, 4.0, 90.0),
        lambda: membrane.normalized_flow_ratio(10.0, 100.0, 4.0, 0.0, 25.0),
        lambda: membrane.fill_hours(10.0, 0.0),
        lambda: membrane.permeate(plain(alkalinity_mg_l_caco3=10.0), 1.5, 0.1),
        lambda: pressure_tank.shortest_run_s(10.0, 0.0),
        lambda: pressure_tank.shortfall_share(10.0, 0.0),
        lambda: sediment_filter.share_used(0.5, 0.1, 0.9, 0.5),
        lambda: sediment_filter.drop_after_bar(1.5, 0.1, 0.9, 2.0),
        lambda: sediment_filter.drop_at_flow_bar(0.1, 0.0, 10.0),
    ],
)
def test_what_cannot_be_is_refused(asked: Callable[[], object]) -> None:
    with pytest.raises(BadInput):
        asked()
