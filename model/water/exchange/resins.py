"""Anion resins: what they prefer, what they hold, and how fast their beads take it up."""

from __future__ import annotations

from collections.abc import Mapping
from math import sqrt

import msgspec

from model.water.exchange.checks import all_within

IONS = ("HCO3", "Cl", "NO3", "SO4")
"""The four anions of well water that resin exchanges, in the order used throughout."""


class ResinData(msgspec.Struct, frozen=True, kw_only=True):
    """What is known of a resin.

    `bicarbonate`, `nitrate`: separation factors against chloride. `sulfate`: the same, or with `sulfate_divalent` the
    selectivity coefficient q_SO4 c_Cl^2 / (q_Cl^2 c_SO4) on equivalents per litre of bead and of water, so that its
    factor follows the total concentration. `capacity_eq_l`: total capacity [eq per L of bed]. `porosity`: water per
    volume of bed. `bead_radius_cm` [cm], `surface_diffusion_cm2_s` [cm2/s], `film_coefficient_cm_s` [cm/s].
    """

    name: str
    bicarbonate: float
    nitrate: float
    sulfate: float
    sulfate_divalent: bool
    capacity_eq_l: float
    porosity: float = 0.38
    bead_radius_cm: float = 0.0345
    surface_diffusion_cm2_s: float = 5e-8
    film_coefficient_cm_s: float = 2.2e-3
    source: str

    def factors(self) -> tuple[float, ...]:
        """Factors, and for a divalent sulfate its coefficient, in the order of the ions."""
        return (self.bicarbonate, 1.0, self.nitrate, self.sulfate)

    def valences(self) -> tuple[int, ...]:
        """2 for an ion whose factor is a divalent coefficient, otherwise 1."""
        return (1, 1, 1, 2 if self.sulfate_divalent else 1)


_EPA = (
    "selectivity, porosity, bead, film and diffusion: US EPA, Water_Treatment_Models (open repository), ion-exchange "
    "examples; total capacity from memory; owner's default"
)

STANDARD = ResinData(
    name="standard", bicarbonate=0.6, nitrate=5.0, sulfate=0.10, sulfate_divalent=True, capacity_eq_l=1.3, source=_EPA
)
NITRATE_SELECTIVE = ResinData(
    name="nitrate_selective",
    bicarbonate=0.37,
    nitrate=13.0,
    sulfate=0.028,
    sulfate_divalent=True,
    capacity_eq_l=0.9,
    source=_EPA,
)
STANDARD_TEXTBOOK = ResinData(
    name="standard_textbook",
    bicarbonate=0.27,
    nitrate=3.2,
    sulfate=9.1,
    sulfate_divalent=False,
    capacity_eq_l=1.3,
    source="Clifford, Water Quality and Treatment, 5th ed. 1999, at 0.005-0.010 eq/L, from memory; owner's default",
)

RESINS: Mapping[str, ResinData] = {one.name: one for one in (STANDARD, NITRATE_SELECTIVE, STANDARD_TEXTBOOK)}


def effective_factor_divalent(
    coefficient: float,
    total_capacity_eq_l: float,
    total_normality_eq_l: float,
    monovalent_preference: float,
    divalent_fraction: float,
) -> float:
    """Separation factor against the reference ion that a divalent coefficient comes to in a given water [-].

    a = k / D with k = K Q / C and D^2 = D sum(a_i x_i) + k x: `coefficient` K = q_d c^2 / (q^2 c_d) above 0, Q
    `total_capacity_eq_l` [eq per L of bead: that of the bed over 1 - porosity], C `total_normality_eq_l` [eq/L],
    `monovalent_preference` sum of factor x equivalent fraction over the monovalent ions, above 0,
    `divalent_fraction` x, 0-1. The factor falls as the water grows stronger: why strong brine takes sulfate off.
    Raises BadInput outside those ranges. Source: mass action with constant coefficients, as in the US EPA's open
    Water_Treatment_Models.
    """
    all_within("The selectivity coefficient", [coefficient], 1e-9, 1e9)
    all_within("The capacity [eq/L]", [total_capacity_eq_l], 1e-6, 1e3)
    all_within("The total concentration [eq/L]", [total_normality_eq_l], 1e-9, 1e3)
    all_within("The preference of the monovalent ions", [monovalent_preference], 1e-9, 1e9)
    all_within("A fraction", [divalent_fraction], 0.0, 1.0)
    strength = coefficient * total_capacity_eq_l / total_normality_eq_l
    root = sqrt(monovalent_preference**2 + 4.0 * strength * divalent_fraction)
    return 2.0 * strength / (monovalent_preference + root)
