"""What the acid neutralizer's media give to the water: how far they can go, and how much dissolves."""

from __future__ import annotations

from collections.abc import Callable

import msgspec

from model.errors import BadInput
from model.water import equilibrium
from model.water.carbonate import dissolve, dosed_totals
from model.water.constants import CACO3_G_PER_MOL, MGO_G_PER_MOL, constants_at
from model.water.equilibrium import State
from model.water.roots import rising_bracket, rising_root
from model.water.sample import Sample

MAGNESIA_PH_LIMIT = 10.0
"""pH near which hydrated magnesia stops dissolving (from memory; owner's default)."""

_FIRST_MG_L = 50.0
_MOST_MG_L = 51_200.0


class Dissolved(msgspec.Struct, frozen=True, kw_only=True):
    """Media dissolved per cubic metre of house water [g/m3], and the house water after the bed and its bypass."""

    calcite_g_per_m3: float
    magnesia_g_per_m3: float
    sample: Sample


def calcite_limit_mmol_l(sample: Sample) -> float:
    """CaCO3 [mmol/L] that brings `sample` to saturation with calcite (index 0), no gas lost; 0 where it is there.

    Range: as `dissolve`. Source: calcite constant of Plummer and Busenberg 1982.
    """
    return _limit_mg_l(sample, 0.0) / CACO3_G_PER_MOL


def media_limit(sample: Sample, magnesia_share: float) -> tuple[float, float]:
    """CaCO3 and MgO [mmol/L] that a bed with mass share `magnesia_share` (0-1) of magnesia dissolves at most.

    The calcite saturation index of 0 bounds the whole mix, and pH 10 bounds magnesia in a water without calcium.
    In doubt: magnesia goes on dissolving past calcite saturation where water stands beside it, so a real bed can go
    higher; in flowing water the two need not dissolve in proportion to their masses.
    """
    return _moles(_limit_mg_l(sample, magnesia_share), magnesia_share)


def dose_for_ph(sample: Sample, target_pH: float, magnesia_share: float) -> tuple[float, float]:
    """CaCO3 and MgO [mmol/L] that bring `sample` to `target_pH`, dissolving in proportion to their masses.

    `magnesia_share` is the mass share of MgO, 0-1. The root of C(target, alkalinity + 2 dose) - C - CaCO3 = 0, which
    rises with the dose. Zero where the water is at or above the target. Raises BadInput where no dose up to 51 g/L
    gets there. Source: stoichiometry as in `dissolve`.
    """
    if target_pH <= sample.pH:
        return 0.0, 0.0
    k, totals = constants_at(sample.temperature_c), equilibrium.totals_of(sample)
    carbon = equilibrium.at_ph(k, totals, sample.pH).total_carbon

    def lacking(media_mg_l: float) -> float:
        caco3, mgo = _moles(media_mg_l * 1e-3, magnesia_share)
        return equilibrium.at_ph(k, dosed_totals(totals, caco3, mgo), target_pH).total_carbon - carbon - caco3

    high = rising_bracket(lacking, _FIRST_MG_L, _MOST_MG_L)
    if high is None:
        raise BadInput(
            f"No amount of this media brings water of pH {sample.pH:.1f} to pH {target_pH:.1f}.",
            "Check both pH readings and the share of magnesia.",
        )
    return _moles(_root_from_zero(lacking, high), magnesia_share)


def neutralize(
    raw: Sample, magnesia_share: float, bypass_share: float, approach_share: float, measured_pH: float | None
) -> Dissolved:
    """House water after a neutralizer bed and its bypass, and the media it took.

    With `measured_pH` (of the mixed water) the dose per litre of mixed water is the one that gives that pH: both
    streams start as `raw` and mass balance is linear, so the bypass cancels out. Without it the bed stream gets
    `approach_share` (0-1) of `media_limit` and `bypass_share` (0-1) of the water goes round the bed, so that a litre
    of house water holds (1 - bypass) of the bed's dose. Shares 0-1; grams exactly match alkalinity and hardness gained.
    """
    if measured_pH is not None:
        caco3, mgo = dose_for_ph(raw, measured_pH, magnesia_share)
    else:
        part = approach_share * (1.0 - bypass_share)
        caco3, mgo = (part * dose for dose in media_limit(raw, magnesia_share))
    return dissolved(raw, caco3, mgo)


def dissolved(raw: Sample, caco3: float, mgo: float) -> Dissolved:
    """`raw` with CaCO3 and MgO [mmol/L] dissolved in it, and the grams of both [g/m3]."""
    return Dissolved(
        calcite_g_per_m3=caco3 * CACO3_G_PER_MOL,
        magnesia_g_per_m3=mgo * MGO_G_PER_MOL,
        sample=dissolve(raw, caco3, mgo),
    )


def _moles(media_mass: float, magnesia_share: float) -> tuple[float, float]:
    """CaCO3 and MgO [mmol] in a mass of media [mg]."""
    return media_mass * (1.0 - magnesia_share) / CACO3_G_PER_MOL, media_mass * magnesia_share / MGO_G_PER_MOL


def _limit_mg_l(sample: Sample, magnesia_share: float) -> float:
    """Media [mg/L] at which calcite is saturated, or the pH limit of magnesia is reached where that comes first."""
    k, totals = constants_at(sample.temperature_c), equilibrium.totals_of(sample)
    raw = equilibrium.at_ph(k, totals, sample.pH)

    def beyond(state: State) -> float:
        index = equilibrium.saturation_index(k, state)
        return max(index, state.pH - MAGNESIA_PH_LIMIT) if magnesia_share > 0.0 else index

    def beyond_with(media_mg_l: float) -> float:
        caco3, mgo = _moles(media_mg_l * 1e-3, magnesia_share)
        return beyond(equilibrium.at_carbon(k, dosed_totals(totals, caco3, mgo), raw.total_carbon + caco3, raw))

    if beyond(raw) >= 0.0:
        return 0.0
    high = rising_bracket(beyond_with, _FIRST_MG_L, _MOST_MG_L)
    return _MOST_MG_L if high is None else _root_from_zero(beyond_with, high)


def _root_from_zero(f: Callable[[float], float], high: float) -> float:
    """Root of the rising `f` between 0 and `high`; 0 where it is already there at no dose."""
    return rising_root(f, 0.0, high) if f(0.0) < 0.0 else 0.0
