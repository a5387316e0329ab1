"""Free carbon dioxide against the factors of Tucker (1984) and the USGS equation.

Both leave out activity coefficients and what H+ and OH- do to alkalinity, so they are compared as CO2 per bicarbonate
in a water dilute enough for that to be small. Three cells of a widely copied page are misprinted and corrected here:
0.064 at pH 7.6 and 10 degC, 0.046 at pH 7.8 and 5 degC, and the row of pH 8.4. At 35 degC, beyond any
well, the factors imply a K1 about 2.5 % below that of Plummer and Busenberg.
"""

from __future__ import annotations

import pytest

from model.water.carbonate import speciate
from tests.published.plain import plain

CELSIUS = (5, 10, 15, 20, 25, 30, 35)
FACTORS = {
    6.0: (2.915, 2.539, 2.315, 2.112, 1.970, 1.882, 1.839),
    6.2: (1.839, 1.602, 1.460, 1.333, 1.244, 1.187, 1.160),
    6.4: (1.160, 1.010, 0.921, 0.841, 0.784, 0.749, 0.732),
    6.6: (0.732, 0.637, 0.582, 0.531, 0.495, 0.473, 0.462),
    6.8: (0.462, 0.402, 0.367, 0.335, 0.313, 0.298, 0.291),
    7.0: (0.291, 0.254, 0.232, 0.211, 0.197, 0.188, 0.184),
    7.2: (0.184, 0.160, 0.146, 0.133, 0.124, 0.119, 0.116),
    7.4: (0.116, 0.101, 0.092, 0.084, 0.078, 0.075, 0.073),
    7.6: (0.073, 0.064, 0.058, 0.053, 0.050, 0.047, 0.046),
    7.8: (0.046, 0.040, 0.037, 0.034, 0.031, 0.030, 0.030),
    8.0: (0.029, 0.025, 0.023, 0.021, 0.020, 0.019, 0.018),
    8.2: (0.018, 0.016, 0.015, 0.013, 0.012, 0.012, 0.011),
    8.4: (0.012, 0.010, 0.009, 0.008, 0.008, 0.008, 0.007),
}


def co2_per_bicarbonate(pH: float, celsius: float) -> float:
    """CO2 [mg/L] per mg/L of bicarbonate alkalinity as CaCO3, in a water of 1 mg/L."""
    found = speciate(plain(pH=pH, temperature_c=celsius, alkalinity_mg_l_caco3=1.0, sodium_mg_l=0.46))
    return found.co2_mg_l / (found.bicarbonate_mmol_l * 50.0435)


@pytest.mark.parametrize(
    ("pH", "celsius", "factor"),
    [
        pytest.param(pH, celsius, factor, id=f"Tucker 1984, pH {pH}, {celsius} degC")
        for pH, row in FACTORS.items()
        for celsius, factor in zip(CELSIUS, row, strict=True)
    ],
)
def test_tucker_factor(pH: float, celsius: float, factor: float) -> None:
    relative, absolute = (0.02, 0.001) if celsius <= 30 else (0.03, 0.0018)

    assert co2_per_bicarbonate(pH, celsius) == pytest.approx(factor, rel=relative, abs=absolute)


def test_carbon_dioxide_of_a_common_water() -> None:
    """50 mg/L, pH 6.8, 25 degC: 15.65 mg/L (Tucker 1984), less about 3.5 % for activities at I = 0.001."""
    found = speciate(plain(pH=6.8, temperature_c=25.0, alkalinity_mg_l_caco3=50.0, sodium_mg_l=22.97))

    assert found.co2_mg_l == pytest.approx(15.65 * 0.965, rel=0.01)
    assert found.co2_mg_l == pytest.approx(15.65, rel=0.05)


@pytest.mark.parametrize(
    "pH", [pytest.param(pH, id=f"USGS TWRI 5-A1 (Skougstad 1979), pH {pH}") for pH in (6.0, 7.0, 8.0)]
)
def test_usgs_equation(pH: float) -> None:
    # CO2 = 1.60 x 10^(6 - pH) x HCO3, in mg/L and mg/L as HCO3; the equation stands for 25 degC.
    expected = 1.60 * 10.0 ** (6.0 - pH) * 61.017 / 50.0435

    assert co2_per_bicarbonate(pH, 25.0) == pytest.approx(expected, rel=0.02)
