"""The neutralizer as a whole: bed and bypass mixed, calibration by the owner's pH, the valve, and standing water."""

from __future__ import annotations

from collections.abc import Sequence
from math import exp, log

import msgspec

from model.errors import BadInput
from model.water import equilibrium
from model.water.balance import hardness_mg_l_caco3
from model.water.carbonate import dissolve, dosed_totals
from model.water.constants import CACO3_G_PER_MOL, SODIUM_G_PER_MOL, constants_at
from model.water.contactor import Bed, bed_doses
from model.water.dissolution import brucite_saturation_index
from model.water.media import Dissolved, calcite_limit_mmol_l, dissolved
from model.water.roots import rising_bracket, rising_root
from model.water.sample import Sample

LEAST_FACTOR, MOST_FACTOR = 0.02, 50.0
"""How far calibration may move the published rates. Owner's default: beyond it a reading or a setting is wrong."""

STANDING_HOURS = 8.0
"""A night [h]: common practice, no source."""

LEAST_SHARE_OF_RATE = 0.01
"""Share of the published rate that coated or nearly spent magnesia may still have: from memory; owner's default."""

_NO_SALT = 2.0 * SODIUM_G_PER_MOL / CACO3_G_PER_MOL
_MOST_MGO_MOL_L = 0.6


class Standing(msgspec.Struct, frozen=True, kw_only=True):
    """pH of water that stood in the bed: the least, a likely and the most to expect, and what that means in words."""

    low_pH: float
    likely_pH: float
    high_pH: float
    text: str


class ValvePoint(msgspec.Struct, frozen=True, kw_only=True):
    """House water at one setting of the blend valve; media dissolved per m3 of house water.

    `softened_sodium_mg_l`: sodium after a softener that takes all of the hardness out with sodium chloride.
    """

    bypass_share: float
    pH: float
    hardness_mg_l_caco3: float
    alkalinity_mg_l_caco3: float
    calcite_g_per_m3: float
    magnesia_g_per_m3: float
    softened_sodium_mg_l: float


def outlet(raw: Sample, bed: Bed) -> Dissolved:
    """House water after `bed` and its bypass mixed, and the media it took [g/m3 of house water].

    Both streams start as `raw`, so a litre of house water holds (1 - bypass) of the bed's dose; pH is solved from the
    mixed alkalinity and carbon. The grams are exactly the alkalinity and hardness gained.
    Source: mass balance; `bed_doses` for the dose.
    """
    passing = 1.0 - bed.bypass_share
    caco3, mgo = (passing * dose for dose in bed_doses(raw, bed))
    return dissolved(raw, caco3, mgo)


def calibrated(raw: Sample, bed: Bed, measured_pH: float) -> Bed:
    """`bed` with the one `rate_factor`, 0.02 to 50, at which its mixed water has `measured_pH`.

    Raises BadInput where no factor in that range explains the reading. Source: the root of `outlet`'s pH.
    """

    def short(log_factor: float) -> float:
        return outlet(raw, _with(bed, rate_factor=exp(log_factor))).sample.pH - measured_pH

    low, high = log(LEAST_FACTOR), log(MOST_FACTOR)
    if not short(low) < 0.0 < short(high):
        raise BadInput(
            f"No rate of these media gives pH {measured_pH:.1f} after the tank from raw water of pH {raw.pH:.1f}.",
            "Check both readings, the bed depth, the bypass and the flow; water that stood in the tank reads too high.",
        )
    return _with(bed, rate_factor=exp(rising_root(short, low, high, 1e-9)))


def bypass_for_ph(raw: Sample, bed: Bed, wanted_pH: float) -> float:
    """Share of the flow, 0-1, to send round `bed` so that the mixed water has `wanted_pH`.

    More bypass is less pH, though what still passes the bed stays longer in it. Raises BadInput where the valve cannot
    do it: the raw water is there already, or the bed alone does not get so far. Source: the root of `outlet`'s pH.
    """
    most = outlet(raw, _with(bed, bypass_share=0.0)).sample.pH
    if not raw.pH <= wanted_pH <= most:
        raise BadInput(
            f"No setting of the valve gives pH {wanted_pH:.1f}: from {raw.pH:.1f} all round to {most:.1f} all through.",
            "Ask for a pH between them, top up the bed, or draw more slowly.",
        )
    if wanted_pH in (raw.pH, most):
        return 0.0 if wanted_pH == most else 1.0

    def short(passing: float) -> float:
        return outlet(raw, _with(bed, bypass_share=1.0 - passing)).sample.pH - wanted_pH

    return 1.0 - rising_root(short, 0.0, 1.0, 1e-9)


def valve_curve(raw: Sample, bed: Bed, shares: Sequence[float]) -> tuple[ValvePoint, ...]:
    """The house water at each bypass share, 0-1: what the valve does to pH, hardness, sodium to come and media use."""
    return tuple(valve_point(raw, _with(bed, bypass_share=share)) for share in shares)


def valve_point(raw: Sample, bed: Bed) -> ValvePoint:
    """The house water at the bypass share of `bed`.

    A softener adds two sodium for each calcium or magnesium, 0.4594 mg per mg of hardness as CaCO3.
    Source: `outlet`; sodium by equivalent weights, IUPAC 2013.
    """
    done = outlet(raw, bed)
    hardness = hardness_mg_l_caco3(done.sample)
    return ValvePoint(
        bypass_share=bed.bypass_share,
        pH=done.sample.pH,
        hardness_mg_l_caco3=hardness,
        alkalinity_mg_l_caco3=done.sample.alkalinity_mg_l_caco3,
        calcite_g_per_m3=done.calcite_g_per_m3,
        magnesia_g_per_m3=done.magnesia_g_per_m3,
        softened_sodium_mg_l=done.sample.sodium_mg_l + _NO_SALT * hardness,
    )


def brucite_limit_mmol_l(sample: Sample) -> float:
    """MgO [mmol/L] that brings `sample` to equilibrium with magnesium hydroxide, no gas lost, nothing precipitating.

    The carbon dioxide is used up first, so soft water with little of it gets there with little magnesia.
    Zero where it is there. Source: log K of wateq4f.dat (USGS).
    """
    k, totals, t = constants_at(sample.temperature_c), equilibrium.totals_of(sample), sample.temperature_c
    raw = equilibrium.at_ph(k, totals, sample.pH)

    def beyond(mgo_mol_l: float) -> float:
        dosed = dosed_totals(totals, 0.0, mgo_mol_l)
        return brucite_saturation_index(dosed, equilibrium.at_carbon(k, dosed, raw.total_carbon, raw), t)

    if beyond(0.0) >= 0.0:
        return 0.0
    high = rising_bracket(beyond, 1e-3, _MOST_MGO_MOL_L)
    return 1e3 * (_MOST_MGO_MOL_L if high is None else rising_root(beyond, 0.0, high))


def depth_for_ph(raw: Sample, bed: Bed, floor_pH: float) -> float | None:
    """Depth of `bed` [cm] at which its mixed water falls to `floor_pH`; 0 where the raw water holds it without a bed,
    None where even `bed` as deep as it is does not reach it. Source: the root of `outlet`'s pH.
    """
    if floor_pH <= raw.pH:
        return 0.0

    def short(bed_cm: float) -> float:
        return outlet(raw, _with(bed, bed_cm=bed_cm)).sample.pH - floor_pH

    return rising_root(short, 0.0, bed.bed_cm, 1e-6) if short(bed.bed_cm) > 0.0 else None


def standing(raw: Sample, bed: Bed, hours: float = STANDING_HOURS) -> Standing:
    """pH of the first draw after `hours` [h] without water use: what stood in `bed`, with its bypass mixed in.

    The likely pH has the contact time of the night at the rates of `bed`. The range: media at a hundredth of them,
    and equilibrium with magnesium hydroxide. Without magnesia all three are that of calcite.
    Source: `bed_doses`, `brucite_limit_mmol_l`; the width of the range is from memory, owner's default.
    """
    flowing, likely = outlet(raw, bed).sample.pH, _stood(raw, bed, hours).pH
    likely = max(likely, flowing)
    if bed.magnesia_share == 0.0 or bed.bed_cm == 0.0:
        text = "Water that stands in calcite comes to its limit and no further."
        return Standing(low_pH=likely, likely_pH=likely, high_pH=likely, text=text)
    low = max(_stood(raw, bed, LEAST_SHARE_OF_RATE * hours).pH, flowing)
    high = max(_at_rest_with_brucite(raw, bed), low)
    return Standing(low_pH=low, likely_pH=min(max(likely, low), high), high_pH=high, text=_standing_words(low, high))


def _standing_words(low: float, high: float) -> str:
    return (
        f"Magnesia goes on dissolving in water that stands: the first draw after a night may read from pH {low:.1f} to "
        f"{high:.1f}. This is an estimate with a wide doubt: measure it. Run the first draw off before drinking it or "
        "filling a fish tank. Above 9, open the blend valve a little (common practice, no source); if it stays so, ask "
        "your certified lab."
    )


def _stood(raw: Sample, bed: Bed, hours: float) -> Sample:
    """House water of a draw so slow that the water that passes is in the bed's pores for `hours`."""
    passing, pores_l = 1.0 - bed.bypass_share, bed.area_cm2 * bed.bed_cm * bed.porosity / 1000.0
    if pores_l * passing == 0.0:
        return raw
    return outlet(raw, _with(bed, flow_l_min=pores_l / (60.0 * hours * passing))).sample


def _at_rest_with_brucite(raw: Sample, bed: Bed) -> float:
    """pH of the house water when the bed's share of it has reached calcite's limit, then magnesium hydroxide's."""
    passing, caco3 = 1.0 - bed.bypass_share, calcite_limit_mmol_l(raw)
    mgo = brucite_limit_mmol_l(dissolve(raw, caco3, 0.0))
    return dissolve(raw, passing * caco3, passing * mgo).pH


def _with(bed: Bed, **fields: float) -> Bed:
    return msgspec.structs.replace(bed, **fields)
