"""The media of an acid neutralizer: mass, depth, and what dissolves."""

from __future__ import annotations

from math import pi

from model.equipment.relations.check import at_least, positive, share

CALCITE_G_MOL = 100.087
MAGNESIA_G_MOL = 40.304


def bed_kg(depth_cm: float, diameter_cm: float, kg_per_l: float) -> float:
    """Media [kg] in a round tank: bed depth [cm], tank diameter [cm], bulk density [kg/L].

    Raises BadInput for a negative depth, no diameter or no density. Source: geometry.
    """
    at_least("bed depth", depth_cm, 0.0)
    return depth_cm * _kg_per_cm(diameter_cm, kg_per_l)


def bed_cm(media_kg: float, diameter_cm: float, kg_per_l: float) -> float:
    """Bed depth [cm] of so much media [kg]: the inverse of `bed_kg`, diameter [cm], density [kg/L].

    Raises BadInput for negatives. Source: geometry.
    """
    at_least("media", media_kg, 0.0)
    return media_kg / _kg_per_cm(diameter_cm, kg_per_l)


def _kg_per_cm(diameter_cm: float, kg_per_l: float) -> float:
    positive("tank diameter", diameter_cm)
    positive("bulk density", kg_per_l)
    return pi * diameter_cm**2 / 4.0 / 1000.0 * kg_per_l


def media_g_per_m3_from_hardness_rise(rise_mg_l_caco3: float, magnesia_share: float) -> tuple[float, float]:
    """Calcite and magnesia [g per m3] that a rise of hardness [mg/L as CaCO3] has dissolved.

    `magnesia_share`: share of magnesia in the mass dissolved [0-1]. Each mole of either gives one mole of hardness.
    Raises BadInput for a fall or a share out of range. Source: stoichiometry, molar masses IUPAC 2013.
    """
    at_least("hardness rise", rise_mg_l_caco3, 0.0)
    share("magnesia share", magnesia_share)
    per_gram = (1.0 - magnesia_share) / CALCITE_G_MOL + magnesia_share / MAGNESIA_G_MOL
    grams = rise_mg_l_caco3 / CALCITE_G_MOL / per_gram
    return grams * (1.0 - magnesia_share), grams * magnesia_share
