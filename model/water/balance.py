"""Sums over one analysis: hardness, dissolved solids, charge balance; and filling in what the laboratory left out."""

from __future__ import annotations

from collections.abc import Mapping

from model.water.constants import (
    CACO3_G_PER_MOL,
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

CALCIUM_PER_MAGNESIUM = 3.0
"""mmol of calcium per mmol of magnesium where only the hardness is known: common practice, no source."""

_CATIONS = {
    "calcium_mg_l": CALCIUM_G_PER_MOL / 2.0,
    "magnesium_mg_l": MAGNESIUM_G_PER_MOL / 2.0,
    "sodium_mg_l": SODIUM_G_PER_MOL,
    "potassium_mg_l": POTASSIUM_G_PER_MOL,
    "iron_mg_l": IRON_G_PER_MOL / 2.0,
    "manganese_mg_l": MANGANESE_G_PER_MOL / 2.0,
}
_ANIONS = {
    "alkalinity_mg_l_caco3": CACO3_MG_PER_MEQ,
    "chloride_mg_l": CHLORIDE_G_PER_MOL,
    "sulfate_mg_l": SULFATE_G_PER_MOL / 2.0,
    "nitrate_mg_l_n": NITROGEN_G_PER_MOL,
}
_DEFAULTS = dict.fromkeys((*_CATIONS, *_ANIONS), 0.0) | {"temperature_c": 11.0}
_BALANCED_BY = ("chloride_mg_l", "sulfate_mg_l")


def hardness_mg_l_caco3(sample: Sample) -> float:
    """Calcium and magnesium hardness [mg/L as CaCO3]: 2.497 Ca + 4.118 Mg. Iron and manganese are not counted.

    Source: equivalent weights, Spellman's operator mathematics; atomic weights IUPAC abridged 2013.
    """
    return hardness_of(sample.calcium_mg_l, sample.magnesium_mg_l)


def hardness_of(calcium_mg_l: float, magnesium_mg_l: float) -> float:
    """Hardness [mg/L as CaCO3] of calcium and magnesium [mg/L]. Source: as `hardness_mg_l_caco3`."""
    return CACO3_G_PER_MOL * (calcium_mg_l / CALCIUM_G_PER_MOL + magnesium_mg_l / MAGNESIUM_G_PER_MOL)


def tds_mg_l(sample: Sample) -> float:
    """Dissolved solids [mg/L] calculated from the ions: 0.6 alkalinity + Na + K + Ca + Mg + Cl + SO4 + NO3.

    Silica and fluoride are in the published sum and not in a sample; measured values lie within 20 %.
    Source: Colorado Division of Reclamation, Mining and Safety, doc 1066351.
    """
    return (
        0.6 * sample.alkalinity_mg_l_caco3
        + sample.sodium_mg_l
        + sample.potassium_mg_l
        + sample.calcium_mg_l
        + sample.magnesium_mg_l
        + sample.chloride_mg_l
        + sample.sulfate_mg_l
        + sample.nitrate_mg_l_n * NITRATE_G_PER_MOL / NITROGEN_G_PER_MOL
    )


def cations_meq_l(sample: Sample) -> float:
    """Sum of the cations [meq/L], iron and manganese as divalent. Source: equivalent weights, IUPAC 2013."""
    return _sum_meq(_fields(sample), _CATIONS)


def anions_meq_l(sample: Sample) -> float:
    """Sum of the anions [meq/L], alkalinity as one of them (which also stands for OH- and, negatively, H+).

    Source: equivalent weights, IUPAC 2013.
    """
    return _sum_meq(_fields(sample), _ANIONS)


def charge_balance_error_percent(sample: Sample) -> float:
    """Charge balance error [%]: 100 (cations - anions) / (cations + anions) in meq/L; 0 for pure water.

    Within 5 % is acceptable; dilute waters are often over 10 %.
    Source: Colorado Division of Reclamation, Mining and Safety; Fritz, survey of 1,062 analyses (Ground Water).
    """
    cations, anions = cations_meq_l(sample), anions_meq_l(sample)
    total = cations + anions
    return 100.0 * (cations - anions) / total if total else 0.0


def complete(known: Mapping[str, float]) -> Sample | None:
    """A sample from what is known of a water, or None where too little is.

    `known` uses the field names of Sample [mg/L, degC] and `hardness_mg_l_caco3`; other names are passed over.
    Needed: pH, alkalinity, and hardness or calcium. The rest is filled in and named in `assumed`: calcium and
    magnesium from hardness (3 mmol to 1 where neither is known), sodium by charge balance but never below 0,
    chloride (or sulfate, where chloride is known) by balance where cations exceed anions, all else 0, 11 degC.
    """
    if "pH" not in known or "alkalinity_mg_l_caco3" not in known:
        return None
    hard = _calcium_and_magnesium(known)
    if hard is None:
        return None
    fields = _DEFAULTS | {name: value for name, value in known.items() if name in Sample.__struct_fields__} | hard
    if "sodium_mg_l" not in known:
        fields["sodium_mg_l"] = max(-_surplus_meq(fields), 0.0) * SODIUM_G_PER_MOL
    free = next((name for name in _BALANCED_BY if name not in known), None)
    if free is not None:
        fields[free] = max(_surplus_meq(fields), 0.0) * _ANIONS[free]
    assumed = tuple(name for name in Sample.__struct_fields__ if name != "assumed" and name not in known)
    return Sample(**fields, assumed=assumed)


def _calcium_and_magnesium(known: Mapping[str, float]) -> dict[str, float] | None:
    """Calcium and magnesium [mg/L] from themselves or from hardness."""
    calcium, magnesium = known.get("calcium_mg_l"), known.get("magnesium_mg_l")
    hardness = known.get("hardness_mg_l_caco3")
    if calcium is None:
        if hardness is None:
            return None
        total = hardness / CACO3_G_PER_MOL
        share = CALCIUM_PER_MAGNESIUM / (CALCIUM_PER_MAGNESIUM + 1.0)
        mmol = total * share if magnesium is None else max(total - magnesium / MAGNESIUM_G_PER_MOL, 0.0)
        calcium = mmol * CALCIUM_G_PER_MOL
    if magnesium is None:
        mmol = calcium / CALCIUM_G_PER_MOL
        rest = mmol / CALCIUM_PER_MAGNESIUM if hardness is None else max(hardness / CACO3_G_PER_MOL - mmol, 0.0)
        magnesium = rest * MAGNESIUM_G_PER_MOL
    return {"calcium_mg_l": calcium, "magnesium_mg_l": magnesium}


def _surplus_meq(fields: Mapping[str, float]) -> float:
    return _sum_meq(fields, _CATIONS) - _sum_meq(fields, _ANIONS)


def _sum_meq(fields: Mapping[str, float], equivalents: Mapping[str, float]) -> float:
    return sum(fields[name] / weight for name, weight in equivalents.items())


def _fields(sample: Sample) -> dict[str, float]:
    return {name: getattr(sample, name) for name in (*_CATIONS, *_ANIONS)}
