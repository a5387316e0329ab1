"""What only a laboratory finds: bacteria, metals and nitrite against their limits, in words for the household."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec

from model.plan_types import Level

ASK = "Have a certified lab confirm it and follow your health authority."
"""How every health alert ends."""

LEAD_ACTION_MG_L, LEAD_COMING_MG_L = 0.015, 0.010
"""Lead action level [mg/L] (Wisconsin NR 809), and the one from November 2027 (2024 US rule, from memory)."""

COPPER_ACTION_MG_L, COPPER_TASTE_MG_L = 1.3, 1.0
"""Copper action level [mg/L] (Wisconsin NR 809) and secondary limit (40 CFR 143.3)."""

NITRATE_AND_NITRITE_MG_L_N = 10.0
"""Federal limit for both together [mg/L as N]. Source: Pontius, AWWA Opflow 1993."""

_ACID_BELOW = 7.0
_SOFT_WORDS = "This water is acid (pH {pH:.1f}) and eats pipes and solder: raise the pH, and test again."


class Limit(msgspec.Struct, frozen=True, kw_only=True):
    """A limit on what is dangerous before it can be tasted: quantity, name, most allowed [mg/L], source."""

    quantity: str
    name: str
    most_mg_l: float
    source: str
    basis: str = "mg/L"


LIMITS = (
    Limit(quantity="nitrite", name="Nitrite", most_mg_l=1.0, source="federal, Pontius, Opflow 1993", basis="mg/L as N"),
    Limit(quantity="arsenic", name="Arsenic", most_mg_l=0.010, source="40 CFR 141"),
    Limit(quantity="uranium", name="Uranium", most_mg_l=0.030, source="federal, from memory"),
    Limit(quantity="fluoride", name="Fluoride", most_mg_l=4.0, source="federal, from memory; taste 2.0, 40 CFR 143.3"),
)
"""Federal limits of what a household may have had tested."""

MEASURED = (*(limit.quantity for limit in LIMITS), "lead", "copper")
"""Quantities that count only where they were measured at the point itself."""


def trace_alerts(
    measured: Mapping[str, float], pH: float | None, nitrate_mg_l_n: float | None, is_drinking: bool
) -> list[tuple[Level, str]]:
    """Alerts of values measured at one point [mg/L; nitrite mg/L as N], with the pH there and its nitrate [mg/L as N].

    Where nobody drinks (`is_drinking` False) everything is a warning. A value at its limit is told.
    """
    health: Level = "danger" if is_drinking else "warning"
    end = f"Do not drink it until it tests clean. {ASK}" if is_drinking else f"Test the taps you drink from. {ASK}"
    found: list[tuple[Level, str]] = [
        (health, f"{limit.name} {shown(measured[limit.quantity], limit)}: at or above {limit.source}. {end}")
        for limit in LIMITS
        if measured.get(limit.quantity, 0.0) >= limit.most_mg_l
    ]
    return [*found, *_sum(measured, nitrate_mg_l_n, health, end), *_lead(measured, pH, health), *_copper(measured, pH)]


def bacteria_alerts(coliform: bool | None, e_coli: bool | None, is_drinking: bool) -> list[tuple[Level, str]]:
    """The alert of a coliform or E. coli result; a present one outranks everything. None: never tested."""
    if not (coliform or e_coli):
        return []
    what = "E. coli, a coliform of faeces," if e_coli else "bacteria"
    if not is_drinking:
        return [("warning", f"Coliform {what} found here (goal: none, 40 CFR 141). Not for drinking. {ASK}")]
    text = (
        f"Coliform {what} found: do not drink this water (goal: none, 40 CFR 141). Until it tests clean, use bottled "
        f"water, or boiled where raw nitrate is known to be low. {ASK}"
    )
    return [("danger", text)]


def shown(value: float, limit: Limit) -> str:
    """A value [mg/L] with its limit: "60 µg/L, limit 15"."""
    if limit.most_mg_l < 0.1:
        return f"{value * 1000.0:.3g} µg/L, limit {limit.most_mg_l * 1000.0:g}"
    return f"{value:.3g} {limit.basis}, limit {limit.most_mg_l:g}"


def _sum(
    measured: Mapping[str, float], nitrate_mg_l_n: float | None, health: Level, end: str
) -> list[tuple[Level, str]]:
    """Nitrate and nitrite together, where neither alone is over."""
    nitrite, nitrate = measured.get("nitrite", 0.0), nitrate_mg_l_n or 0.0
    if nitrite <= 0.0 or nitrite >= 1.0 or nitrate >= NITRATE_AND_NITRITE_MG_L_N:
        return []
    if nitrate + nitrite < NITRATE_AND_NITRITE_MG_L_N:
        return []
    text = f"Nitrate and nitrite together {nitrate + nitrite:.1f} mg/L as N: at or above 10 (federal, Pontius 1993)."
    return [(health, f"{text} Boiling makes both stronger. {end}")]


def _lead(measured: Mapping[str, float], pH: float | None, health: Level) -> list[tuple[Level, str]]:
    lead = measured.get("lead", 0.0)
    if lead < LEAD_COMING_MG_L:
        return []
    shown, acid = f"Lead {lead * 1000.0:.3g} µg/L", _acid(pH)
    if lead < LEAD_ACTION_MG_L:
        return [
            ("warning", f"{shown}: at or above 10, the US action level from November 2027 (from memory).{acid} {ASK}")
        ]
    text = (
        f"{shown}: at or above the action level of 15 (Wisconsin NR 809). No lead is safe for a child. Drink from a "
        f"tap that tests clean, never boil it away, and run the cold tap first.{acid} {ASK}"
    )
    return [(health, text)]


def _copper(measured: Mapping[str, float], pH: float | None) -> list[tuple[Level, str]]:
    copper = measured.get("copper", 0.0)
    if copper < COPPER_TASTE_MG_L:
        return []
    shown, acid = f"Copper {copper:.3g} mg/L", _acid(pH)
    if copper < COPPER_ACTION_MG_L:
        return [("note", f"{shown}: at or above 1.0 (secondary limit, 40 CFR 143.3): taste and stains.{acid}")]
    return [("warning", f"{shown}: at or above the action level of 1.3 (Wisconsin NR 809).{acid} {ASK}")]


def _acid(pH: float | None) -> str:
    return f" {_SOFT_WORDS.format(pH=pH)}" if pH is not None and pH < _ACID_BELOW else ""
