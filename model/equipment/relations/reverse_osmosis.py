"""Reverse osmosis: temperature, pressure, rejection and recovery."""

from __future__ import annotations

from model.equipment.relations.check import at_least, positive
from model.errors import BadInput

_FIRST_C = 5
_FACTORS = (
    *(0.521, 0.540, 0.560, 0.578, 0.598, 0.620, 0.640, 0.661, 0.684, 0.707),
    *(0.730, 0.754, 0.779, 0.804, 0.830, 0.857, 0.884, 0.912, 0.941, 0.970),
    *(1.000, 1.031, 1.063, 1.094, 1.127, 1.161, 1.196, 1.232, 1.267, 1.304),
)
PSI_BAR = 0.0689476
"""One pound per square inch [bar]. Source: NIST SP 811."""


def temperature_factor(temperature_c: float) -> float:
    """Share of the rated output, which is at 25 degC, at another temperature [degC]; 1 at 25.

    Straight lines between whole degrees, 5 to 34; the end values outside. A US Army table (TM 10-4610-309-14) gives
    some 11 % more at 5 degC and 6 % more at 10: this is the more cautious. Source: common practice, no source.
    """
    at = min(max(temperature_c - _FIRST_C, 0.0), len(_FACTORS) - 1.0)
    low = min(int(at), len(_FACTORS) - 2)
    return _FACTORS[low] + (_FACTORS[low + 1] - _FACTORS[low]) * (at - low)


def osmotic_bar(tds_mg_l: float) -> float:
    """Osmotic pressure [bar] of dissolved solids [mg/L]: 1 psi per 100 mg/L. Raises BadInput for a negative.

    About 20 % low for pure sodium chloride. Source: common practice, no source.
    """
    at_least("dissolved solids", tds_mg_l, 0.0)
    return tds_mg_l / 100.0 * PSI_BAR


def net_pressure_bar(feed_bar: float, back_bar: float, osmotic_bar: float) -> float:
    """Net driving pressure [bar]: feed [bar] less back pressure [bar] less osmotic pressure [bar], never below 0.

    Raises BadInput for negatives. Source: Water Quality Association education kit, reverse osmosis sizing.
    """
    for what, value in (("feed pressure", feed_bar), ("back pressure", back_bar), ("osmotic pressure", osmotic_bar)):
        at_least(what, value, 0.0)
    return max(feed_bar - back_bar - osmotic_bar, 0.0)


def permeate_l_per_day(rated_l_per_day: float, rated_bar: float, net_bar: float, temperature_c: float) -> float:
    """Product water [L/day] of a membrane rated [L/day] at `rated_bar` [bar], at another net pressure [bar] and [degC].

    Raises BadInput for a rating not above 0. Source: Water Quality Association education kit: flow in proportion to net
    pressure and to the temperature factor.
    """
    positive("rated output", rated_l_per_day)
    positive("rated pressure", rated_bar)
    at_least("net pressure", net_bar, 0.0)
    return rated_l_per_day * net_bar / rated_bar * temperature_factor(temperature_c)


def rejection(feed_tds_mg_l: float, product_tds_mg_l: float) -> float:
    """Share of dissolved solids held back [0-1]: feed and product [mg/L]; negative where the product is the saltier.

    Raises BadInput for a feed not above 0. Source: definition, NSF/ANSI 58.
    """
    positive("feed solids", feed_tds_mg_l)
    at_least("product solids", product_tds_mg_l, 0.0)
    return 1.0 - product_tds_mg_l / feed_tds_mg_l


def feed_l(product_l: float, recovery: float) -> float:
    """Feed [L], product and reject together, for so much product [L] at a recovery [0-1].

    Raises BadInput for a recovery not above 0 or above 1. Source: definition of recovery, NSF/ANSI 58.
    """
    at_least("product", product_l, 0.0)
    if not 0.0 < recovery <= 1.0:
        raise BadInput(f"The recovery must be above 0 and at most 1, not {recovery:g}.")
    return product_l / recovery
