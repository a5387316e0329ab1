"""A water against published limits, in words for the household."""

from __future__ import annotations

from collections.abc import Mapping
from math import isfinite

from model.errors import BadInput
from model.plan_types import Alert, Level
from model.water.balance import tds_mg_l
from model.water.constants import CACO3_MG_PER_MEQ, NITRATE_G_PER_MOL, NITROGEN_G_PER_MOL
from model.water.sample import Sample
from model.water.traces import ASK, bacteria_alerts, trace_alerts

NITRATE_LIMIT_MG_L_N = 10.0
"""Federal limit [mg/L as N]. Source: MassDEP ORS 1996; 40 CFR 141."""

NITRATE_ACTION_MG_L_N = 5.0
"""Where to start looking for the cause and test more often [mg/L as N]: owner's default, no source."""

SODIUM_RESTRICTED_MG_L = 20.0
"""For people held to 500 mg of sodium a day. Source: EPA sodium guidance (EPA 822-R-03-006)."""

GLASS_L, DRUNK_L_PER_DAY = 0.25, 2.0
"""A glass [L], and what an adult drinks in a day [L] (EPA sodium guidance, EPA 822-R-03-006)."""

PH_LOW, PH_HIGH = 6.5, 8.5
IRON_MG_L, MANGANESE_MG_L = 0.3, 0.05
SULFATE_MG_L = CHLORIDE_MG_L = 250.0
TDS_MG_L = 500.0
"""The secondary limits, which nobody enforces. Source: 40 CFR 143.3."""

_SECONDARY = "secondary limit, 40 CFR 143.3"
_PER_MG_N = {
    "N": 1.0,
    "NO3": NITROGEN_G_PER_MOL / NITRATE_G_PER_MOL,
    "CaCO3": NITROGEN_G_PER_MOL / CACO3_MG_PER_MEQ,
}


def nitrate_mg_l_n(value: float, basis: str) -> float:
    """Nitrate [mg/L as N] from `value` [mg/L] on the basis "N", "NO3" or "CaCO3".

    10 mg/L as N = 44.3 as NO3 = 35.7 as CaCO3. Raises BadInput for any other basis and for a value that is negative
    or not finite. Source: atomic weights IUPAC abridged 2013.
    """
    if basis not in _PER_MG_N:
        raise BadInput(f"Nitrate needs its basis, not {basis!r}.", "Say mg/L as N, as NO3 or as CaCO3.")
    if not isfinite(value) or value < 0.0:
        raise BadInput(f"Nitrate of {value} mg/L is not possible.", "Give a number of 0 or more.")
    return value * _PER_MG_N[basis]


def sodium_mg_per_glass(sodium_mg_l: float) -> float:
    """Sodium in a glass of 250 mL [mg] of water with so much [mg/L]. Source: identity."""
    return sodium_mg_l * GLASS_L


def sodium_mg_per_day(sodium_mg_l: float) -> float:
    """Sodium that drinking 2 L a day brings [mg/day] at so much [mg/L]. Source: 2 L a day, EPA 822-R-03-006."""
    return sodium_mg_l * DRUNK_L_PER_DAY


def limit_alerts(
    point: str,
    sample: Sample,
    coliform_present: bool | None,
    is_drinking: bool,
    nitrate_action_mg_l_n: float = NITRATE_ACTION_MG_L_N,
    measured: Mapping[str, float] | None = None,
    e_coli_present: bool | None = None,
) -> tuple[Alert, ...]:
    """What is wrong with the water at `point`, worst first; coliform bacteria come before everything.

    `coliform_present` and `e_coli_present` are None where never tested. Where nobody drinks (`is_drinking` False)
    bacteria and nitrate are warnings and the limits on taste and sodium are left out. `nitrate_action_mg_l_n`: the
    owner's own level [mg/L as N]. `measured`: lead, copper, arsenic, uranium, fluoride [mg/L] and nitrite [mg/L as N],
    as found at this very point. Where a number is only assumed the text says so.
    """
    found = [
        *bacteria_alerts(coliform_present, e_coli_present, is_drinking),
        *nitrate_alerts(
            sample.nitrate_mg_l_n, is_drinking, nitrate_action_mg_l_n, _if_assumed(sample, "nitrate_mg_l_n")
        ),
        *trace_alerts(measured or {}, sample.pH, sample.nitrate_mg_l_n, is_drinking),
        *_pH(sample),
        *_secondary(sample, is_drinking),
        *(_sodium(sample) if is_drinking else ()),
    ]
    return tuple(Alert(level=level, point=point, text=text) for level, text in found)


def nitrate_alerts(
    nitrate_mg_l_n: float, is_drinking: bool, action: float = NITRATE_ACTION_MG_L_N, how: str = ""
) -> list[tuple[Level, str]]:
    """What a nitrate [mg/L as N] means: against the limit of 10 and the owner's action level [mg/L as N].

    `how` says where the number comes from. Source: 40 CFR 141; boiling, Penn State Extension.
    """
    shown, nitrate = f"Nitrate {nitrate_mg_l_n:.1f} mg/L as N{how}", nitrate_mg_l_n
    if nitrate >= NITRATE_LIMIT_MG_L_N:
        if not is_drinking:
            return [("warning", f"{shown}: at or above the limit of 10 (40 CFR 141). Not for drinking. {ASK}")]
        text = (
            f"{shown}: at or above the drinking limit of 10 (40 CFR 141). Never for infants under 6 months, nor for "
            f"their formula. Do not boil it: boiling makes nitrate stronger. {ASK}"
        )
        return [("danger", text)]
    if is_drinking and nitrate >= action:
        return [("warning", f"{shown}: above your action level of {action:g} (owner's default); limit 10. Test again.")]
    return []


def _pH(sample: Sample) -> list[tuple[Level, str]]:
    shown = f"pH {sample.pH:.1f}: outside {PH_LOW:g}-{PH_HIGH:g} ({_SECONDARY})."
    if sample.pH < PH_LOW:
        return [("warning", f"{shown} Acid water takes lead and copper out of pipes: have a lab test both.")]
    if sample.pH > PH_HIGH:
        return [("warning", f"{shown} It tastes bitter and forms scale; check what raises it.")]
    return []


def _secondary(sample: Sample, is_drinking: bool) -> list[tuple[Level, str]]:
    rows = [
        ("Iron", sample.iron_mg_l, IRON_MG_L, "iron_mg_l", "stains, and fouls resin and lamp sleeve"),
        ("Manganese", sample.manganese_mg_l, MANGANESE_MG_L, "manganese_mg_l", "black stains, and fouls resin"),
    ]
    if is_drinking:
        rows += [
            ("Sulfate", sample.sulfate_mg_l, SULFATE_MG_L, "sulfate_mg_l", "taste, and may loosen the bowels"),
            ("Chloride", sample.chloride_mg_l, CHLORIDE_MG_L, "chloride_mg_l", "salty taste, and corrosion"),
            ("Dissolved solids", tds_mg_l(sample), TDS_MG_L, "", "taste"),
        ]
    return [
        ("note", f"{name} {value:.3g} mg/L{_if_assumed(sample, field)}: above {limit:g} ({_SECONDARY}): {effect}.")
        for name, value, limit, field, effect in rows
        if value > limit
    ]


def _sodium(sample: Sample) -> list[tuple[Level, str]]:
    if sample.sodium_mg_l <= SODIUM_RESTRICTED_MG_L:
        return []
    glass, day = sodium_mg_per_glass(sample.sodium_mg_l), sodium_mg_per_day(sample.sodium_mg_l)
    text = (
        f"Sodium {sample.sodium_mg_l:.0f} mg/L{_if_assumed(sample, 'sodium_mg_l')}, {glass:.0f} mg in a glass of 250 "
        f"mL and {day:.0f} mg in 2 L a day: above 20 mg/L, the EPA figure for a diet held to 500 mg of sodium a day. "
        "On a restricted diet ask your doctor; no limit for others."
    )
    return [("note", text)]


def _if_assumed(sample: Sample, field: str) -> str:
    return " (estimated, not tested)" if field in sample.assumed else ""
