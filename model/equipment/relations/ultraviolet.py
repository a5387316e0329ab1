"""Ultraviolet dose and what it inactivates: an estimate, never a claim."""

from __future__ import annotations

from bisect import bisect_right

from model.equipment.relations.check import at_least, positive, share

LOG_STEPS = (0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 4.0)
DOSE_MJ_CM2 = {
    "cryptosporidium": (1.6, 2.5, 3.9, 5.8, 8.5, 12.0, 15.0, 22.0),
    "giardia": (1.5, 2.1, 3.0, 5.2, 7.7, 11.0, 15.0, 22.0),
    "virus": (39.0, 58.0, 79.0, 100.0, 121.0, 143.0, 163.0, 186.0),
}
"""Dose [mJ/cm2] for each of LOG_STEPS. Source: US EPA 2006, UV Disinfection Guidance Manual, dose table."""


def dose_mj_cm2(
    rated_dose_mj_cm2: float,
    rated_l_per_min: float,
    peak_l_per_min: float,
    lamp_output_share: float = 1.0,
    transmittance_share: float = 1.0,
) -> float:
    """Dose [mJ/cm2] at this house's peak flow [L/min], from the dose [mJ/cm2] and flow [L/min] of the rating.

    In proportion to rated over peak flow, lamp output left [0-1] and transmittance of water and sleeve against the
    rating [0-1], but never above the rated dose. Raises BadInput for flows or doses not above 0.
    Source: dose is irradiance times time, US EPA 2006, UV Disinfection Guidance Manual.
    """
    positive("rated dose", rated_dose_mj_cm2)
    positive("rated flow", rated_l_per_min)
    positive("peak flow", peak_l_per_min)
    share("lamp output", lamp_output_share)
    share("transmittance", transmittance_share)
    part = rated_l_per_min / peak_l_per_min * lamp_output_share * transmittance_share
    return rated_dose_mj_cm2 * min(part, 1.0)


def log_inactivation(dose_mj_cm2: float) -> dict[str, float]:
    """Log inactivation [log10] by organism at a dose [mJ/cm2]: the last step of the table that the dose reaches.

    0 below the first step, 4 at most. Raises BadInput for a negative dose.
    Source: US EPA 2006, UV Disinfection Guidance Manual, dose table.
    """
    at_least("dose", dose_mj_cm2, 0.0)
    return {name: (0.0, *LOG_STEPS)[bisect_right(doses, dose_mj_cm2)] for name, doses in DOSE_MJ_CM2.items()}


def lamp_days(life_h: float, hours_per_day: float) -> float:
    """Days [day] that a lamp life [h] lasts at so many lit hours a day [h/day]. Raises BadInput for none.

    Source: identity.
    """
    positive("lamp life", life_h)
    positive("hours lit a day", hours_per_day)
    return life_h / hours_per_day
