"""Brine, regenerants, resin age and the trade-off of salt; the source of each row is its id."""

from __future__ import annotations

import pytest

from model.equipment.relations.brine import (
    cation_added_mg_l,
    cation_kg,
    dissolved_kg,
    fill_water_l,
    saturated_mass_percent,
    sodium_chloride_equal_kg,
)
from model.equipment.relations.resin import (
    capacity_left_share,
    dose_options,
    outlet_hardness_mg_l_caco3,
    setting_gpg,
    setting_gpg_for_run,
    thriftiest,
)

GRAIN_G, FT3_L, LB_KG, GAL_L, GPG = 0.06479891, 28.316847, 0.45359237, 3.785411784, 17.1181


@pytest.mark.parametrize(
    ("salt", "celsius", "percent", "within"),
    [
        pytest.param("sodium_chloride", 4.44, 26.33, 0.005, id="Salt Institute: 40 F"),
        pytest.param("sodium_chloride", 10.0, 26.36, 0.005, id="Salt Institute: 50 F"),
        pytest.param("sodium_chloride", 21.11, 26.45, 0.005, id="Salt Institute: 70 F"),
        pytest.param("sodium_chloride", 37.78, 26.68, 0.005, id="Salt Institute: 100 F"),
        pytest.param("sodium_chloride", 20.0, 26.4, 0.05, id="common practice, no source: 26.4 % at 20 degC"),
        pytest.param("sodium_chloride", 15.6, 26.0, 0.45, id="common practice, no source: about 26 % at 60 F"),
        pytest.param("sodium_chloride", 25.0, 100 * 35.9 / 135.9, 0.09, id="common practice: 35.9 g in 100 g, 25 degC"),
        pytest.param("potassium_chloride", 0.0, 100 * 28 / 128, 0.3, id="common practice, no source: 28 g in 100 g"),
        pytest.param(
            "potassium_chloride", 20.0, 100 * 34.2 / 134.2, 0.3, id="common practice, no source: 34.2 g in 100 g"
        ),
        pytest.param(
            "potassium_chloride", 40.0, 100 * 40 / 140, 0.4, id="common practice, no source: 40 g in 100 g, 40 degC"
        ),
    ],
)
def test_saturated_brine(salt: str, celsius: float, percent: float, within: float) -> None:
    assert saturated_mass_percent(salt, celsius) == pytest.approx(percent, abs=within)


def test_three_pounds_of_salt_in_a_gallon_of_fill_water() -> None:
    """2.99 lb from 35.9 g in 100 g (25 degC); the rule says 3: from memory."""
    assert dissolved_kg(GAL_L, "sodium_chloride", 25.0) / LB_KG == pytest.approx(2.99, abs=0.03)


def test_357_grams_a_litre_of_water() -> None:
    """26.3 %, 357 g per L of water at 20 degC: common practice, no source."""
    assert dissolved_kg(1.0, "sodium_chloride", 20.0) * 1000 == pytest.approx(357, abs=2.5)


@pytest.mark.parametrize(
    ("salt", "grains", "within"),
    [
        pytest.param("sodium_chloride", 5_994, 0.0005, id="atomic weights: sodium chloride 5,994 grains a pound"),
        pytest.param("sodium_chloride", 5_989, 0.002, id="common practice, no source: 5,989 grains a pound"),
        pytest.param("potassium_chloride", 4_699, 0.0005, id="atomic weights: potassium chloride 4,699 grains a pound"),
        pytest.param("potassium_chloride", 4_695, 0.002, id="common practice, no source: 4,695 grains a pound"),
    ],
)
def test_grains_exchanged_by_a_pound(salt: str, grains: float, within: float) -> None:
    """100.087 / (2 x 58.44) of hardness for each of sodium chloride, 7,000 grains a pound."""
    as_hardness = sodium_chloride_equal_kg(1.0, salt) * 100.087 / (2 * 58.44) * 7000.0
    assert as_hardness == pytest.approx(grains, rel=within)


@pytest.mark.parametrize(
    ("salt", "hardness", "added", "within"),
    [
        pytest.param("sodium_chloride", 100.0, 46.0, 0.5, id="Connecticut DPH publication 29: 46 mg per 100"),
        pytest.param("sodium_chloride", GPG, 7.86, 0.01, id="common practice, no source: 7.86 mg/L a grain"),
        pytest.param("potassium_chloride", 100.0, 78.1, 0.05, id="atomic weights: potassium 78.1 per 100"),
    ],
)
def test_what_softening_adds(salt: str, hardness: float, added: float, within: float) -> None:
    assert cation_added_mg_l(hardness, salt) == pytest.approx(added, abs=within)


def test_sodium_in_a_pound_of_salt() -> None:
    """454 g of salt hold 39.3 % sodium, 178.5 g: common practice, no source."""
    assert cation_kg(0.454, "sodium_chloride") * 1000 == pytest.approx(178.5, abs=0.2)


def test_fill_water_and_salt_go_round() -> None:
    assert fill_water_l(dissolved_kg(9.0, "potassium_chloride", 12.0), "potassium_chloride", 12.0) == pytest.approx(9.0)


@pytest.mark.parametrize(
    ("years", "left", "within"),
    [
        pytest.param(1.0, 0.95, 1e-9, id="UFC 3-240-13FN p. 21: about 5 % a year"),
        pytest.param(5.6, 0.75, 0.005, id="UFC 3-240-13FN p. 22: a quarter lost, by hand after 5.6 years"),
    ],
)
def test_resin_ages(years: float, left: float, within: float) -> None:
    assert capacity_left_share(years, 0.05) == pytest.approx(left, abs=within)


@pytest.mark.parametrize(
    ("hardness", "gpg"),
    [
        pytest.param(150.0, 9, id="Connecticut DPH publication 29: 150 mg/L is 8.8 gpg, set 9"),
        pytest.param(118.0, 7, id="common practice, no source: 118 mg/L is 6.9 gpg, set 7"),
        pytest.param(21 * GPG, 21, id="common practice, no source: 21 gpg with iron"),
        pytest.param(0.0, 1, id="definition: no less than 1"),
    ],
)
def test_hardness_to_set(hardness: float, gpg: int) -> None:
    assert setting_gpg(hardness) == gpg


def test_a_setting_for_nitrate() -> None:
    """24,000 grains, nitrate after 1,900 gal: 12.6 grains a gallon by hand, so 13; hardness alone would say 6."""
    assert setting_gpg_for_run(24_000 * GRAIN_G, 1_900 * GAL_L, 0.0) == 13


def test_a_run_ends_at_one_grain() -> None:
    """Effluent of 1 gpg ends the capacity test: NSF/ANSI 44 (Andrew, WC&P 2013)."""
    assert outlet_hardness_mg_l_caco3(1000.0, 1000.0, 20 * GPG, 5.0) == pytest.approx(17.1)
    assert outlet_hardness_mg_l_caco3(500.0, 1000.0, 20 * GPG, 5.0) == 5.0
    assert outlet_hardness_mg_l_caco3(2000.0, 1000.0, 20 * GPG, 5.0) == pytest.approx(20 * GPG)


@pytest.mark.parametrize(
    ("pounds", "gallons_a_run", "pounds_a_year"),
    [
        pytest.param(6.0, 1000, 720, id="common practice, no source: 20,000 grains at 6 lb, 3,333 a pound"),
        pytest.param(8.0, 1200, 800, id="common practice, no source: 24,000 grains at 8 lb, 3,000 a pound"),
        pytest.param(10.0, 1350, 889, id="common practice, no source: 27,000 grains at 10 lb, 2,700 a pound"),
        pytest.param(15.0, 1500, 1200, id="common practice, no source: 30,000 grains at 15 lb, 2,000 a pound"),
    ],
)
def test_the_trade_off_of_a_year(pounds: float, gallons_a_run: float, pounds_a_year: float) -> None:
    """120,000 gal a year at 20 gpg are 2,400,000 grains (Michaud 2015); salt by the grains a pound."""
    (option,) = dose_options(FT3_L, 20 * GPG, 120_000 * GAL_L, doses_lb_ft3=[pounds])
    assert option.litres_between / GAL_L == pytest.approx(gallons_a_run, rel=0.001)
    assert option.salt_kg_per_year / LB_KG == pytest.approx(pounds_a_year, rel=0.002)
    assert option.cation_kg_per_year == pytest.approx(0.3934 * option.salt_kg_per_year, rel=0.001)


def test_potassium_chloride_takes_more_for_the_same_run() -> None:
    """1.276 kg stand in for 1 kg: atomic weights."""
    plain, other = (
        dose_options(28.0, 150.0, 2e5, regenerant=f"{name}_chloride")[0] for name in ("sodium", "potassium")
    )
    assert other.litres_between == pytest.approx(plain.litres_between)
    assert other.salt_kg / plain.salt_kg == pytest.approx(1.276, abs=0.001)


def test_the_least_salt_that_leaves_three_days() -> None:
    """At least 3 days: common practice, no source. 400 gpd at 15 gpg by hand: 3.3 days at 6 lb."""
    options = dose_options(FT3_L, 15 * GPG, 400 * 365 * GAL_L)
    best = thriftiest(options)
    assert best is not None
    assert best.salt_lb_per_ft3 == 6.0
    hurried = thriftiest(dose_options(FT3_L, 15 * GPG, 460 * 365 * GAL_L))
    assert hurried is not None
    assert hurried.salt_lb_per_ft3 == 8.0
    assert thriftiest(()) is None
