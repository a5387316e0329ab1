"""Carbonate chemistry against published constants and worked examples."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from model.water import constants
from model.water.carbonate import aerated_ph, ph_of, speciate, with_total_carbon
from model.water.media import calcite_limit_mmol_l
from model.water.sample import Sample
from tests.published.plain import plain

PB = "Plummer and Busenberg 1982, 25 degC"


@pytest.mark.parametrize(
    ("log_k", "expected", "tolerance"),
    [
        pytest.param(constants.log_k_calcite, -8.480, 0.001, id=f"{PB}: calcite"),
        pytest.param(constants.log_kh, -1.468, 0.001, id=f"{PB}: Henry's constant"),
        pytest.param(constants.log_k1, -6.352, 0.001, id=f"{PB}: K1"),
        pytest.param(constants.log_k2, -10.329, 0.001, id=f"{PB}: K2"),
        pytest.param(constants.log_k_calcium_bicarbonate, 1.11, 0.01, id=f"{PB}: CaHCO3+"),
        pytest.param(constants.log_k_calcium_carbonate, 3.22, 0.01, id=f"{PB}: CaCO3(aq)"),
        pytest.param(constants.log_kw, -13.995, 0.001, id="regression: Kw of phreeqc.dat, 25 degC"),
        pytest.param(
            constants.log_k_magnesium_bicarbonate, 1.07, 0.01, id="phreeqc.dat log_k 11.399 - 10.329: MgHCO3+"
        ),
        pytest.param(constants.log_k_magnesium_carbonate, 2.98, 0.01, id="phreeqc.dat log_k: MgCO3(aq)"),
        pytest.param(constants.dielectric_constant, 78.4, 0.2, id="from memory: permittivity of water 78.4, 25 degC"),
        pytest.param(constants.debye_huckel_a, 0.509, 0.0015, id="from memory: Debye-Huckel A 0.509, 25 degC"),
        pytest.param(constants.debye_huckel_b, 0.328, 0.0015, id="from memory: Debye-Huckel B 0.328, 25 degC"),
    ],
)
def test_constant_at_25_degrees(log_k: Callable[[float], float], expected: float, tolerance: float) -> None:
    assert log_k(25.0) == pytest.approx(expected, abs=tolerance)


@pytest.mark.parametrize(
    ("celsius", "kh", "k1", "k2", "kc", "cah", "cac", "kw"),
    [
        pytest.param(*row, id=f"regression, published equations at {row[0]} degC")
        for row in [
            (0, -1.108, -6.579, -10.629, -8.381, 0.820, 3.134, -14.938),
            (5, -1.192, -6.516, -10.554, -8.394, 0.901, 3.127, -14.730),
            (10, -1.269, -6.463, -10.488, -8.410, 0.968, 3.134, -14.531),
            (15, -1.341, -6.419, -10.428, -8.430, 1.023, 3.154, -14.343),
            (20, -1.407, -6.382, -10.376, -8.453, 1.069, 3.185, -14.165),
        ]
    ],
)
def test_constants_against_temperature(
    celsius: float, kh: float, k1: float, k2: float, kc: float, cah: float, cac: float, kw: float
) -> None:
    c = constants
    functions = (
        c.log_kh, c.log_k1, c.log_k2, c.log_k_calcite, c.log_k_calcium_bicarbonate, c.log_k_calcium_carbonate, c.log_kw
    )  # fmt: skip

    assert [f(celsius) for f in functions] == pytest.approx([kh, k1, k2, kc, cah, cac, kw], abs=0.0011)


@pytest.mark.parametrize(
    ("celsius", "pk1"),
    [
        pytest.param(celsius, pk1, id=f"common practice, no source: pK1 at {celsius} degC")
        for celsius, pk1 in [(0, 6.58), (5, 6.52), (10, 6.47), (15, 6.42), (20, 6.38), (25, 6.35), (30, 6.33)]
    ],
)
def test_rounded_pk1(celsius: float, pk1: float) -> None:
    assert -constants.log_k1(celsius) == pytest.approx(pk1, abs=0.01)


@pytest.mark.parametrize(
    ("charge", "size", "slope", "log_gamma"),
    [
        pytest.param(1, 5.4, 0.0, -0.032, id="USGS PHREEQC example 3A: HCO3-"),
        pytest.param(2, 5.0, 0.165, -0.126, id="USGS PHREEQC example 3A: Ca++"),
        pytest.param(2, 5.4, 0.0, -0.126, id="USGS PHREEQC example 3A: CO3--"),
        pytest.param(1, 9.0, 0.0, -0.029, id="USGS PHREEQC example 3A: H+"),
    ],
)
def test_activity_coefficients(charge: int, size: float, slope: float, log_gamma: float) -> None:
    gamma = constants.activity_coefficient(4.826e-3, charge, size, slope, 25.0)

    assert gamma == pytest.approx(10.0**log_gamma, rel=0.005)


USGS_3A = plain(pH=7.297, temperature_c=25.0, alkalinity_mg_l_caco3=3.291 * 50.0435, calcium_mg_l=1.646 * 40.078)


@pytest.mark.parametrize(
    ("field", "expected", "share"),
    [
        pytest.param("total_carbon_mmol_l", 3.622, 0.005, id="USGS PHREEQC example 3A: total carbon"),
        pytest.param("co2_mg_l", 0.340 * 44.009, 0.01, id="USGS PHREEQC example 3A: CO2"),
        pytest.param("bicarbonate_mmol_l", 3.224, 0.005, id="USGS PHREEQC example 3A: HCO3-"),
        pytest.param("carbonate_mmol_l", 0.00372, 0.01, id="USGS PHREEQC example 3A: CO3--"),
        pytest.param("ionic_strength", 4.826e-3, 0.005, id="USGS PHREEQC example 3A: ionic strength"),
    ],
)
def test_usgs_3a_species(field: str, expected: float, share: float) -> None:
    assert getattr(speciate(USGS_3A), field) == pytest.approx(expected, rel=share)


def test_usgs_3a_is_saturated_with_calcite() -> None:
    assert speciate(USGS_3A).calcite_saturation_index == pytest.approx(0.0, abs=0.005)


def test_usgs_3a_pH_in_equilibrium_with_its_gas() -> None:
    assert aerated_ph(USGS_3A, co2_ppm=1e4) == pytest.approx(7.297, abs=0.005)


def test_usgs_3a_calcite_dissolved_from_water_with_its_carbon_dioxide() -> None:
    # The same end reached another way: 1.976 mmol of CO2 in pure water, closed, then calcite to saturation.
    charged = with_total_carbon(plain(pH=5.0, temperature_c=25.0, alkalinity_mg_l_caco3=0.0), 1.976)

    assert calcite_limit_mmol_l(charged) == pytest.approx(1.646, rel=0.005)


def test_vitens_calcium_chloride_and_soda() -> None:
    """1 mmol/L each of CaCl2 and Na2CO3, 25 degC: pH 10.41, SI 1.71, I 0.0045. Source: Vitens phreeqpython tests."""
    salts = plain(
        pH=10.0,
        temperature_c=25.0,
        alkalinity_mg_l_caco3=100.087,
        calcium_mg_l=40.078,
        sodium_mg_l=2 * 22.990,
        chloride_mg_l=2 * 35.45,
    )
    water = with_total_carbon(salts, 1.0)

    assert water.pH == pytest.approx(10.41, abs=0.05)
    assert speciate(water).calcite_saturation_index == pytest.approx(1.71, abs=0.05)
    assert speciate(water).ionic_strength == pytest.approx(0.0045, abs=0.0001)


def test_aeration_homework() -> None:
    """1 meq/L, air of 3.16e-4 atm: pH 8.3, 0.99 mmol/L of carbon. Source: U. Maryland ENCE 433 (1996), homework 4."""
    water = plain(pH=6.3, temperature_c=25.0, alkalinity_mg_l_caco3=50.0435, sodium_mg_l=22.990)
    pH = aerated_ph(water, co2_ppm=316.0)

    assert pH == pytest.approx(8.3, abs=0.05)
    aired = Sample(pH=pH, temperature_c=25.0, alkalinity_mg_l_caco3=50.0435, calcium_mg_l=0.0, magnesium_mg_l=0.0,
                   sodium_mg_l=22.990)  # fmt: skip
    assert speciate(aired).total_carbon_mmol_l == pytest.approx(0.99, rel=0.02)


@pytest.mark.parametrize(
    ("celsius", "alkalinity_mg_l_caco3", "pH"),
    [
        pytest.param(celsius, alkalinity, pH, id=f"regression, no activities: {alkalinity} mg/L at {celsius} degC")
        for celsius, row in [(25, (7.80, 8.19, 8.48, 8.65, 8.77)), (10, (7.71, 8.11, 8.40, 8.58, 8.70))]
        for alkalinity, pH in zip((20, 50, 100, 150, 200), row, strict=True)
    ],
)
def test_aerated_pH_at_420_ppm(celsius: float, alkalinity_mg_l_caco3: float, pH: float) -> None:
    # Activities take up to 0.04 off at these ionic strengths.
    water = plain(
        temperature_c=celsius,
        alkalinity_mg_l_caco3=alkalinity_mg_l_caco3,
        sodium_mg_l=alkalinity_mg_l_caco3 / 50.0435 * 22.990,
    )

    assert aerated_ph(water) == pytest.approx(pH, abs=0.045)


@pytest.mark.parametrize(
    ("co2_ppm", "pH"),
    [
        pytest.param(420.0, 5.60, id="regression: pure water, 420 ppm"),
        pytest.param(316.0, 5.66, id="regression: pure water, 316 ppm"),
    ],
)
def test_pure_water_in_air(co2_ppm: float, pH: float) -> None:
    assert aerated_ph(plain(temperature_c=25.0, alkalinity_mg_l_caco3=0.0), co2_ppm) == pytest.approx(pH, abs=0.01)


def test_alkalinity_is_all_bicarbonate_and_all_carbon_dioxide_at_its_end_points() -> None:
    """All HCO3- near pH 8.3 and all CO2 near pH 4.4: common practice, no source (2 mmol/L of carbon, 25 degC)."""
    assert ph_of(2.0, 2.0, 25.0, 0.002) == pytest.approx(8.3, abs=0.1)
    assert ph_of(0.0, 2.0, 25.0, 0.0) == pytest.approx(4.5, abs=0.1)
