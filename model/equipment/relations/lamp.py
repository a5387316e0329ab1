"""What is left of a lamp's light on its way into the water: ageing, a fouled sleeve, the water itself."""

from __future__ import annotations

from math import log

from model.equipment.relations.check import at_least, positive, share
from model.errors import BadInput

HARDNESS_LIMIT_MG_L_CACO3, IRON_LIMIT_MG_L, MANGANESE_LIMIT_MG_L, TURBIDITY_LIMIT_NTU = 120.0, 0.3, 0.05, 1.0
"""Water that a lamp may be fed. Common practice, no source (7 gpg, 0.3 and 0.05 mg/L, 1 NTU on many plates)."""

CLEAR_UVT_PERCENT = 95.0
"""Transmittance of clear well water over 1 cm, with nothing known of it [%]. From memory; owner's default."""

_FERRIC_PER_MG_CM, _NITRATE_PER_MG_N_CM = 0.0844, 0.00024
"""Absorbance at 254 nm [1/cm] of 1 mg/L: 4,716 and 3.4 L/(mol cm) over 55.8 and 14.0 g/mol. From memory."""

_LEAST_SLEEVE_SHARE = 0.3


def lamp_output_share(lit_h: float, life_h: float, end_share: float) -> float:
    """Light of a lamp over that of a new one [0-1] after `lit_h` [h] of a life of `life_h` [h].

    A straight line from 1 to `end_share` [0-1] at the end of its life, and on at the same slope, never below 0.
    Raises BadInput for hours below 0, a life of 0 or less, or another share.
    Source: 60 to 70 % at the end of life, from memory; the straight line is common practice, no source.
    """
    at_least("lit hours", lit_h, 0.0)
    positive("lamp life", life_h)
    share("lamp output at the end of its life", end_share)
    return max(1.0 - (1.0 - end_share) * lit_h / life_h, 0.0)


def output_of_rating(output_share: float, end_share: float, *, rated_at_end_of_life: bool) -> float:
    """Light over the light that the rating assumes [0-1], so that ageing counts once.

    A rating for a new lamp loses all of the ageing. One for a lamp at the end of its life already holds it: nothing
    is lost until the light [0-1] falls under `end_share` [0-1], and nothing is gained before. Raises BadInput for
    another share or an end of 0. Source: definition of the two ways to rate.
    """
    share("lamp output", output_share)
    share("lamp output at the end of its life", end_share)
    positive("lamp output at the end of its life", end_share)
    return min(output_share / end_share, 1.0) if rated_at_end_of_life else output_share


def sleeve_share(
    days: float, hardness_mg_l_caco3: float, iron_mg_l: float, manganese_mg_l: float, loss_share_per_month: float
) -> float:
    """Light that a sleeve still lets through [0-1], `days` [day] after it was cleaned.

    (1 - loss)^(months x w), w = hardness/120 + iron/0.3 + manganese/0.05 [mg/L], at least 0.25: water at one of the
    usual feed limits takes `loss_share_per_month` [0-1] a month. Never below 0.3, where a guess ends.
    Raises BadInput for a negative or another share. Source: from memory; owner's default (that hardness, iron and
    manganese foul sleeves is common practice, no source).
    """
    for what, value in (("days", days), ("hardness", hardness_mg_l_caco3), ("iron", iron_mg_l)):
        at_least(what, value, 0.0)
    at_least("manganese", manganese_mg_l, 0.0)
    share("sleeve loss", loss_share_per_month)
    foul = (
        hardness_mg_l_caco3 / HARDNESS_LIMIT_MG_L_CACO3
        + iron_mg_l / IRON_LIMIT_MG_L
        + manganese_mg_l / MANGANESE_LIMIT_MG_L
    )
    return max(float((1.0 - loss_share_per_month) ** (days / 30.4 * max(foul, 0.25))), _LEAST_SLEEVE_SHARE)


def estimated_uvt_percent(iron_mg_l: float, nitrate_mg_l_n: float) -> float:
    """Transmittance at 254 nm over 1 cm [%] where nobody measured it: clear water, darkened by iron and nitrate.

    95 x 10^-(0.0844 Fe + 0.00024 N), iron [mg/L] taken as ferric, nitrate [mg/L as N]. Colour, organic matter and
    turbidity are not in it and can only lower it: a measurement counts for more. Raises BadInput for a negative.
    Source: Beer and Lambert; absorbances from memory; owner's default.
    """
    at_least("iron", iron_mg_l, 0.0)
    at_least("nitrate", nitrate_mg_l_n, 0.0)
    absorbance = _FERRIC_PER_MG_CM * iron_mg_l + _NITRATE_PER_MG_N_CM * nitrate_mg_l_n
    return CLEAR_UVT_PERCENT * float(10.0**-absorbance)


def mean_light_share(uvt_percent: float, path_cm: float = 1.0) -> float:
    """Mean light in a flat layer of water over the light that enters it [0-1].

    (1 - 10^-aL) / (2.303 aL), a = -log10 of the transmittance over 1 cm [%], L `path_cm` [cm]; 1 for clear water, 0
    for black. Raises BadInput for a transmittance outside 0-100 or a path of 0 or less.
    Source: Beer and Lambert, averaged over the layer.
    """
    if not 0.0 <= uvt_percent <= 100.0:
        raise BadInput(f"The transmittance must be from 0 to 100 %, not {uvt_percent:g}.")
    positive("light path", path_cm)
    if uvt_percent / 100.0 == 0.0:  # the least floats round to nothing
        return 0.0
    absorbed = -log(uvt_percent / 100.0) * path_cm
    # Under 1e-9 the quotient is 1 to more digits than a float holds.
    return (1.0 - (uvt_percent / 100.0) ** path_cm) / absorbed if absorbed > 1e-9 else 1.0


def transmittance_of_rating(uvt_percent: float, rated_uvt_percent: float) -> float:
    """Mean light in this water over that in water of the rated transmittance [0-1]; clearer water earns nothing.

    Both transmittances over 1 cm [%]. Raises BadInput outside 0-100 or for a rating of 0.
    Source: `mean_light_share` over 1 cm.
    """
    positive("rated transmittance", rated_uvt_percent)
    return min(mean_light_share(uvt_percent) / mean_light_share(rated_uvt_percent), 1.0)
