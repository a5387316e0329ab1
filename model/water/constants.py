"""Equilibrium constants of the carbonate system against temperature, and activity coefficients.

Range of every temperature function: 0 to 50 [degC]. Sources named below:

* Plummer and Busenberg 1982: Geochimica et Cosmochimica Acta 46, 1011-1040.
* phreeqc.dat: the database of the USGS program PHREEQC 3.
"""

from __future__ import annotations

from functools import lru_cache
from math import exp, log, log10, sqrt

import msgspec

LN10 = log(10.0)
ZERO_C_IN_KELVIN = 273.15
GAS_KCAL_PER_MOL_K = 1.98720425e-3

CALCIUM_G_PER_MOL = 40.078
MAGNESIUM_G_PER_MOL = 24.305
SODIUM_G_PER_MOL = 22.990
POTASSIUM_G_PER_MOL = 39.098
CHLORIDE_G_PER_MOL = 35.45
SULFATE_G_PER_MOL = 96.056
NITROGEN_G_PER_MOL = 14.007
NITRATE_G_PER_MOL = 62.004
IRON_G_PER_MOL = 55.845
MANGANESE_G_PER_MOL = 54.938
CO2_G_PER_MOL = 44.009
CACO3_G_PER_MOL = 100.087
MGO_G_PER_MOL = 40.304
CACO3_MG_PER_MEQ = CACO3_G_PER_MOL / 2.0


def log_k1(temperature_c: float) -> float:
    """log10 K of CO2(aq) + H2O = H+ + HCO3- at `temperature_c` [degC].

    log K1 = -356.3094 - 0.06091964 T + 21834.37/T + 126.8339 log10 T - 1684915/T^2, T in [K]; -6.352 at 25 degC.
    Source: Plummer and Busenberg 1982.
    """
    t = temperature_c + ZERO_C_IN_KELVIN
    return -356.3094 - 0.06091964 * t + 21834.37 / t + 126.8339 * log10(t) - 1684915.0 / (t * t)


def log_k2(temperature_c: float) -> float:
    """log10 K of HCO3- = H+ + CO3-- at `temperature_c` [degC].

    log K2 = -107.8871 - 0.03252849 T + 5151.79/T + 38.92561 log10 T - 563713.9/T^2, T in [K]; -10.329 at 25 degC.
    Source: Plummer and Busenberg 1982.
    """
    t = temperature_c + ZERO_C_IN_KELVIN
    return -107.8871 - 0.03252849 * t + 5151.79 / t + 38.92561 * log10(t) - 563713.9 / (t * t)


def log_kw(temperature_c: float) -> float:
    """log10 K of H2O = H+ + OH- at `temperature_c` [degC].

    log Kw = 293.29227 + 0.1360833 T - 10576.913/T - 123.73158 log10 T - 6.996455e-5 T^2, T in [K]; -13.995 at 25 degC.
    Source: phreeqc.dat.
    """
    t = temperature_c + ZERO_C_IN_KELVIN
    return 293.29227 + 0.1360833 * t - 10576.913 / t - 123.73158 * log10(t) - 6.996455e-5 * t * t


def log_kh(temperature_c: float) -> float:
    """log10 of Henry's constant of CO2 [mol/(kg atm)] at `temperature_c` [degC].

    log KH = 108.3865 + 0.01985076 T - 6919.53/T - 40.45154 log10 T + 669365/T^2, T in [K]; -1.468 at 25 degC.
    Source: Plummer and Busenberg 1982.
    """
    t = temperature_c + ZERO_C_IN_KELVIN
    return 108.3865 + 0.01985076 * t - 6919.53 / t - 40.45154 * log10(t) + 669365.0 / (t * t)


def log_k_calcite(temperature_c: float) -> float:
    """log10 K of CaCO3(calcite) = Ca++ + CO3-- at `temperature_c` [degC].

    log KC = -171.9065 - 0.077993 T + 2839.319/T + 71.595 log10 T, T in [K]; -8.480 at 25 degC.
    Source: Plummer and Busenberg 1982.
    """
    t = temperature_c + ZERO_C_IN_KELVIN
    return -171.9065 - 0.077993 * t + 2839.319 / t + 71.595 * log10(t)


def log_k_calcium_bicarbonate(temperature_c: float) -> float:
    """log10 K of Ca++ + HCO3- = CaHCO3+ at `temperature_c` [degC].

    log K = 1209.120 + 0.31294 T - 34765.05/T - 478.782 log10 T, T in [K]; 1.11 at 25 degC.
    Source: Plummer and Busenberg 1982.
    """
    t = temperature_c + ZERO_C_IN_KELVIN
    return 1209.120 + 0.31294 * t - 34765.05 / t - 478.782 * log10(t)


def log_k_calcium_carbonate(temperature_c: float) -> float:
    """log10 K of Ca++ + CO3-- = CaCO3(aq) at `temperature_c` [degC].

    log K = -1228.732 - 0.299444 T + 35512.75/T + 485.818 log10 T, T in [K]; 3.22 at 25 degC.
    Source: Plummer and Busenberg 1982.
    """
    t = temperature_c + ZERO_C_IN_KELVIN
    return -1228.732 - 0.299444 * t + 35512.75 / t + 485.818 * log10(t)


def log_k_magnesium_bicarbonate(temperature_c: float) -> float:
    """log10 K of Mg++ + HCO3- = MgHCO3+ at `temperature_c` [degC].

    log K = -59.215 + 2537.455/T + 20.92298 log10 T, T in [K] (the database's reaction from CO3--, less that of HCO3-).
    Source: phreeqc.dat.
    """
    t = temperature_c + ZERO_C_IN_KELVIN
    return -59.215 + 2537.455 / t + 20.92298 * log10(t)


def log_k_magnesium_carbonate(temperature_c: float) -> float:
    """log10 K of Mg++ + CO3-- = MgCO3(aq) at `temperature_c` [degC]: 0.9910 + 0.00667 T, T in [K].

    Source: phreeqc.dat.
    """
    return 0.9910 + 0.00667 * (temperature_c + ZERO_C_IN_KELVIN)


def log_k_calcium_sulfate(temperature_c: float) -> float:
    """log10 K of Ca++ + SO4-- = CaSO4(aq) at `temperature_c` [degC]: 2.25 at 25 degC, enthalpy 1.325 kcal/mol.

    Source: phreeqc.dat.
    """
    return van_t_hoff(2.25, 1.325, temperature_c)


def log_k_magnesium_sulfate(temperature_c: float) -> float:
    """log10 K of Mg++ + SO4-- = MgSO4(aq) at `temperature_c` [degC]: 2.37 at 25 degC, enthalpy 4.550 kcal/mol.

    Source: phreeqc.dat.
    """
    return van_t_hoff(2.37, 4.550, temperature_c)


def log_k_magnesium_hydroxide(temperature_c: float) -> float:
    """log10 K of Mg++ + H2O = MgOH+ + H+ at `temperature_c` [degC]: -11.44 at 25 degC, enthalpy 15.952 kcal/mol.

    Source: phreeqc.dat.
    """
    return van_t_hoff(-11.44, 15.952, temperature_c)


def van_t_hoff(log_k_25: float, enthalpy_kcal_per_mol: float, temperature_c: float) -> float:
    """log10 K at `temperature_c` [degC] from that at 25 degC and a constant enthalpy of reaction [kcal/mol].

    log K = log K25 - dH / (R ln 10) (1/T - 1/298.15). Source: the van't Hoff equation, as in PHREEQC's databases.
    """
    t = temperature_c + ZERO_C_IN_KELVIN
    return log_k_25 - enthalpy_kcal_per_mol / (GAS_KCAL_PER_MOL_K * LN10) * (1.0 / t - 1.0 / 298.15)


def dielectric_constant(temperature_c: float) -> float:
    """Relative permittivity of water at `temperature_c` [degC]; 78.5 at 25 degC.

    2727.586 + 0.6224107 T - 466.9151 ln T - 52000.87/T, T in [K], up to 100 degC.
    Source: the WATEQ4F expression as used in the USGS program PHREEQC 2.
    """
    t = temperature_c + ZERO_C_IN_KELVIN
    return 2727.586 + 0.6224107 * t - 466.9151 * log(t) - 52000.87 / t


def debye_huckel_a(temperature_c: float) -> float:
    """A of the Debye-Huckel equation [(kg/mol)^0.5] at `temperature_c` [degC]; 0.51 at 25 degC.

    A = 1.82483e6 (e T)^-1.5, with the density of water taken as 1 (an error under 0.2 % up to 25 degC).
    Source: Truesdell and Jones 1974, J. Res. US Geol. Survey 2, 233-248.
    """
    t = temperature_c + ZERO_C_IN_KELVIN
    product = dielectric_constant(temperature_c) * t
    return 1.82483e6 / (product * sqrt(product))


def debye_huckel_b(temperature_c: float) -> float:
    """B of the Debye-Huckel equation [(kg/mol)^0.5 per angstrom] at `temperature_c` [degC]; 0.33 at 25 degC.

    B = 50.2916 (e T)^-0.5, with the density of water taken as 1. Source: Truesdell and Jones 1974.
    """
    t = temperature_c + ZERO_C_IN_KELVIN
    return 50.2916 / sqrt(dielectric_constant(temperature_c) * t)


def activity_coefficient(
    ionic_strength_mol_l: float, charge: int, size_angstrom: float, slope: float, temperature_c: float
) -> float:
    """Activity coefficient of an ion, extended Debye-Huckel.

    log g = -A z^2 sqrt(I) / (1 + B a sqrt(I)) + b I, with `ionic_strength_mol_l` I [mol/L], `charge` z,
    `size_angstrom` a and `slope` b [L/mol]. Used up to I = 0.1. Sizes and slopes in phreeqc.dat: H 9, 0; OH 3.5, 0;
    HCO3 and CO3 5.4, 0; Ca 5, 0.165; Mg 5.5, 0.2; SO4 5, -0.04; CaHCO3 6, 0; MgHCO3 4, 0; uncharged: log g = 0.1 I.
    Source: Truesdell and Jones 1974; sizes phreeqc.dat.
    """
    root = sqrt(ionic_strength_mol_l)
    a, b = debye_huckel_a(temperature_c), debye_huckel_b(temperature_c)
    return exp(LN10 * (slope * ionic_strength_mol_l - a * charge * charge * root / (1.0 + b * size_angstrom * root)))


class Constants(msgspec.Struct, frozen=True, gc=False):
    """All constants at one temperature: K [mol/L], Henry's constant `kh` [mol/(L atm)], Debye-Huckel `a_ln` (A x ln 10)
    and `b` per angstrom."""

    k1: float
    k2: float
    kw: float
    kh: float
    calcite: float
    ca_hco3: float
    ca_co3: float
    mg_hco3: float
    mg_co3: float
    ca_so4: float
    mg_so4: float
    mg_oh: float
    a_ln: float
    b: float


@lru_cache(maxsize=512)
def constants_at(temperature_c: float) -> Constants:
    """The constants at `temperature_c` [degC], 0 to 50."""
    t = temperature_c
    return Constants(
        k1=exp(LN10 * log_k1(t)),
        k2=exp(LN10 * log_k2(t)),
        kw=exp(LN10 * log_kw(t)),
        kh=exp(LN10 * log_kh(t)),
        calcite=exp(LN10 * log_k_calcite(t)),
        ca_hco3=exp(LN10 * log_k_calcium_bicarbonate(t)),
        ca_co3=exp(LN10 * log_k_calcium_carbonate(t)),
        mg_hco3=exp(LN10 * log_k_magnesium_bicarbonate(t)),
        mg_co3=exp(LN10 * log_k_magnesium_carbonate(t)),
        ca_so4=exp(LN10 * log_k_calcium_sulfate(t)),
        mg_so4=exp(LN10 * log_k_magnesium_sulfate(t)),
        mg_oh=exp(LN10 * log_k_magnesium_hydroxide(t)),
        a_ln=LN10 * debye_huckel_a(t),
        b=debye_huckel_b(t),
    )
