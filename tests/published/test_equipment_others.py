"""Tank, neutralizer, lamp, membrane, filter against printed figures; the source of each row is its id."""

from __future__ import annotations

from math import pi

import pytest

from model.equipment.relations.neutralizer import bed_cm, bed_kg, media_g_per_m3_from_hardness_rise
from model.equipment.relations.pressure_tank import acceptance_share, atmospheric_bar, drawdown_l
from model.equipment.relations.reverse_osmosis import (
    feed_l,
    osmotic_bar,
    permeate_l_per_day,
    rejection,
    temperature_factor,
)
from model.equipment.relations.sediment_filter import litres_left, share_used
from model.equipment.relations.ultraviolet import dose_mj_cm2, lamp_days, log_inactivation

PSI, GAL_L, LB_G = 0.0689476, 3.785411784, 453.59237


@pytest.mark.parametrize(
    ("low", "high", "factor"),
    [(20, 40, 0.345), (30, 50, 0.295), (40, 60, 0.258)],
    ids=lambda value: f"Boyle's law by hand, 14.696 psi of air: {value}",
)
def test_drawdown_factor_two_pounds_under_cut_in(low: float, high: float, factor: float) -> None:
    assert acceptance_share((low - 2) * PSI, low * PSI, high * PSI) == pytest.approx(factor, abs=0.001)


@pytest.mark.parametrize(
    ("low", "high", "factor"),
    [(20, 40, 0.37), (30, 50, 0.31), (40, 60, 0.27)],
    ids=lambda value: f"trade table, from memory: {value}",
)
def test_drawdown_factor_at_cut_in(low: float, high: float, factor: float) -> None:
    assert acceptance_share(low * PSI, low * PSI, high * PSI) == pytest.approx(factor, abs=0.006)


@pytest.mark.parametrize(
    ("feet", "gallons", "tolerance"),
    [
        pytest.param(0, 25.1, 0.1, id="Pelikan, National Driller: 85 gal, 28/30/50 psi, sea level"),
        pytest.param(6000, 26.1, 0.15, id="Pelikan, National Driller: 85 gal, 28/30/50 psi, 6,000 ft"),
    ],
)
def test_drawdown_of_an_85_gallon_tank(feet: float, gallons: float, tolerance: float) -> None:
    litres = drawdown_l(85 * GAL_L, 28 * PSI, 30 * PSI, 50 * PSI, feet * 0.3048)
    assert litres / GAL_L == pytest.approx(gallons, abs=tolerance)


def test_air_at_6000_feet() -> None:
    """11.8 psi: Pelikan, National Driller."""
    assert atmospheric_bar(6000 * 0.3048) / PSI == pytest.approx(11.8, abs=0.05)


@pytest.mark.parametrize(
    ("share", "pounds"),
    [(0.0, 0.143), (1.0, 0.057)],
    ids=["stoichiometry, regression only: calcite", "stoichiometry, regression only: magnesia"],
)
def test_media_of_a_grain_of_rise_in_a_thousand_gallons(share: float, pounds: float) -> None:
    calcite, magnesia = media_g_per_m3_from_hardness_rise(17.1181, share)
    assert (calcite + magnesia) * 3.785411784 / LB_G == pytest.approx(pounds, rel=0.01)


@pytest.mark.parametrize(
    ("inches", "pounds"),
    [(10, 4.1), (12, 5.9), (13, 6.9), (14, 8.0)],
    ids=lambda value: f"geometry by hand at 90 lb/ft3: {value}",
)
def test_an_inch_of_bed(inches: float, pounds: float) -> None:
    assert bed_kg(2.54, inches * 2.54, 90 * 0.016018463) * 1000 / LB_G == pytest.approx(pounds, abs=0.06)


@pytest.mark.parametrize(
    ("inches", "raised"),
    [(10, 12.1), (12, 8.4), (13, 7.2), (14, 6.2)],
    ids=lambda value: f"geometry by hand, a 50 lb bag: {value}",
)
def test_a_bag_raises_the_bed(inches: float, raised: float) -> None:
    assert bed_cm(50 * LB_G / 1000, inches * 2.54, 90 * 0.016018463) / 2.54 == pytest.approx(raised, abs=0.15)


@pytest.mark.parametrize(
    ("organism", "dose", "logs"),
    [
        ("cryptosporidium", 1.6, 0.5),
        ("cryptosporidium", 5.8, 2.0),
        ("cryptosporidium", 22.0, 4.0),
        ("giardia", 11.0, 3.0),
        ("giardia", 21.9, 3.5),
        ("virus", 39.0, 0.5),
        ("virus", 186.0, 4.0),
        ("virus", 38.9, 0.0),
        ("virus", 40.0, 0.5),
    ],
    ids=lambda value: f"US EPA 2006 UV Disinfection Guidance Manual {value}",
)
def test_logs_by_dose(organism: str, dose: float, logs: float) -> None:
    assert log_inactivation(dose)[organism] == logs


def test_the_dose_goes_with_time_and_light() -> None:
    """Half the light is half the dose, twice the flow is half the time: US EPA 2006."""
    assert dose_mj_cm2(40.0, 30.0, 60.0) == pytest.approx(20.0)
    assert dose_mj_cm2(40.0, 30.0, 30.0, lamp_output_share=0.7) == pytest.approx(28.0)


def test_a_lamp_of_9000_hours_is_lit_375_days() -> None:
    """Common practice, no source."""
    assert lamp_days(9000.0, 24.0) == 375.0


@pytest.mark.parametrize(
    ("celsius", "factor", "tolerance"),
    [
        pytest.param(5.0, 0.52, 0.005, id="common practice, no source: 5 degC"),
        pytest.param(10.0, 0.62, 0.005, id="common practice, no source: 10 degC"),
        pytest.param(15.0, 0.73, 0.005, id="common practice, no source: 15 degC"),
        pytest.param(20.0, 0.86, 0.005, id="common practice, no source: 20 degC"),
        pytest.param(25.0, 1.00, 1e-9, id="definition: 25 degC"),
        pytest.param(10.0, 0.66, 0.66 * 0.08, id="US Army TM 10-4610-309-14: 50 degF, sources differ by 8 %"),
        pytest.param(15.6, 0.77, 0.77 * 0.08, id="US Army TM 10-4610-309-14: 60 degF"),
        pytest.param(21.1, 0.90, 0.90 * 0.08, id="US Army TM 10-4610-309-14: 70 degF"),
        pytest.param(30.0, 1.15, 1.15 * 0.08, id="US Army TM 10-4610-309-14: 86 degF"),
    ],
)
def test_temperature_factor(celsius: float, factor: float, tolerance: float) -> None:
    assert temperature_factor(celsius) == pytest.approx(factor, abs=tolerance)


def test_three_percent_a_degree() -> None:
    """+3 % for each degree about the rating: Water Quality Association education kit."""
    assert temperature_factor(26.0) / temperature_factor(25.0) == pytest.approx(1.03, abs=0.005)


def test_a_50_gallon_membrane_in_the_cold() -> None:
    """At 10 degC and 50 psi about 26 of its 50 gallons: arithmetic from the factor and 50/60, regression only."""
    assert permeate_l_per_day(50.0, 60 * PSI, 50 * PSI, 10.0) == pytest.approx(26.0, abs=0.5)


def test_osmotic_pressure_rule() -> None:
    """1 psi for each 100 mg/L: common practice, no source."""
    assert osmotic_bar(750.0) / PSI == pytest.approx(7.5)


def test_one_gallon_in_four() -> None:
    """4 gallons in, 1 out: UMass Extension, reverse osmosis; Connecticut DPH publication 21."""
    assert feed_l(1.0, 0.25) == 4.0


@pytest.mark.parametrize(
    ("feed", "product", "low", "high"),
    [
        pytest.param(35.0, 1.4, 0.87, 0.961, id="Schoeman, Water SA 35(5) 2009: 35 to 1.4"),
        pytest.param(43.0, 5.5, 0.87, 0.961, id="Schoeman, Water SA 35(5) 2009: 43 to 5.5"),
    ],
)
def test_rejection_of_nitrate(feed: float, product: float, low: float, high: float) -> None:
    assert low <= rejection(feed, product) <= high


def test_a_straight_drop_is_sixteen_weeks() -> None:
    """2 psi clean, half a psi a week, 10 psi at the end: 16 weeks, arithmetic."""
    used = share_used(4.0 * PSI, 2.0 * PSI, 10.0 * PSI)
    assert 4.0 + litres_left(4.0, used) == pytest.approx(16.0)


def test_bed_geometry() -> None:
    assert bed_kg(10.0, 20.0, 1.5) == pytest.approx(pi * 100 * 10 / 1000 * 1.5)
