"""Waters of several taps mixed for plants, brewing or fish: composition, pH, and whether the mix is fit to drink."""

from __future__ import annotations

from collections.abc import Mapping
from math import isfinite

import msgspec

from model.errors import BadInput
from model.unit_tables import DH_MG_L, GPG_MG_L
from model.water.balance import hardness_mg_l_caco3
from model.water.carbonate import AIR_CO2_PPM, aerated_ph, mix
from model.water.constants import NITRATE_G_PER_MOL, NITROGEN_G_PER_MOL
from model.water.limits import NITRATE_LIMIT_MG_L_N, SODIUM_RESTRICTED_MG_L
from model.water.sample import Sample

SODIUM_TASTE_MG_L = 60.0
"""Upper end of where sodium begins to be tasted [mg/L]. Source: EPA sodium guidance (EPA 822-R-03-006)."""

HARDNESS_UNITS = {"mg/L": 1.0, "gpg": GPG_MG_L, "dH": DH_MG_L}
"""mg/L as CaCO3 in one of each."""


class Blend(msgspec.Struct, frozen=True, kw_only=True):
    """Waters mixed. `shares` sum to 1. `sample` has the pH fresh from the taps, `standing_pH` that after a day in air.

    `unfit` says in words why people should not drink it, or which people; empty where nothing speaks against it here.
    """

    shares: dict[str, float]
    sample: Sample
    standing_pH: float
    hardness_mg_l_caco3: float
    nitrate_mg_l_no3: float
    unfit: tuple[str, ...]


def blend(waters: Mapping[str, Sample], parts: Mapping[str, float], air_co2_ppm: float = AIR_CO2_PPM) -> Blend:
    """`waters` by name, mixed by `parts` (any unit of volume, 0 or more; a water not named has no part).

    Ions, alkalinity and carbon mix in proportion, then pH is solved; air of `air_co2_ppm` [ppm] gives the standing pH.
    Raises BadInput for a name without a water, a part below 0 or not finite, and parts that are all 0.
    Source: conservation of mass and of alkalinity, as `carbonate.mix`.
    """
    shares = _shares(waters, parts)
    mixed, so_far = None, 0.0
    for name, share in shares.items():
        so_far += share
        mixed = waters[name] if mixed is None else mix(mixed, waters[name], share / so_far)
    assert mixed is not None
    return Blend(
        shares=shares,
        sample=mixed,
        standing_pH=aerated_ph(mixed, air_co2_ppm),
        hardness_mg_l_caco3=hardness_mg_l_caco3(mixed),
        nitrate_mg_l_no3=mixed.nitrate_mg_l_n * NITRATE_G_PER_MOL / NITROGEN_G_PER_MOL,
        unfit=unfit_for_drinking(mixed),
    )


def share_for_hardness(hard: Sample, soft: Sample, wanted: float, unit: str = "mg/L") -> float:
    """Share of `hard`, 0-1, in a mix with `soft` that has the hardness `wanted` in "mg/L" (as CaCO3), "gpg" or "dH".

    (wanted - soft) / (hard - soft); the two may be given in either order. Raises BadInput for another unit, and where
    the hardness is not between theirs. 1 gpg = 17.118, 1 dH = 17.848 mg/L as CaCO3.
    Source: conservation of mass; the parts as keepers of fish reckon them: common practice, no source.
    """
    target = _in_mg_l(wanted, unit)
    of_hard, of_soft = hardness_mg_l_caco3(hard), hardness_mg_l_caco3(soft)
    if of_hard == of_soft or not min(of_hard, of_soft) <= target <= max(of_hard, of_soft):
        size = HARDNESS_UNITS[unit]
        raise BadInput(
            f"These two waters mix to no hardness of {wanted:g} {unit}: "
            f"they have {of_hard / size:.1f} and {of_soft / size:.1f}.",
            "Ask for a hardness between theirs, or take another water.",
        )
    return min(max((target - of_soft) / (of_hard - of_soft), 0.0), 1.0)


def blend_for_hardness(waters: Mapping[str, Sample], wanted: float, unit: str = "mg/L") -> Blend:
    """The two `waters` mixed to the hardness `wanted` in `unit`. Raises BadInput for other than two waters, and as
    `share_for_hardness` does. Source: as `share_for_hardness`.
    """
    if len(waters) != 2:
        raise BadInput(f"{len(waters)} waters were named; a wanted hardness is solved for two.", "Name two waters.")
    (first, a), (second, b) = waters.items()
    share = share_for_hardness(a, b, wanted, unit)
    return blend(waters, {first: share, second: 1.0 - share})


def unfit_for_drinking(sample: Sample) -> tuple[str, ...]:
    """Why `sample` is unfit to drink by nitrate (from 10 mg/L as N) or sodium (20 mg/L for restricted diets, 60 mg/L by
    taste), in words. Bacteria, metals and all else are not judged. Source: 40 CFR 141; EPA 822-R-03-006.
    """
    found, sodium = [], sample.sodium_mg_l
    if sample.nitrate_mg_l_n >= NITRATE_LIMIT_MG_L_N:
        found.append(
            f"Not for drinking: nitrate {sample.nitrate_mg_l_n:.1f} mg/L as N is at or over the limit of 10 "
            "(40 CFR 141), and never for infants under 6 months; boiling makes it stronger."
        )
    if sodium > SODIUM_TASTE_MG_L:
        found.append(
            f"Not for drinking on a restricted diet: sodium {sodium:.0f} mg/L is over 20, and over the 60 where it is "
            "tasted (EPA 822-R-03-006). Ask a doctor."
        )
    elif sodium > SODIUM_RESTRICTED_MG_L:
        found.append(
            f"Not for people held to 500 mg of sodium a day: sodium {sodium:.0f} mg/L is over 20 (EPA 822-R-03-006). "
            "Ask a doctor."
        )
    return tuple(found)


def _shares(waters: Mapping[str, Sample], parts: Mapping[str, float]) -> dict[str, float]:
    for name, part in parts.items():
        if name not in waters:
            raise BadInput(f"There is no water named {name!r}.", f"Take one of: {', '.join(waters)}.")
        if not isfinite(part) or part < 0.0:
            raise BadInput(f"The part of {name} is {part:g}; it must be 0 or more.", "Check the parts.")
    total = sum(parts.values())
    if not isfinite(total) or total <= 0.0:
        raise BadInput("Nothing to mix: all parts are 0, or far too large.", "Give at least one water a part above 0.")
    return {name: part / total for name, part in parts.items() if part / total > 0.0}


def _in_mg_l(wanted: float, unit: str) -> float:
    if unit not in HARDNESS_UNITS:
        raise BadInput(f"Hardness in {unit!r} is not known.", "Say mg/L (as CaCO3), gpg or dH.")
    if not isfinite(wanted) or wanted < 0.0:
        raise BadInput(f"A hardness of {wanted:g} {unit} is not possible.", "Give a number of 0 or more.")
    return wanted * HARDNESS_UNITS[unit]
