"""What it takes to bring an acid water up: pH 6.0, alkalinity 20 mg/L as CaCO3, 10 degC.

Expected numbers come from the CO2 factors of Tucker (1984) and stoichiometry, without activity coefficients: a few
percent of tolerance. Raw CO2 50.8 mg/L.
"""

from __future__ import annotations

import pytest

from model.water.carbonate import dissolve, speciate
from model.water.media import dose_for_ph, neutralize
from tests.published.plain import plain

RAW = plain(
    pH=6.0,
    temperature_c=10.0,
    alkalinity_mg_l_caco3=20.0,
    calcium_mg_l=4.0,
    magnesium_mg_l=1.2,
    sodium_mg_l=6.0,
    chloride_mg_l=5.0,
)
LITRES_PER_1000_GAL = 3785.4


def test_raw_carbon_dioxide() -> None:
    assert speciate(RAW).co2_mg_l == pytest.approx(50.8, rel=0.04)


@pytest.mark.parametrize(
    ("pH", "calcite_mg_l", "alkalinity", "grams_per_1000_gal"),
    [
        pytest.param(7.0, 65.9, 85.9, 249.0, id="Tucker 1984 and stoichiometry: calcite to pH 7.0"),
        pytest.param(7.2, 79.3, 99.3, 300.0, id="Tucker 1984 and stoichiometry: calcite to pH 7.2"),
        pytest.param(7.4, 90.2, 110.2, 341.0, id="Tucker 1984 and stoichiometry: calcite to pH 7.4"),
    ],
)
def test_calcite(pH: float, calcite_mg_l: float, alkalinity: float, grams_per_1000_gal: float) -> None:
    done = neutralize(RAW, 0.0, 0.2, 0.8, pH)

    assert done.calcite_g_per_m3 == pytest.approx(calcite_mg_l, rel=0.03)
    assert done.sample.alkalinity_mg_l_caco3 == pytest.approx(alkalinity, rel=0.03)
    assert done.calcite_g_per_m3 * LITRES_PER_1000_GAL * 1e-3 == pytest.approx(grams_per_1000_gal, rel=0.04)


@pytest.mark.parametrize(
    ("pH", "magnesia_mg_l", "alkalinity"),
    [
        pytest.param(7.0, 16.2, 60.3, id="Tucker 1984 and stoichiometry: magnesia to pH 7.0"),
        pytest.param(7.4, 20.0, 69.7, id="Tucker 1984 and stoichiometry: magnesia to pH 7.4"),
    ],
)
def test_magnesia(pH: float, magnesia_mg_l: float, alkalinity: float) -> None:
    done = neutralize(RAW, 1.0, 0.2, 0.8, pH)

    assert done.magnesia_g_per_m3 == pytest.approx(magnesia_mg_l, rel=0.03)
    assert done.sample.alkalinity_mg_l_caco3 == pytest.approx(alkalinity, rel=0.03)


def test_all_the_carbon_dioxide_bounds_the_calcite() -> None:
    """115 mg/L of calcite use up 50.8 mg/L of CO2 (2.274 mg per mg): what stays below is all that pH 8 can take."""
    caco3, _ = dose_for_ph(RAW, 8.0, 0.0)

    assert 100.0 < caco3 * 100.087 < 115.0


@pytest.mark.parametrize(("pH", "factor"), [(7.0, 0.254), (7.2, 0.160), (7.4, 0.101)])
def test_what_is_left_of_carbon_dioxide_agrees_with_the_factor_at_the_new_pH(pH: float, factor: float) -> None:
    done = neutralize(RAW, 0.0, 0.0, 0.8, pH).sample

    # Activities and pairs at I = 0.002 take about 5 % off.
    assert speciate(done).co2_mg_l == pytest.approx(factor * done.alkalinity_mg_l_caco3, rel=0.08)
    assert speciate(done).co2_mg_l < factor * done.alkalinity_mg_l_caco3


def test_calcite_uses_its_weight_of_carbon_dioxide_and_magnesia_twice_as_much() -> None:
    """2.274 mg of CaCO3 and 0.458 mg of MgO per mg of CO2: atomic weights."""
    raw, calcite, magnesia = (speciate(w).co2_mg_l for w in (RAW, dissolve(RAW, 0.2, 0), dissolve(RAW, 0, 0.2)))

    assert 0.2 * 100.087 / (raw - calcite) == pytest.approx(2.274, rel=0.01)
    assert 0.2 * 40.304 / (raw - magnesia) == pytest.approx(0.458, rel=0.01)
