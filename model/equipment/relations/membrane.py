"""What a membrane does to each ion: osmotic pressure, passage, and the reject that recovery thickens."""

from __future__ import annotations

from math import isfinite

import msgspec

from model.equipment.relations.check import at_least, positive, share
from model.equipment.relations.reverse_osmosis import permeate_l_per_day
from model.errors import BadInput
from model.water.balance import tds_mg_l
from model.water.carbonate import speciate, with_alkalinity
from model.water.constants import (
    CACO3_MG_PER_MEQ,
    CALCIUM_G_PER_MOL,
    CHLORIDE_G_PER_MOL,
    IRON_G_PER_MOL,
    MAGNESIUM_G_PER_MOL,
    MANGANESE_G_PER_MOL,
    NITRATE_G_PER_MOL,
    NITROGEN_G_PER_MOL,
    POTASSIUM_G_PER_MOL,
    SODIUM_G_PER_MOL,
    SULFATE_G_PER_MOL,
)
from model.water.sample import Sample

SALT_PASSAGE_PER_DEGREE = 0.06
"""More salt passage for each degree [1/K]. Source: Water Quality Association education kit."""

SHUT_OFF_SHARE = 0.6
"""Reservoir pressure over feed pressure at which a unit stops. Common practice, no source."""

_GAS_CONSTANT_BAR_L_MOL_K = 0.0831446  # CODATA 2018

# Field: g/mol, meq/mmol, passage beside that of dissolved solids. From memory; owner's default: doubly charged ions
# are held the better, singly charged ones the worse.
_CATIONS = {
    "calcium_mg_l": (CALCIUM_G_PER_MOL, 2.0, 0.5),
    "magnesium_mg_l": (MAGNESIUM_G_PER_MOL, 2.0, 0.5),
    "sodium_mg_l": (SODIUM_G_PER_MOL, 1.0, 1.2),
    "potassium_mg_l": (POTASSIUM_G_PER_MOL, 1.0, 1.2),
    "iron_mg_l": (IRON_G_PER_MOL, 2.0, 0.5),
    "manganese_mg_l": (MANGANESE_G_PER_MOL, 2.0, 0.5),
}
_ANIONS = {
    "alkalinity_mg_l_caco3": (CACO3_MG_PER_MEQ, 1.0, 1.0),
    "chloride_mg_l": (CHLORIDE_G_PER_MOL, 1.0, 1.2),
    "sulfate_mg_l": (SULFATE_G_PER_MOL, 2.0, 0.5),
}
_SOLIDS = {"alkalinity_mg_l_caco3": 0.6, "iron_mg_l": 0.0, "manganese_mg_l": 0.0}


def osmotic_bar_of(sample: Sample) -> float:
    """Osmotic pressure of a water [bar] from its composition: R T times the sum of its ions [mol/L].

    Alkalinity counts as bicarbonate. 0.85 bar for 1,000 mg/L of sodium chloride at 25 degC; ions taken as ideal,
    some 7 % high at that strength. Range: fresh water. Source: van't Hoff.
    """
    moles: float = sum(getattr(sample, field) / weight for field, (weight, _, _) in (_CATIONS | _ANIONS).items())
    moles += sample.nitrate_mg_l_n / NITROGEN_G_PER_MOL
    return moles * 1e-3 * _GAS_CONSTANT_BAR_L_MOL_K * (sample.temperature_c + 273.15)


def concentrate_factor(recovery: float, passage: float) -> float:
    """Concentration of the reject over that of the feed: (1 - r p) / (1 - r), 1 or more.

    r `recovery` 0 to below 1, p `passage` of the solute, product over feed [0-1]. Raises BadInput outside that.
    Source: mass balance, Metcalf and Eddy.
    """
    share("recovery", recovery)
    share("passage", passage)
    positive("share that is rejected", 1.0 - recovery)
    return (1.0 - recovery * passage) / (1.0 - recovery)


def mean_osmotic_bar(feed_bar: float, recovery: float, rejection: float) -> float:
    """Osmotic pressure the pump works against [bar]: mean of feed and reject, less that of the product.

    `feed_bar` [bar] is that of the feed, recovery 0 to below 1, rejection [0-1]. Raises BadInput outside that.
    Source: average osmotic pressure as in US Army TM 10-4610-309-14; the arithmetic mean is common practice.
    """
    at_least("osmotic pressure of the feed", feed_bar, 0.0)
    share("rejection", rejection)
    passage = 1.0 - rejection
    return feed_bar * ((1.0 + concentrate_factor(recovery, passage)) / 2.0 - passage)


def normalized_salt_passage(passage: float, net_bar: float, rated_bar: float, temperature_c: float) -> float:
    """Salt passage [0-1] as it would be at 25 degC and the rated net pressure.

    passage x net / rated pressure [bar] x 1.06^(25 - T), T [degC] 0 to 45: cold water and a high pressure flatter a
    membrane. Follow it from its own first value. Raises BadInput for a negative, a rating of 0 or T out of range.
    Source: 6 % a degree, Water Quality Association education kit; salt crosses regardless of pressure, from memory.
    """
    at_least("salt passage", passage, 0.0)
    at_least("net pressure", net_bar, 0.0)
    positive("rated pressure", rated_bar)
    if not (isfinite(temperature_c) and 0.0 <= temperature_c <= 45.0):
        raise BadInput(f"The temperature must be from 0 to 45 degC, not {temperature_c:g}.")
    return float(passage * net_bar / rated_bar * (1.0 + SALT_PASSAGE_PER_DEGREE) ** (25.0 - temperature_c))


def normalized_flow_ratio(
    measured_l_per_day: float, rated_l_per_day: float, rated_bar: float, net_bar: float, temperature_c: float
) -> float:
    """Measured product [L/day] over what the rating gives at this net pressure [bar] and temperature [degC].

    Near 1 in a new membrane; follow it from its own first value, since ratings and gauges are rough. A fall of a tenth
    says clean it or look for the cause. Raises BadInput for a flow below 0 or a rating or net pressure of 0 or less.
    Source: US Army TM 10-4610-309-14, WP 0016.
    """
    at_least("measured flow", measured_l_per_day, 0.0)
    positive("net pressure", net_bar)
    return measured_l_per_day / permeate_l_per_day(rated_l_per_day, rated_bar, net_bar, temperature_c)


def fill_hours(reservoir_l: float, product_l_per_day: float) -> float:
    """Hours to fill a reservoir [h] of `reservoir_l` [L] at `product_l_per_day` [L/day].

    Take the flow against the mean pressure of the filling reservoir. Raises BadInput for 0 or less. Source: identity.
    """
    positive("reservoir", reservoir_l)
    positive("product flow", product_l_per_day)
    return 24.0 * reservoir_l / product_l_per_day


def mean_back_bar(precharge_bar: float, feed_bar: float) -> float:
    """Mean pressure of a reservoir while it fills [bar]: half way from its air charge to the automatic shut-off.

    The shut-off closes at 0.6 of the feed pressure; both [bar] gauge. A charge above that counts alone. Raises BadInput
    below 0. Source: shut-off common practice, no source; the mean is an owner's default.
    """
    at_least("air charge", precharge_bar, 0.0)
    at_least("feed pressure", feed_bar, 0.0)
    return (precharge_bar + max(SHUT_OFF_SHARE * feed_bar, precharge_bar)) / 2.0


def nitrate_passage(passage: float, rated_rejection: float, nitrate_rejection: float) -> float:
    """Share of the nitrate that passes [0-1] when dissolved solids pass by `passage` [0-1]: never less than those.

    The two passages keep the ratio they have in the settings `rated_rejection` of solids and `nitrate_rejection`
    [0-1]: a worn membrane lets more of both by. Raises BadInput for another share.
    Source: nitrate is held more poorly than solids as a whole, from memory; the fixed ratio is an owner's default.
    """
    for what, value in (("passage", passage), ("rejection", rated_rejection), ("nitrate kept back", nitrate_rejection)):
        share(what, value)
    fresh = 1.0 - rated_rejection
    ratio = (1.0 - nitrate_rejection) / fresh if fresh > 0.0 else 1.0
    return min(max(passage * ratio, passage, 1.0 - nitrate_rejection if fresh <= 0.0 else 0.0), 1.0)


def permeate(fed: Sample, passage: float, nitrate_share: float) -> Sample:
    """The product water of a membrane that lets `passage` [0-1] of the dissolved solids by.

    Ions pass by weights (doubly charged 0.5, sodium, potassium and chloride 1.2, bicarbonate 1, all nearer to 1 the
    more passes), scaled so that the solids [mg/L] come out at `passage` of the feed's; nitrate by `nitrate_share` [0-1]
    of its own. Cations follow the anions, so the product is as near to neutral as the feed. No ion passes more than
    whole. Dissolved carbon dioxide passes whole, so the pH falls. Raises BadInput for another share.
    Source: carbon dioxide passes, Nebraska Extension NebGuide G1490; charge balance; weights from memory.
    """
    share("passage", passage)
    share("nitrate passage", nitrate_share)
    shares = _shares(fed, passage, nitrate_share)
    ions = {field: getattr(fed, field) * part for field, part in shares.items()}
    alkalinity = ions.pop("alkalinity_mg_l_caco3")
    thinner = msgspec.structs.replace(fed, **ions, nitrate_mg_l_n=fed.nitrate_mg_l_n * nitrate_share)
    return with_alkalinity(thinner, alkalinity, speciate(fed).co2_mg_l)


def reject(fed: Sample, product: Sample, recovery: float) -> Sample:
    """The water that goes to the drain, ion by ion what the product left [mg/L], at a recovery 0 to below 1 [0-1].

    (feed - r product) / (1 - r); carbon dioxide as in the feed. Raises BadInput outside that. Source: mass balance.
    """
    positive("share that is rejected", 1.0 - recovery)
    share("recovery", recovery)
    fields = (*_CATIONS, *_ANIONS, "nitrate_mg_l_n")
    ions = {name: (getattr(fed, name) - recovery * getattr(product, name)) / (1.0 - recovery) for name in fields}
    alkalinity = ions.pop("alkalinity_mg_l_caco3")
    return with_alkalinity(msgspec.structs.replace(fed, **ions), alkalinity, speciate(fed).co2_mg_l)


def _shares(fed: Sample, passage: float, nitrate_share: float) -> dict[str, float]:
    """Share of each ion that passes, nitrate apart: anions s w, cations s' w, with s and s' from solids and charge."""
    weights = {field: w + (1.0 - w) * passage for field, (_, _, w) in (_CATIONS | _ANIONS).items()}
    cations, cation_solids, fed_cations = _weighed(fed, _CATIONS, weights)
    anions, anion_solids, fed_anions = _weighed(fed, _ANIONS, weights)
    nitrate_meq = fed.nitrate_mg_l_n / NITROGEN_G_PER_MOL
    fed_anions += nitrate_meq
    nitrate_solids = nitrate_share * nitrate_meq * NITRATE_G_PER_MOL
    per_anion = fed_cations / fed_anions / cations if cations > 0.0 and fed_anions > 0.0 else 0.0
    wanted = passage * tds_mg_l(fed) - nitrate_solids - per_anion * cation_solids * nitrate_share * nitrate_meq
    for_anions = anion_solids + per_anion * cation_solids * anions
    s = max(wanted / for_anions, 0.0) if for_anions > 0.0 else 0.0
    for_cations = per_anion * (s * anions + nitrate_share * nitrate_meq) if fed_anions > 0.0 else passage
    found = {field: min(s * weights[field], 1.0) for field in _ANIONS}
    return found | {field: min(for_cations * weights[field], 1.0) for field in _CATIONS}


def _weighed(
    fed: Sample, ions: dict[str, tuple[float, float, float]], weights: dict[str, float]
) -> tuple[float, float, float]:
    """Sums over ions: weighted [meq/L], weighted solids [mg/L], unweighted [meq/L]."""
    equivalents = {field: getattr(fed, field) / weight * charge for field, (weight, charge, _) in ions.items()}
    weighted = sum(equivalents[field] * weights[field] for field in ions)
    solids = sum(getattr(fed, field) * _SOLIDS.get(field, 1.0) * weights[field] for field in ions)
    return weighted, solids, sum(equivalents.values())
