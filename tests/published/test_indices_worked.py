"""Indices against printed tables and worked examples; the id is the source."""

from __future__ import annotations

import pytest
from phreeqpython import PhreeqPython

from model.water.carbonate import speciate
from model.water.indices import (
    ccpp_mg_l_caco3,
    langelier_a,
    langelier_b,
    langelier_index,
    saturation_ph,
    saturation_ph_by_formula,
    solved,
    warmed,
)
from model.water.sample import Sample
from tests.published.plain import plain


@pytest.mark.parametrize(
    ("solids", "b"),
    [
        pytest.param(solids, b, id=f"TM 5-813-3 table 2-5: {solids} mg/L")
        for solids, b in [(0, 9.70), (100, 9.77), (200, 9.83), (400, 9.86), (800, 9.89), (1000, 9.90)]
    ],
)
def test_langelier_b(solids: float, b: float) -> None:
    assert langelier_b(solids) == pytest.approx(b, abs=1e-9)


@pytest.mark.parametrize(
    ("fahrenheit", "a"),
    [
        pytest.param(f, a, id=f"UFC 3-240-13FN table B-2: {f} degF")
        for f, a in [
            (32, 2.60), (34, 2.57), (36, 2.54), (38, 2.51), (40, 2.48), (42, 2.45), (44, 2.43), (46, 2.40), (48, 2.37),
            (50, 2.34), (52, 2.31), (54, 2.28), (56, 2.25), (58, 2.22), (60, 2.20), (62, 2.17), (66, 2.11), (70, 2.06),
            (76, 2.00), (86, 1.88), (96, 1.78), (106, 1.69), (120, 1.57), (134, 1.44), (150, 1.32), (164, 1.23),
            (170, 1.19),
        ]
    ],
)  # fmt: skip
def test_langelier_a(fahrenheit: float, a: float) -> None:
    assert langelier_a((fahrenheit - 32.0) / 1.8) == pytest.approx(a, abs=0.016)


@pytest.mark.parametrize(
    ("celsius", "a"),
    [
        pytest.param(celsius, a, id=f"Standard Methods, from memory: {celsius} degC")
        for celsius, a in [(0, 2.60), (4, 2.50), (8, 2.40), (12, 2.30), (16, 2.20), (20, 2.10)]
    ],
)
def test_langelier_a_by_the_older_table(celsius: float, a: float) -> None:
    assert langelier_a(celsius) == pytest.approx(a, abs=0.02)


def test_saturation_pH_of_a_cooling_tower() -> None:
    """120 degF, TDS 1000, calcium 500, alkalinity 100 as CaCO3: pHs 6.77, at pH 8.2 an index of +1.43.

    Source: UFC 3-240-13FN (2005), examples B-1 and B-2.
    """
    found = saturation_ph((120 - 32) / 1.8, 1000.0, 500.0, 100.0)

    assert found == pytest.approx(6.77, abs=0.005)
    assert 8.2 - found == pytest.approx(1.43, abs=0.005)


@pytest.mark.parametrize(
    ("celsius", "saturation", "index"),
    [
        pytest.param(25.0, 8.2, -0.7, id="from memory: pH 7.5, TDS 320, Ca 150, alkalinity 34, 25 degC"),
        pytest.param(82.0, 7.2, 0.3, id="from memory: pH 7.5, TDS 320, Ca 150, alkalinity 34, 82 degC"),
    ],
)
def test_saturation_pH_by_formula(celsius: float, saturation: float, index: float) -> None:
    found = saturation_ph_by_formula(celsius, 320.0, 150.0, 34.0)

    assert found == pytest.approx(saturation, abs=0.05)
    assert 7.5 - found == pytest.approx(index, abs=0.05)


def test_sign_of_the_index() -> None:
    """Above 0 forms scale, below 0 dissolves it: TM 5-813-3."""
    hard = plain(pH=8.5, temperature_c=25.0, alkalinity_mg_l_caco3=150.0, calcium_mg_l=60.0)
    soft = plain(pH=7.0, temperature_c=25.0, alkalinity_mg_l_caco3=20.0, calcium_mg_l=8.0)

    assert langelier_index(hard) > 0.0 > langelier_index(soft)
    assert ccpp_mg_l_caco3(hard) > 0.0 > ccpp_mg_l_caco3(soft)


USGS_3A = plain(pH=7.297, temperature_c=25.0, alkalinity_mg_l_caco3=3.291 * 50.0435, calcium_mg_l=1.646 * 40.078)


def test_usgs_3a_has_no_precipitation_potential() -> None:
    """Saturated by construction: USGS PHREEQC example 3A."""
    assert ccpp_mg_l_caco3(USGS_3A) == pytest.approx(0.0, abs=0.7)


PH, ALKALINITY, CO2, CARBON = (
    {"pH": 7.297},
    {"alkalinity_mg_l_caco3": 164.7},
    {"co2_mg_l": 0.340 * 44.009},
    {"total_carbon_mmol_l": 3.622},
)


@pytest.mark.parametrize(
    "known",
    [
        pytest.param(PH | CARBON, id="USGS PHREEQC example 3A: pH and carbon"),
        pytest.param(PH | CO2, id="USGS PHREEQC example 3A: pH and CO2"),
        pytest.param(CO2 | CARBON, id="USGS PHREEQC example 3A: CO2 and carbon"),
        pytest.param(ALKALINITY | CO2, id="USGS PHREEQC example 3A: alkalinity and CO2"),
        pytest.param(ALKALINITY | CARBON, id="USGS PHREEQC example 3A: alkalinity and carbon"),
    ],
)
def test_usgs_3a_from_any_two(known: dict[str, float]) -> None:
    found = solved(USGS_3A, **known)

    assert found.pH == pytest.approx(7.297, abs=0.01)
    assert found.alkalinity_mg_l_caco3 == pytest.approx(164.7, rel=0.01)


HARD = plain(
    pH=8.2, temperature_c=12.0, alkalinity_mg_l_caco3=200.0, calcium_mg_l=90.0, magnesium_mg_l=10.0, chloride_mg_l=47.0
)
SOFT = plain(
    pH=6.8, temperature_c=9.0, alkalinity_mg_l_caco3=45.0, calcium_mg_l=15.0, magnesium_mg_l=3.0, chloride_mg_l=4.0
)


@pytest.mark.parametrize("sample", [HARD, SOFT], ids=["PHREEQC: scale-forming", "PHREEQC: dissolving"])
def test_precipitation_potential_and_warming_by_phreeqc(sample: Sample) -> None:
    engine = PhreeqPython(database="phreeqc.dat")
    asked = {
        "units": "mg/l",
        "temp": sample.temperature_c,
        "pH": sample.pH,
        "Alkalinity": f"{sample.alkalinity_mg_l_caco3} as CaCO3",
        "Ca": sample.calcium_mg_l,
        "Mg": sample.magnesium_mg_l,
        "Cl": sample.chloride_mg_l,
    }
    solution = engine.add_solution(asked)
    before = solution.total_element("Ca")
    solution.equalize(["Calcite"], [0.0], [10.0])
    assert ccpp_mg_l_caco3(sample) == pytest.approx(
        100.087 * (before - solution.total_element("Ca")), rel=0.02, abs=0.3
    )

    bottle = engine.add_solution(asked)
    bottle.change_temperature(45.0)
    assert warmed(sample, 45.0).pH == pytest.approx(bottle.pH, abs=0.02)
    assert speciate(warmed(sample, 45.0)).calcite_saturation_index == pytest.approx(bottle.si("Calcite"), abs=0.03)
