"""The softening resin: capacity, load, salt."""

from __future__ import annotations

from bisect import bisect_right
from math import pi

from model.equipment.relations.check import at_least, positive, share

GRAIN_G = 0.06479891
CUBIC_FOOT_L = 28.316847
POUND_KG = 0.45359237
GPG_MG_L = 17.1181
"""One grain a gallon [mg/L]: 64.79891 mg in 3.785411784 L. Source: NIST SP 811."""

_DOSE_LB_FT3 = (0.0, 6.0, 8.0, 10.0, 15.0)
_CAPACITY_GR_FT3 = (0.0, 20_000.0, 24_000.0, 27_000.0, 30_000.0)

MANGANESE_GPG_PER_MG_L = 2.0
"""Hardness allowed for manganese [gpg per mg/L]. Common practice, no source."""

HALITE_KG_L = 2.165
"""Density of rock salt [kg/L]. From memory."""

BRINE_SALT_KG_L = 0.264 * 1.20
"""Salt in saturated brine [kg per L of brine]: 26.4 % by weight, specific gravity 1.20. Common practice, no source."""


def capacity_g_caco3(resin_l: float, salt_kg: float) -> float:
    """Hardness that resin [L] takes after a dose of salt [kg], as CaCO3 [g].

    Straight lines between 6 lb/ft3 for 20,000 grains/ft3, 8 for 24,000, 10 for 27,000 and 15 for 30,000; below 6 in
    proportion, above 15 no more. Range 0-240 kg per m3. Another table gives 20,000 at 5 lb and 30,000 at 12 lb: this is
    the more cautious of the two, within 20 %. Raises BadInput for no resin or a negative dose.
    Source: common practice, no source (two trade tables that disagree).
    """
    positive("resin volume", resin_l)
    at_least("salt dose", salt_kg, 0.0)
    dose = salt_kg / POUND_KG / (resin_l / CUBIC_FOOT_L)
    return _between(dose, _DOSE_LB_FT3, _CAPACITY_GR_FT3) * GRAIN_G * resin_l / CUBIC_FOOT_L


def _between(x: float, xs: tuple[float, ...], ys: tuple[float, ...]) -> float:
    if x >= xs[-1]:
        return ys[-1]
    k = bisect_right(xs, x) - 1
    return ys[k] + (ys[k + 1] - ys[k]) * (x - xs[k]) / (xs[k + 1] - xs[k])


def compensated_hardness_mg_l_caco3(
    hardness_mg_l_caco3: float, iron_mg_l: float, manganese_mg_l: float, iron_factor: float
) -> float:
    """Hardness to plan on [mg/L as CaCO3]: with an allowance for iron and manganese [mg/L].

    `iron_factor`: grains a gallon for each mg/L of iron [gpg per mg/L], 2 to 5 by source. Raises BadInput for
    negatives. Source: common practice, no source; the allowance is a setting because sources disagree.
    """
    for what, value in (("hardness", hardness_mg_l_caco3), ("iron", iron_mg_l), ("manganese", manganese_mg_l)):
        at_least(what, value, 0.0)
    at_least("iron factor", iron_factor, 0.0)
    return hardness_mg_l_caco3 + GPG_MG_L * (iron_factor * iron_mg_l + MANGANESE_GPG_PER_MG_L * manganese_mg_l)


def litres_between_regenerations(capacity_g_caco3: float, hardness_mg_l_caco3: float, reserve_share: float) -> float:
    """Litres [L] that a capacity [g as CaCO3] treats at a hardness [mg/L as CaCO3], less the reserve [0-1].

    Raises BadInput for a hardness not above 0. Source: mass balance.
    """
    positive("hardness", hardness_mg_l_caco3)
    at_least("capacity", capacity_g_caco3, 0.0)
    share("reserve", reserve_share)
    return capacity_g_caco3 * 1000.0 / hardness_mg_l_caco3 * (1.0 - reserve_share)


def salt_kg_from_depth(depth_cm: float, diameter_cm: float, water_depth_cm: float, salt_kg_per_l: float) -> float:
    """Salt in a round brine tank [kg] from its depth above the floor [cm], tank diameter and water depth [cm].

    `salt_kg_per_l` is the bulk density of the dry salt [kg/L]. Under water the pores between the grains hold saturated
    brine, whose salt counts too; brine without grains is not counted. Raises BadInput for negatives.
    Source: geometry; saturated brine 26.4 % by weight, common practice, no source.
    """
    at_least("salt depth", depth_cm, 0.0)
    at_least("water depth", water_depth_cm, 0.0)
    dry, wet = _kg_per_cm(diameter_cm, salt_kg_per_l)
    under = min(depth_cm, water_depth_cm)
    return dry * depth_cm + (wet - dry) * under


def depth_cm_from_salt(salt_kg: float, diameter_cm: float, water_depth_cm: float, salt_kg_per_l: float) -> float:
    """Depth of salt above the tank floor [cm] that holds `salt_kg` [kg]: the inverse of `salt_kg_from_depth`.

    Raises BadInput for negatives. Source: as `salt_kg_from_depth`.
    """
    at_least("salt", salt_kg, 0.0)
    at_least("water depth", water_depth_cm, 0.0)
    dry, wet = _kg_per_cm(diameter_cm, salt_kg_per_l)
    under = min(salt_kg / wet, water_depth_cm)
    return under + max(salt_kg - wet * water_depth_cm, 0.0) / dry


def _kg_per_cm(diameter_cm: float, salt_kg_per_l: float) -> tuple[float, float]:
    """Salt in one centimetre of depth, dry and with brine in its pores [kg/cm]."""
    positive("tank diameter", diameter_cm)
    positive("bulk density", salt_kg_per_l)
    litres = pi * diameter_cm**2 / 4.0 / 1000.0
    pores = max(1.0 - salt_kg_per_l / HALITE_KG_L, 0.0)
    return litres * salt_kg_per_l, litres * (salt_kg_per_l + pores * BRINE_SALT_KG_L)


def sodium_added_mg_l(hardness_removed_mg_l_caco3: float) -> float:
    """Sodium [mg/L] that takes the place of hardness removed [mg/L as CaCO3]: 22.990 / 50.043 of it.

    Raises BadInput for a negative. Source: charge balance, IUPAC 2013; 46 per 100 in Connecticut DPH pub. 29.
    """
    at_least("hardness removed", hardness_removed_mg_l_caco3, 0.0)
    return hardness_removed_mg_l_caco3 * 22.990 / 50.043


def chloride_added_mg_l(nitrate_removed_mg_l_n: float, sulfate_removed_mg_l: float) -> float:
    """Chloride [mg/L] that takes the place of nitrate [mg/L as N] and sulfate [mg/L] removed.

    Raises BadInput for negatives. Source: charge balance, atomic weights IUPAC 2013.
    """
    at_least("nitrate removed", nitrate_removed_mg_l_n, 0.0)
    at_least("sulfate removed", sulfate_removed_mg_l, 0.0)
    return 35.45 * (nitrate_removed_mg_l_n / 14.007 + sulfate_removed_mg_l / 48.03)
