"""Softener and anion resin against printed tables and worked examples; the source of each row is its id."""

from __future__ import annotations

import pytest

from model.equipment.relations.softener import (
    capacity_g_caco3,
    chloride_added_mg_l,
    compensated_hardness_mg_l_caco3,
    litres_between_regenerations,
    salt_kg_from_depth,
    sodium_added_mg_l,
)

GRAIN_G, FT3_L, LB_KG, GAL_L, GPG = 0.06479891, 28.316847, 0.45359237, 3.785411784, 17.1181


@pytest.mark.parametrize(
    ("pounds", "grains", "tolerance"),
    [
        pytest.param(6.0, 20_000, 0.001, id="common practice, no source: 6 lb 20,000 grains"),
        pytest.param(8.0, 24_000, 0.001, id="common practice, no source: 8 lb 24,000 grains"),
        pytest.param(10.0, 27_000, 0.001, id="common practice, no source: 10 lb 27,000 grains"),
        pytest.param(15.0, 30_000, 0.001, id="common practice, no source: 15 lb 30,000 grains"),
        pytest.param(5.0, 20_000, 0.20, id="common practice, no source, other table: 5 lb 20,000 grains"),
        pytest.param(12.0, 30_000, 0.20, id="common practice, no source, other table: 12 lb 30,000 grains"),
        pytest.param(6.0, 21_000, 0.20, id="common practice, no source, third figure: 6 lb 21,000 grains"),
    ],
)
def test_capacity_against_salt(pounds: float, grains: float, tolerance: float) -> None:
    assert capacity_g_caco3(FT3_L, pounds * LB_KG) / GRAIN_G == pytest.approx(grains, rel=tolerance)


def test_no_more_than_the_chemistry_allows() -> None:
    """2.0 eq/L is the total capacity of the resin: Davis 2010, example 8-1. 5,994 grains a pound is stoichiometry."""
    for pounds in (1.0, 5.0, 8.0, 15.0, 40.0):
        grams = capacity_g_caco3(FT3_L, pounds * LB_KG)
        assert grams <= 2.0 * FT3_L * 50.043
        assert grams / GRAIN_G <= 5_994 * pounds


@pytest.mark.parametrize(
    ("grains", "hardness_gpg", "gallons", "tolerance"),
    [
        pytest.param(180_000, 6.9, 26_087, 0.005, id="common practice, no source: 6 ft3 at 30,000 and 6.9 gpg"),
        pytest.param(50_000, 45.0, 1_111, 0.005, id="common practice, no source: 50,000 grains at 45 gpg"),
        pytest.param(20_000, 15.0, 400 * 3.333, 0.02, id="common practice, no source: 400 gpd at 15 gpg, 3.3 days"),
        pytest.param(30_000, 15.0, 400 * 5.0, 0.02, id="common practice, no source: 400 gpd at 15 gpg, 5 days"),
    ],
)
def test_gallons_between_regenerations(grains: float, hardness_gpg: float, gallons: float, tolerance: float) -> None:
    litres = litres_between_regenerations(grains * GRAIN_G, hardness_gpg * GPG, 0.0)
    assert litres / GAL_L == pytest.approx(gallons, rel=tolerance)


def test_iron_adds_to_the_load() -> None:
    """18 gpg and 1.5 mg/L of iron at a factor of 2 make 21 gpg: common practice, no source."""
    assert compensated_hardness_mg_l_caco3(18 * GPG, 1.5, 0.0, 2.0) / GPG == pytest.approx(21.0, abs=0.001)


def test_a_unit_of_25000_grains_lasts_five_days() -> None:
    """4 people at 60 gallons and 21 gpg: 5,040 grains a day, 25,000 last 4.96 days. Common practice, no source."""
    litres = litres_between_regenerations(25_000 * GRAIN_G, 21 * GPG, 0.0)
    assert litres / GAL_L / 240 == pytest.approx(4.96, abs=0.01)


@pytest.mark.parametrize(
    ("hardness", "sodium", "tolerance"),
    [
        pytest.param(100.0, 46.0, 0.5, id="Connecticut DPH publication 29"),
        pytest.param(17.1181, 7.86, 0.01, id="common practice, no source: 7.86 mg/L a grain"),
    ],
)
def test_sodium_added(hardness: float, sodium: float, tolerance: float) -> None:
    assert sodium_added_mg_l(hardness) == pytest.approx(sodium, abs=tolerance)


@pytest.mark.parametrize(
    ("nitrate", "sulfate", "chloride"),
    [
        pytest.param(15.0, 0.0, 38.0, id="atomic weights IUPAC 2013: 15 mg/L N"),
        pytest.param(0.0, 30.0, 22.1, id="atomic weights IUPAC 2013: 30 mg/L SO4"),
    ],
)
def test_chloride_added(nitrate: float, sulfate: float, chloride: float) -> None:
    assert chloride_added_mg_l(nitrate, sulfate) == pytest.approx(chloride, abs=0.05)


@pytest.mark.parametrize(
    ("inches", "pounds"),
    [(16, 8.0), (18, 10.3), (24, 18.3)],
    ids=lambda value: f"common practice, no source: an inch of salt {value}",
)
def test_an_inch_of_dry_salt(inches: float, pounds: float) -> None:
    """At 70 lb/ft3, in the middle of the 65-75 that is quoted."""
    one = salt_kg_from_depth(52.54, inches * 2.54, 0.0, 70 * 0.016018463)
    two = salt_kg_from_depth(50.0, inches * 2.54, 0.0, 70 * 0.016018463)
    assert (one - two) / LB_KG == pytest.approx(pounds, rel=0.03)
