"""What an analysis says of itself: do its charges balance, do its numbers fit one another, can such a water be."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

import msgspec

from model.plan_types import Level
from model.water.balance import (
    anions_meq_l,
    cations_meq_l,
    charge_balance_error_percent,
    complete,
    hardness_of,
    tds_mg_l,
)
from model.water.sample import Sample

ACCEPTABLE_PERCENT = 5.0
"""Charge balance error that is acceptable [%]. Source: Colorado Division of Reclamation, Mining and Safety."""

IMPOSSIBLE_PERCENT = 30.0
"""Charge balance error over which the numbers are not those of one water [%]. Owner's default, no source."""

DILUTE_MEQ_L = 3.0
"""Anions up to which a difference is judged in meq/L and not in percent. Source: as `allowed_difference_meq_l`."""

PH_LEAST, PH_MOST = 4.5, 10.5
"""Below the first no alkalinity is left (the end point of its titration); above the second it is no ground water.
From memory; owner's default."""

TDS_WITHIN = 0.2
"""Share by which measured and calculated solids may differ. Source: Colorado DRMS, doc 1066351."""

_HARDNESS_WITHIN, _HARDNESS_NOISE_MG_L = 0.1, 5.0  # common practice, no source
_TDS_NOISE_MG_L = 20.0  # common practice, no source

Verdict = Literal["not_judged", "fits", "acceptable", "doubtful", "impossible"]

_CATION_FIELDS = ("calcium_mg_l", "magnesium_mg_l", "sodium_mg_l")
_ANION_FIELDS = ("alkalinity_mg_l_caco3", "chloride_mg_l", "sulfate_mg_l", "nitrate_mg_l_n")
_SMALL_PERCENT = 1e-6


class ChargeCheck(msgspec.Struct, frozen=True, kw_only=True):
    """Cations against anions.

    `error_percent`: 100 (cations - anions) / (cations + anions). `difference_meq_l`: cations - anions.
    `untested`: fields of ions nobody measured that could close the difference. `verdict`: "not_judged" where such
    an ion was filled in by the balance itself or may explain the difference, "fits" within the table of
    `allowed_difference_meq_l`, "acceptable" within 5 %, "doubtful" up to 30 %, "impossible" above.
    """

    error_percent: float
    difference_meq_l: float
    untested: tuple[str, ...]
    verdict: Verdict


class Finding(msgspec.Struct, frozen=True):
    """Something odd in an analysis, in words."""

    level: Level
    text: str


def allowed_difference_meq_l(cations_meq_l: float, anions_meq_l: float) -> float | None:
    """Largest usual difference of cations and anions [meq/L]; None above 800 meq/L of anions, outside the table.

    Anions 0-3 meq/L: 0.2 meq/L; 3-10: 2 % of cations and anions together; 10-800: 5 % of them.
    Source: Standard Methods for the Examination of Water and Wastewater, 1030 E, from memory.
    """
    if anions_meq_l > 800.0:
        return None
    if anions_meq_l <= DILUTE_MEQ_L:
        return 0.2
    return (0.02 if anions_meq_l <= 10.0 else 0.05) * (cations_meq_l + anions_meq_l)


def charge_check(known: Mapping[str, float]) -> ChargeCheck | None:
    """Whether the charges of an analysis balance; None where too little is known, or nothing is dissolved.

    `known`: as for `model.water.balance.complete` [mg/L]. An ion filled in by balance cannot speak for the balance.
    """
    sample = complete(known)
    if sample is None:
        return None
    cations, anions = cations_meq_l(sample), anions_meq_l(sample)
    if cations + anions <= 0.0:
        return None
    error = charge_balance_error_percent(sample)
    untested = _untested(known, error)
    return ChargeCheck(
        error_percent=error,
        difference_meq_l=cations - anions,
        untested=untested,
        verdict=_verdict(error, cations, anions, bool(untested)),
    )


def _untested(known: Mapping[str, float], error: float) -> tuple[str, ...]:
    """Ions not measured that could close the gap: anions where cations are over, cations where anions are."""
    found = [name for name in (*_CATION_FIELDS, *_ANION_FIELDS) if name not in known]
    if "hardness_mg_l_caco3" in known:
        found = [name for name in found if name not in ("calcium_mg_l", "magnesium_mg_l")]
    if error > _SMALL_PERCENT:
        return tuple(name for name in found if name in _ANION_FIELDS)
    if error < -_SMALL_PERCENT:
        # Potassium seldom weighs much, so it is asked for only where a good deal is missing.
        found += ["potassium_mg_l"] if error < -ACCEPTABLE_PERCENT and "potassium_mg_l" not in known else []
        return tuple(name for name in found if name not in _ANION_FIELDS)
    return tuple(found)


def _verdict(error: float, cations: float, anions: float, untested: bool) -> Verdict:
    if abs(error) > IMPOSSIBLE_PERCENT:
        return "impossible"
    if untested:
        return "not_judged"
    allowed = allowed_difference_meq_l(cations, anions)
    if allowed is not None and abs(cations - anions) <= allowed:
        return "fits"
    return "acceptable" if abs(error) <= ACCEPTABLE_PERCENT else "doubtful"


def charge_in_words(check: ChargeCheck) -> str:
    """The charge balance for people, with the criterion it was held against."""
    said = f"charge balance {check.error_percent:+.1f} %"
    if check.verdict == "not_judged":
        return f"charge balance not judged: {_names(check.untested)} not tested"
    if check.verdict == "fits":
        return f"{said}: fits (Standard Methods 1030 E, from memory)"
    if check.verdict == "acceptable":
        return f"{said}: within 5 %, acceptable (Colorado DRMS)"
    if check.verdict == "doubtful":
        return f"{said}: over 5 % (Colorado DRMS), though dilute waters are often over 10 % (Fritz, 1,062 analyses)"
    return f"{said}: over 30 %, not the numbers of one water"


def pH_can_be(pH: float) -> bool:
    """Whether a well water can have this pH and be reckoned with: 4.5 to 10.5. From memory; owner's default."""
    return PH_LEAST <= pH <= PH_MOST


def findings(known: Mapping[str, float]) -> tuple[Finding, ...]:
    """What is odd in an analysis, or could not be; empty where nothing is. Never fails on numbers that are finite.

    `known`: as for `model.water.balance.complete`, and `tds_mg_l` as measured by a laboratory [mg/L].
    """
    sample, check = complete(known), charge_check(known)
    found = (_pH(known), _charge(check), _hardness(known), _solids(known, sample, check))
    return tuple(one for one in found if one is not None)


def _pH(known: Mapping[str, float]) -> Finding | None:
    pH = known.get("pH", 7.0)
    if pH_can_be(pH):
        return None
    text = f"pH {pH:.1f} cannot well be that of a well water ({PH_LEAST:g} to {PH_MOST:g}; from memory): "
    return Finding("warning", f"{text}check the number and test again.")


def _charge(check: ChargeCheck | None) -> Finding | None:
    if check is None or check.verdict not in ("doubtful", "impossible"):
        return None
    more = "cations" if check.difference_meq_l > 0 else "anions"
    text = f"The {more} are over by {abs(check.difference_meq_l):.2g} meq/L; {charge_in_words(check)}."
    if check.untested:
        text += f" Not tested: {_names(check.untested)}."
    grave = check.verdict == "impossible" and abs(check.difference_meq_l) > 0.2
    ask = "Check the units and ask the laboratory; do not trust what is reckoned from it." if grave else ""
    return Finding("warning" if grave else "note", f"{text} {ask}".strip())


def _hardness(known: Mapping[str, float]) -> Finding | None:
    if not {"hardness_mg_l_caco3", "calcium_mg_l", "magnesium_mg_l"} <= known.keys():
        return None
    said, summed = known["hardness_mg_l_caco3"], hardness_of(known["calcium_mg_l"], known["magnesium_mg_l"])
    if abs(said - summed) <= max(_HARDNESS_NOISE_MG_L, _HARDNESS_WITHIN * max(said, summed)):
        return None
    text = (
        f"Hardness is given as {said:.0f} mg/L as CaCO3, but calcium and magnesium make {summed:.0f}: check the basis."
    )
    return Finding("note", f"{text} The two metals are reckoned with.")


def _solids(known: Mapping[str, float], sample: Sample | None, check: ChargeCheck | None) -> Finding | None:
    """Measured against calculated solids, where every main ion was measured."""
    measured = known.get("tds_mg_l")
    if measured is None or sample is None or check is None or check.verdict == "not_judged":
        return None
    summed = tds_mg_l(sample)
    if abs(measured - summed) <= max(_TDS_NOISE_MG_L, TDS_WITHIN * max(measured, summed)):
        return None
    text = f"Dissolved solids measured {measured:.0f} mg/L, but the ions make {summed:.0f}"
    return Finding(
        "note", f"{text}: more than 20 % apart (Colorado DRMS). Silica, which is not in the sum, may be why."
    )


def _names(fields: tuple[str, ...]) -> str:
    return ", ".join(field.partition("_")[0] for field in fields)
