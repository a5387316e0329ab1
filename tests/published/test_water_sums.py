"""Hardness, dissolved solids, charge balance and nitrate units against published numbers."""

from __future__ import annotations

import pytest

from model.water.balance import charge_balance_error_percent, hardness_mg_l_caco3, hardness_of, tds_mg_l
from model.water.limits import nitrate_mg_l_n
from tests.published.plain import plain


@pytest.mark.parametrize(
    ("calcium", "magnesium", "hardness", "tolerance"),
    [
        pytest.param(72.0, 26.0, 286.5, 1.0, id="common practice, no source: Ca 72, Mg 26"),
        pytest.param(131.6, 0.0, 329.0, 1.6, id="common practice, no source: Ca 131.6"),
        pytest.param(119.0, 0.0, 298.0, 1.5, id="common practice, no source: Ca 119"),
        pytest.param(40.078, 0.0, 100.09, 0.1, id="common practice, no source: 1 mmol/L"),
        pytest.param(51.0, 0.0, 127.4, 0.1, id="Spellman: Ca 51, printed with a wrong divisor and corrected"),
    ],
)
def test_hardness(calcium: float, magnesium: float, hardness: float, tolerance: float) -> None:
    sample = plain(alkalinity_mg_l_caco3=50.0, calcium_mg_l=calcium, magnesium_mg_l=magnesium)

    assert hardness_mg_l_caco3(sample) == pytest.approx(hardness, abs=tolerance)
    assert hardness_of(calcium, magnesium) == hardness_mg_l_caco3(sample)


def test_seawater_balances() -> None:
    """Charge balance error +0.07 %. Source: USGS PHREEQC example 3, part B."""
    seawater = plain(
        pH=8.22,
        alkalinity_mg_l_caco3=141.682 / 61.017 * 50.0435,
        calcium_mg_l=412.3,
        magnesium_mg_l=1291.8,
        sodium_mg_l=10768.0,
        potassium_mg_l=399.1,
        chloride_mg_l=19353.0,
        sulfate_mg_l=2712.0,
    )

    assert charge_balance_error_percent(seawater) == pytest.approx(0.07, abs=0.05)


def test_charge_balance_error_has_the_sign_of_the_surplus() -> None:
    """100 (3 - 1) / (3 + 1) = 50 %. Source: the formula, Colorado DRMS doc 1066351."""
    sample = plain(alkalinity_mg_l_caco3=50.0435, sodium_mg_l=3 * 22.990)

    assert charge_balance_error_percent(sample) == pytest.approx(50.0)


def test_calculated_dissolved_solids() -> None:
    """Ca 66.0 and alkalinity 164.7: 164.8 mg/L. Source: USGS PHREEQC example 3A by the Colorado DRMS formula."""
    assert tds_mg_l(plain(alkalinity_mg_l_caco3=164.7, calcium_mg_l=66.0)) == pytest.approx(164.8, abs=0.1)


@pytest.mark.parametrize(
    ("value", "basis", "expected", "tolerance"),
    [
        pytest.param(10.0, "N", 10.0, 0.0, id="as it is"),
        pytest.param(44.3, "NO3", 10.0, 0.03, id="common practice, no source: 44.3 as NO3"),
        pytest.param(35.7, "CaCO3", 10.0, 0.03, id="common practice, no source: 35.7 as CaCO3"),
        pytest.param(50.0, "NO3", 11.3, 0.05, id="WHO, by the WQA fact sheet: 50 as NO3"),
    ],
)
def test_nitrate_units(value: float, basis: str, expected: float, tolerance: float) -> None:
    assert nitrate_mg_l_n(value, basis) == pytest.approx(expected, abs=tolerance)
