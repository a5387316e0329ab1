"""More worked examples of tank, softener and membrane; the source of each row is its id."""

from __future__ import annotations

import pytest

from model.equipment.relations.pressure_tank import drawdown_l, recommended_precharge_bar, starts_per_day
from model.equipment.relations.reverse_osmosis import feed_l, net_pressure_bar, osmotic_bar, rejection
from model.equipment.relations.softener import (
    capacity_g_caco3,
    compensated_hardness_mg_l_caco3,
    litres_between_regenerations,
    sodium_added_mg_l,
)

GALLON_L = 3.785411784
CUBIC_FOOT_L = 28.316846592
POUND_KG = 0.45359237
GRAIN_G = 0.06479891
GPG_MG_L = 17.1181
PSI_BAR = 0.0689475729


@pytest.mark.parametrize(
    ("gallons", "precharge", "cut_in", "cut_out", "drawn", "within"),
    [
        pytest.param(58, 38, 40, 60, 15.0, 0.1, id="Boyle's law: 15 gpm for a minute at 40/60 takes 58 gal"),
        pytest.param(44, 28, 30, 50, 13, 0.5, id="Boyle's law: 44 gal at 30/50"),
        pytest.param(86, 38, 40, 60, 22, 0.5, id="Boyle's law: 86 gal at 40/60"),
        pytest.param(100, 30, 40, 60, 21.9, 0.1, id="Boyle's law: 40/60 sunk to 30 psi"),
        pytest.param(100, 20, 40, 60, 17.0, 0.1, id="Boyle's law: 40/60 sunk to 20 psi"),
    ],
)
def test_drawdown(gallons: float, precharge: float, cut_in: float, cut_out: float, drawn: float, within: float) -> None:
    litres = drawdown_l(gallons * GALLON_L, precharge * PSI_BAR, cut_in * PSI_BAR, cut_out * PSI_BAR)

    assert litres / GALLON_L == pytest.approx(drawn, abs=within)


@pytest.mark.parametrize(
    ("cut_in", "precharge"),
    [
        pytest.param(30, 28, id="common practice, no source: 30/50"),
        pytest.param(40, 38, id="common practice, no source: 40/60"),
    ],
)
def test_precharge(cut_in: float, precharge: float) -> None:
    assert recommended_precharge_bar(cut_in * PSI_BAR) / PSI_BAR == pytest.approx(precharge, abs=0.001)


def test_starts_of_a_family_of_four() -> None:
    """400 gal a day (US EPA WaterSense) over 25.1 gal a cycle (Pelikan, The Driller 2006): 15.9 starts."""
    assert starts_per_day(400 * GALLON_L, 25.1 * GALLON_L) == pytest.approx(15.9, abs=0.05)


@pytest.mark.parametrize(
    ("grains", "gpg", "gallons", "within"),
    [
        pytest.param(16_800, 20, 4 * 70 * 3, 0.001, id="common practice, no source: 4 x 70 gpd x 3 d at 20 gpg"),
        pytest.param(36_000, 21, 240 * 7.14, 0.002, id="common practice, no source: 36,000 grains at 21 gpg, 7.14 d"),
        pytest.param(24_000, 6, 4_000, 0.001, id="common practice, no source: 24,000 grains at 6 gpg"),
    ],
)
def test_a_run(grains: float, gpg: float, gallons: float, within: float) -> None:
    litres = litres_between_regenerations(grains * GRAIN_G, gpg * GPG_MG_L, 0.0)

    assert litres / GALLON_L == pytest.approx(gallons, rel=within)


def test_salt_of_30_days() -> None:
    """Common practice, no source: 5 x 80 gpcd at 15 gpg, 1 ft3 and 6 lb each, takes 55 lb in 30 days."""
    capacity = capacity_g_caco3(CUBIC_FOOT_L, 6 * POUND_KG)
    run_gal = litres_between_regenerations(capacity, 15 * GPG_MG_L, 0.0) / GALLON_L

    assert 30 * 400 / run_gal * 6 == pytest.approx(55, rel=0.02)


@pytest.mark.parametrize(
    ("gallons_per_year", "gpg", "pounds"),
    [
        pytest.param(120_000, 20, 800, id="Michaud 2015 load, salt by arithmetic: 120,000 gal at 20 gpg"),
        pytest.param(365 * 250, 4, 122, id="arithmetic at 3,000 grains a pound: 250 gal a day at 4 gpg"),
        pytest.param(365 * 250, 10, 304, id="arithmetic at 3,000 grains a pound: 250 gal a day at 10 gpg"),
    ],
)
def test_salt_of_a_year_at_8_lb(gallons_per_year: float, gpg: float, pounds: float) -> None:
    capacity = capacity_g_caco3(CUBIC_FOOT_L, 8 * POUND_KG)
    run_gal = litres_between_regenerations(capacity, gpg * GPG_MG_L, 0.0) / GALLON_L

    assert gallons_per_year / run_gal * 8 == pytest.approx(pounds, abs=0.6)


@pytest.mark.parametrize(
    ("resin_m3", "kg_per_m3", "litres_per_day", "raw", "blended", "days", "within"),
    [
        pytest.param(0.2, 25, 1200, 245, 100, 28.7, 0.05, id="published inputs, days by arithmetic: 245 to 100 mg/L"),
        pytest.param(0.1, 57, 2000, 280, 85, 14.5, 0.2, id="Davis and Cornwell kind, from memory: 280 to 85 mg/L"),
    ],
)
def test_a_run_with_bypass(
    resin_m3: float, kg_per_m3: float, litres_per_day: float, raw: float, blended: float, days: float, within: float
) -> None:
    litres = litres_between_regenerations(resin_m3 * kg_per_m3 * 1000.0, raw - blended, 0.0)

    assert litres / litres_per_day == pytest.approx(days, abs=within)


@pytest.mark.parametrize(
    ("iron", "manganese", "factor", "expected_gpg"),
    [
        pytest.param(1.0, 0.0, 4.0, 14, id="from memory: iron counts four times"),
        pytest.param(0.0, 0.5, 2.0, 11, id="common practice, no source: manganese counts twice"),
    ],
)
def test_metals_beside_10_gpg(iron: float, manganese: float, factor: float, expected_gpg: float) -> None:
    found = compensated_hardness_mg_l_caco3(10 * GPG_MG_L, iron, manganese, factor)

    assert found / GPG_MG_L == pytest.approx(expected_gpg, abs=0.001)


@pytest.mark.parametrize(
    ("gpg", "sodium"),
    [
        pytest.param(10, 79, id="common practice, no source: 10 gpg"),
        pytest.param(20, 157, id="common practice, no source: 20 gpg"),
    ],
)
def test_sodium_added(gpg: float, sodium: float) -> None:
    assert sodium_added_mg_l(gpg * GPG_MG_L) == pytest.approx(sodium, abs=0.5)


def test_net_pressure() -> None:
    """Common practice, no source: 60 psi and 1,000 mg/L make 10 psi osmotic, 50 psi net."""
    osmotic = osmotic_bar(1000.0)

    assert osmotic / PSI_BAR == pytest.approx(10.0, abs=0.01)
    assert net_pressure_bar(60 * PSI_BAR, 0.0, osmotic) / PSI_BAR == pytest.approx(50.0, rel=0.01)


@pytest.mark.parametrize(
    ("feed", "product", "share", "within"),
    [
        pytest.param(400, 40, 0.90, 1e-9, id="municipal mass balance, textbook kind: 400 to 40 g/m3"),
        pytest.param(380, 5, 0.987, 0.001, id="common practice, no source: 380 to 5"),
        pytest.param(72, 12, 0.83, 0.005, id="Schoeman, Water SA 35(5) 2009: 72 to 12 mg/L N"),
        pytest.param(54, 17, 0.69, 0.005, id="Schoeman, Water SA 35(5) 2009: 54 to 17 mg/L N"),
        pytest.param(32, 1.6, 0.95, 0.001, id="common practice, no source: one home, 32 to 1.6"),
    ],
)
def test_rejection(feed: float, product: float, share: float, within: float) -> None:
    assert rejection(feed, product) == pytest.approx(share, abs=within)


@pytest.mark.parametrize(
    ("product", "recovery", "feed", "within"),
    [
        pytest.param(4000, 0.90, 4444, 0.002, id="municipal mass balance, textbook kind: 4,000 m3 a day"),
        pytest.param(30, 0.75, 40, 1e-9, id="common practice, no source: 30 of 40 gpm"),
    ],
)
def test_feed(product: float, recovery: float, feed: float, within: float) -> None:
    assert feed_l(product, recovery) == pytest.approx(feed, rel=within)
