"""How fast ions cross the film of water around a bead, by correlation."""

from __future__ import annotations

from math import cbrt, sqrt

from model.water.exchange.checks import all_within

NITRATE_DIFFUSION_CM2_S = 1.3e-5
"""Diffusion of nitrate in water at about 11 degC [cm2/s]: 1.9e-5 at 25 degC times T over viscosity. From memory."""

VISCOSITY_CM2_S = 0.0127
"""Kinematic viscosity of water at 11 degC [cm2/s]. From memory."""


def film_coefficient_cm_s(
    velocity_cm_s: float,
    bead_radius_cm: float,
    porosity: float,
    diffusion_cm2_s: float = NITRATE_DIFFUSION_CM2_S,
    viscosity_cm2_s: float = VISCOSITY_CM2_S,
) -> float:
    """Film coefficient in a packed bed of spheres [cm/s].

    Sh = (1 + 1.5 (1 - e)) (2 + sqrt(L^2 + T^2)), L = 0.644 Re^1/2 Sc^1/3, T = 0.037 Re^0.8 Sc / (1 + 2.443 Re^-0.1
    (Sc^2/3 - 1)), Re = velocity x diameter / (porosity x viscosity), coefficient = Sh x diffusion / diameter.
    `velocity_cm_s` flow over cross-section [cm/s], 1e-5 to 100; `bead_radius_cm` [cm], `porosity` 0.2 to 0.8,
    `diffusion_cm2_s`, `viscosity_cm2_s` [cm2/s]. A published column of the US EPA uses a fifth of what this gives;
    the lower value passes nitrate earlier. Raises BadInput outside those ranges.
    Source: Gnielinski 1978, for packed beds, from memory; 0.6 < Sc < 10,000.
    """
    all_within("The velocity [cm/s]", [velocity_cm_s], 1e-5, 100.0)
    all_within("The bead radius [cm]", [bead_radius_cm], 1e-4, 1.0)
    all_within("The porosity", [porosity], 0.2, 0.8)
    all_within("A diffusion coefficient or viscosity [cm2/s]", [diffusion_cm2_s, viscosity_cm2_s], 1e-8, 1.0)
    diameter = 2.0 * bead_radius_cm
    reynolds = velocity_cm_s * diameter / (porosity * viscosity_cm2_s)
    schmidt = viscosity_cm2_s / diffusion_cm2_s
    laminar = 0.644 * sqrt(reynolds) * cbrt(schmidt)
    slower = 1.0 + 2.443 * float(reynolds**-0.1) * (cbrt(schmidt) ** 2 - 1.0)
    turbulent = 0.037 * float(reynolds**0.8) * schmidt / slower
    sherwood = (1.0 + 1.5 * (1.0 - porosity)) * (2.0 + sqrt(laminar * laminar + turbulent * turbulent))
    return sherwood * diffusion_cm2_s / diameter


def film_coefficient_laminar_cm_s(
    velocity_cm_s: float,
    bead_radius_cm: float,
    porosity: float,
    diffusion_cm2_s: float = NITRATE_DIFFUSION_CM2_S,
    viscosity_cm2_s: float = VISCOSITY_CM2_S,
) -> float:
    """Film coefficient in a packed bed at low flow [cm/s], a second opinion on `film_coefficient_cm_s`.

    Sh = 1.09 / porosity x (Re Sc)^1/3 with Re = velocity x diameter / viscosity, 0.0016 to 55. Units, ranges and
    errors as there. Source: Wilson and Geankoplis 1966, from memory.
    """
    all_within("The velocity [cm/s]", [velocity_cm_s], 1e-5, 100.0)
    all_within("The bead radius [cm]", [bead_radius_cm], 1e-4, 1.0)
    all_within("The porosity", [porosity], 0.2, 0.8)
    all_within("A diffusion coefficient or viscosity [cm2/s]", [diffusion_cm2_s, viscosity_cm2_s], 1e-8, 1.0)
    diameter = 2.0 * bead_radius_cm
    all_within("The Reynolds number", [velocity_cm_s * diameter / viscosity_cm2_s], 0.0016, 55.0)
    sherwood = 1.09 / porosity * cbrt(velocity_cm_s * diameter / diffusion_cm2_s)
    return sherwood * diffusion_cm2_s / diameter
