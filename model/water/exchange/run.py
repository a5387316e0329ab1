"""A softener's anion bed between two regenerations: when nitrate comes, how high it goes, when the worst is over."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

import msgspec

from model.errors import BadInput
from model.water.exchange.checks import all_within
from model.water.exchange.columns import (
    Column,
    Transfer,
    check_column,
    dimensionless,
    equilibrium,
    kinetic_curve,
    passage_end_bv,
)
from model.water.exchange.curve import Curve, first_above, first_plateau, passage
from model.water.exchange.fronts import quick_curve
from model.water.exchange.resins import IONS, ResinData
from model.water.exchange.waves import Elution

_N = 14.007
_NITRATE = IONS.index("NO3")
_TRACE = 1e-6
_CHLORIDE_FORM = {"Cl": 1.0}

Method = Literal["quick", "kinetic"]

USABLE_SHARE = 0.40
"""Share of the total capacity that a household's salt dose brings back, until a breakthrough profile says. From
memory; owner's default."""


class Run(msgspec.Struct, frozen=True, kw_only=True):
    """Nitrate after an anion bed, from a regeneration on, if no further one follows.

    `early_l` [L]: the early edge, where nitrate first passes the action level; plans use this. `half_l` [L]: half of
    the plateau first reached. Each is None where that never happens. `plateau_mg_l_n`, `peak_mg_l_n` [mg/L as N]:
    the level first risen to between blurred fronts, and the highest. `dumps`: more comes out than is in the raw water
    for a while. `peak_ends_l` [L]: half-way back from the peak to the raw water, None without a peak.
    `method`: which answer this is. `overlap`: fronts run into one another; the quick early edge then errs early, by a
    twentieth as a rule and by half or more at worst, and the numerical column says better.
    """

    early_l: float | None
    half_l: float | None
    plateau_mg_l_n: float
    peak_mg_l_n: float
    dumps: bool
    peak_ends_l: float | None
    method: Method
    overlap: bool = False


_NOTHING = Run(
    early_l=None, half_l=None, plateau_mg_l_n=0.0, peak_mg_l_n=0.0, dumps=False, peak_ends_l=None, method="quick"
)


def nitrate_run(
    feed_meq_l: Mapping[str, float],
    resin: ResinData,
    bed_l: float,
    flow_l_per_min: float,
    action_mg_l_n: float,
    usable_share: float = USABLE_SHARE,
    *,
    method: Literal["quick", "kinetic", "auto"] = "quick",
    resin_fractions: Mapping[str, float] = _CHLORIDE_FORM,
) -> Run:
    """How nitrate comes through `bed_l` [L] of resin at `flow_l_per_min` [L/min], the flow at which water is drawn.

    `feed_meq_l` HCO3, Cl, NO3 and SO4 [meq/L], 0 to 1,000, what is left out is 0; `action_mg_l_n` above 0 [mg/L as
    N]; `usable_share` above 0 to 1 scales the capacity, so that every litre counts as if that share of the resin
    stood in the bed fully renewed, while sulfate's coefficient keeps the bead's whole capacity. `resin_fractions`
    equivalent fractions on the resin after the regeneration (pure chloride).

    "quick" takes one to three milliseconds and is for plans: where the fronts stand apart its early edge is within 5 %
    of the numerical column as a rule, and up to a tenth late in short beds at fast flows (more in tiny ones); where
    they overlap it mostly errs early. "kinetic" solves the column in a tenth to half of a
    second (the last answers are kept) and is for a page that shows one run. "auto" is quick where the fronts stand
    apart and kinetic where they overlap. A higher flow gives the earlier edge: ask with the flow the house really
    draws. A water without nitrate gives an answer without litres. Raises BadInput for anything out of range.
    Source: Helfferich and Klein 1970 (from memory), film and bead diffusion as in the US EPA's open
    Water_Treatment_Models; usable share from memory, owner's default.
    """
    asked = _column(feed_meq_l, resin, usable_share, resin_fractions)
    check_column(asked)
    all_within("The resin in the tank [L]", [bed_l], 0.01, 1e5)
    all_within("The flow [L/min]", [flow_l_per_min], 1e-3, 1e4)
    all_within("The action level [mg/L as N]", [action_mg_l_n], 1e-3, 1e4)
    feed = asked.feed_meq_l[_NITRATE] / sum(asked.feed_meq_l)
    if feed < _TRACE and not resin_fractions.get("NO3"):
        return _NOTHING
    found = equilibrium(asked)
    curve, used, overlap = _curve(asked, _rates(resin, bed_l, flow_l_per_min), found, method)
    plateau = first_plateau([state[_NITRATE] for state in found.states()])
    seen = passage(curve, _NITRATE, max(feed, _TRACE), plateau)
    mg_l, most = sum(asked.feed_meq_l) * _N, seen.peak_over_feed * max(feed, _TRACE)
    return Run(
        early_l=_litres(first_above(curve, _NITRATE, action_mg_l_n / mg_l), bed_l),
        half_l=_litres(seen.half_plateau_bv, bed_l),
        plateau_mg_l_n=min(plateau, most) * mg_l,
        peak_mg_l_n=most * mg_l,
        dumps=seen.dumps,
        peak_ends_l=_litres(seen.peak_ends_bv, bed_l),
        method=used,
        overlap=overlap,
    )


def _rates(resin: ResinData, bed_l: float, flow_l_per_min: float) -> Transfer:
    return Transfer(
        film_cm_s=resin.film_coefficient_cm_s,
        bead_radius_cm=resin.bead_radius_cm,
        surface_diffusion_cm2_s=resin.surface_diffusion_cm2_s,
        contact_s=bed_l / flow_l_per_min * 60.0,
    )


def _curve(asked: Column, rates: Transfer, found: Elution, method: str) -> tuple[Curve, Method, bool]:
    """The curve by the method asked for, which method that was, and whether fronts overlap."""
    curve, overlap = quick_curve(found, dimensionless(asked, rates), _NITRATE)
    if method == "quick" or (method == "auto" and not overlap):
        return curve, "quick", overlap
    return kinetic_curve(asked, rates, passage_end_bv(found, _NITRATE)), "kinetic", overlap


def _litres(bed_volumes: float | None, bed_l: float) -> float | None:
    return None if bed_volumes is None else bed_volumes * bed_l


def _column(
    feed_meq_l: Mapping[str, float], resin: ResinData, usable_share: float, resin_fractions: Mapping[str, float]
) -> Column:
    unknown = [ion for ion in (*feed_meq_l, *resin_fractions) if ion not in IONS]
    if unknown:
        raise BadInput(f"{unknown[0]} is not an anion that the resin is reckoned with.", f"Known: {', '.join(IONS)}.")
    all_within("The usable share of the capacity", [usable_share], 1e-3, 1.0)
    all_within("A concentration in the feed [meq/L]", feed_meq_l.values(), 0.0, 1e3)
    # The bead's whole capacity stays behind sulfate's coefficient: scaled up by what the column's capacity lacks.
    strengths = zip(resin.factors(), resin.valences(), strict=True)
    return Column(
        feed_meq_l=tuple(float(feed_meq_l.get(ion, 0.0)) for ion in IONS),
        resin_fractions=tuple(float(resin_fractions.get(ion, 0.0)) for ion in IONS),
        factors=tuple(factor / usable_share if valence == 2 else factor for factor, valence in strengths),
        valences=resin.valences(),
        capacity_meq_l=1000.0 * resin.capacity_eq_l * usable_share,
        porosity=resin.porosity,
    )
