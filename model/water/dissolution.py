"""How fast calcite and magnesia dissolve, per area of grain, and how fast water carries it away from the grain.

Sources named below:

* PWP 1978: Plummer, Wigley and Parkhurst, American Journal of Science 278, 179-216, as in phreeqc.dat (USGS).
* Palandri and Kharaka 2004: USGS Open-File Report 2004-1068, as in phreeqc_rates.dat (USGS).
* Wilson and Geankoplis 1966: Ind. Eng. Chem. Fundamentals 5, 9-14.
"""

from __future__ import annotations

from functools import lru_cache
from math import cbrt, exp, log10, sqrt

from model.water.constants import LN10, ZERO_C_IN_KELVIN, Constants, activity_coefficient, van_t_hoff
from model.water.equilibrium import State, Totals

CALCIUM_DIFFUSION_25_CM2_S = 7.93e-6
"""Diffusion coefficient of Ca++ in water at 25 degC [cm2/s]: from memory, Li and Gregory 1974."""

MAGNESIA_ROUGHNESS = 100.0
"""True surface of a porous magnesia grain over that of a smooth ball: from memory; owner's default. In doubt by ten
times either way, as porosity and burning of the media differ; a measured pH after the tank settles it."""

LOWEST_REYNOLDS, HIGHEST_REYNOLDS = 0.0016, 1500.0
_MOST_STRENGTH = 0.5
_GAS_KJ_PER_MOL_K = 8.314462618e-3


@lru_cache(maxsize=64)
def calcite_rate_constants(temperature_c: float) -> tuple[float, float, float]:
    """k1, k2 [cm/s] and k3 [mmol/(cm2 s)] of calcite's dissolution at `temperature_c` [degC].

    k1 = 10^(0.198 - 444/T), k2 = 10^(2.84 - 2177/T), k3 = 10^(-5.86 - 317/T) to 25 degC and 10^(-1.10 - 1737/T)
    above, T in [K]. Range: 5 to 60 degC. Source: PWP 1978.
    """
    t = temperature_c + ZERO_C_IN_KELVIN
    k3 = -5.86 - 317.0 / t if temperature_c <= 25.0 else -1.10 - 1737.0 / t
    return _ten_to(0.198 - 444.0 / t), _ten_to(2.84 - 2177.0 / t), _ten_to(k3)


def calcite_rate_mmol_cm2_s(k: Constants, state: State, temperature_c: float) -> float:
    """Calcite dissolving [mmol/(cm2 s)] into the water `state` at `temperature_c` [degC]; negative where it would grow.

    (k1 a_H + k2 a_CO2 + k3) (1 - W^(2/3)), W the ratio of the activity product to the solubility, a_CO2 [mol/L] with
    the coefficient of an uncharged species. Range: 5 to 60 degC, up to 1 atm of CO2. Source: PWP 1978.
    """
    k1, k2, k3 = calcite_rate_constants(temperature_c)
    co2_activity = state.co2 * exp(0.1 * LN10 * min(state.ionic_strength, _MOST_STRENGTH))
    forward = k1 * state.hydrogen + k2 * co2_activity + k3
    return forward * (1.0 - cbrt(max(state.calcite_product, 0.0) / k.calcite) ** 2)


def log_k_brucite(temperature_c: float) -> float:
    """log10 K of Mg(OH)2 + 2 H+ = Mg++ + 2 H2O at `temperature_c` [degC]: 16.84 at 25 degC, enthalpy -27.1 kcal/mol.

    Source: wateq4f.dat (USGS).
    """
    return van_t_hoff(16.84, -27.1, temperature_c)


def brucite_saturation_index(totals: Totals, state: State, temperature_c: float) -> float:
    """Saturation index of magnesium hydroxide: log10 of a_Mg / a_H^2, less log K; very low without magnesium.

    Below 0 the hydrated surface of magnesia dissolves. Source: `log_k_brucite`.
    """
    free = totals.magnesium * state.warm[1]
    gamma = activity_coefficient(min(state.ionic_strength, _MOST_STRENGTH), 2, 5.5, 0.2, temperature_c)
    return log10(max(free * gamma, 1e-20)) + 2.0 * state.pH - log_k_brucite(temperature_c)


@lru_cache(maxsize=64)
def magnesia_rate_constants(temperature_c: float) -> tuple[float, float]:
    """Rate constants of brucite in acid and in neutral water [mmol/(cm2 s)] at `temperature_c` [degC].

    At 25 degC 10^-4.73 and 10^-8.24 mol/(m2 s), activation energies 59 and 42 kJ/mol. Hydrated magnesia is taken as
    brucite. Source: Palandri and Kharaka 2004, table 32.
    """
    warmer = 1.0 / 298.15 - 1.0 / (temperature_c + ZERO_C_IN_KELVIN)
    acid = 10.0**-4.73 * exp(59.0 / _GAS_KJ_PER_MOL_K * warmer)
    return 0.1 * acid, 0.1 * 10.0**-8.24 * exp(42.0 / _GAS_KJ_PER_MOL_K * warmer)


def magnesia_rate_mmol_cm2_s(totals: Totals, state: State, temperature_c: float) -> float:
    """Magnesia dissolving [mmol/(cm2 s)] per true surface, at `temperature_c` [degC]; negative where it would grow.

    (k_acid a_H^0.5 + k_neutral) (1 - W), W the saturation ratio of brucite: it does not stop where calcite does.
    Source: Palandri and Kharaka 2004; that hydrated grains follow it is in doubt (see MAGNESIA_ROUGHNESS).
    """
    acid, neutral = magnesia_rate_constants(temperature_c)
    saturation = _ten_to(min(brucite_saturation_index(totals, state, temperature_c), 6.0))
    return (acid * sqrt(state.hydrogen) + neutral) * (1.0 - saturation)


def kinematic_viscosity_cm2_s(temperature_c: float) -> float:
    """Kinematic viscosity of water [cm2/s] at `temperature_c` [degC], density taken as 1: 0.0131 at 10 degC.

    2.414e-4 x 10^(247.8 / (T - 140)), T in [K]. Range: 0 to 50 degC, within 2.5 %. Source: from memory.
    """
    return 2.414e-4 * _ten_to(247.8 / (temperature_c + ZERO_C_IN_KELVIN - 140.0))


def calcium_diffusion_cm2_s(temperature_c: float) -> float:
    """Diffusion coefficient of Ca++ [cm2/s] at `temperature_c` [degC], by absolute temperature over viscosity.

    Source: Stokes-Einstein; the value at 25 degC is from memory (Li and Gregory 1974).
    """
    ratio = kinematic_viscosity_cm2_s(25.0) / kinematic_viscosity_cm2_s(temperature_c)
    return CALCIUM_DIFFUSION_25_CM2_S * ratio * (temperature_c + ZERO_C_IN_KELVIN) / 298.15


def reynolds(velocity_cm_s: float, grain_cm: float, temperature_c: float) -> float:
    """Reynolds number of a bed: velocity through the empty tank [cm/s] x grain [cm] over kinematic viscosity.

    Source: Wilson and Geankoplis 1966.
    """
    return velocity_cm_s * grain_cm / kinematic_viscosity_cm2_s(temperature_c)


def film_cm_s(velocity_cm_s: float, grain_cm: float, porosity: float, temperature_c: float) -> float:
    """Mass transfer coefficient between grains and water [cm/s] at a velocity through the empty tank [cm/s].

    j = 1.09/e Re^(-2/3) to Re 55, 0.250/e Re^(-0.31) above (here the larger of the two, which meet at 62), e porosity;
    film = j x velocity x Sc^(-2/3). Range: Re 0.0016 to 1500; held at the end of the range outside it.
    Source: Wilson and Geankoplis 1966 (from memory).
    """
    re = min(max(reynolds(velocity_cm_s, grain_cm, temperature_c), LOWEST_REYNOLDS), HIGHEST_REYNOLDS)
    j: float = max(1.09 * re ** (-2.0 / 3.0), 0.250 * re**-0.31)
    schmidt = kinematic_viscosity_cm2_s(temperature_c) / calcium_diffusion_cm2_s(temperature_c)
    return j / porosity * velocity_cm_s / cbrt(schmidt * schmidt)


def _ten_to(exponent: float) -> float:
    return exp(LN10 * exponent)
