"""The softening resin over the years and over one run, and what a dose of salt buys."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from math import ceil

import msgspec

from model.equipment.relations.brine import SODIUM_CHLORIDE, cation_kg, sodium_chloride_equal_kg
from model.equipment.relations.check import at_least, positive, share
from model.equipment.relations.softener import (
    CUBIC_FOOT_L,
    GPG_MG_L,
    POUND_KG,
    capacity_g_caco3,
    litres_between_regenerations,
)

DOSES_LB_FT3 = (6.0, 8.0, 10.0, 15.0)
"""Doses worth comparing [lb of sodium chloride per ft3 of resin]: the rows of the capacity table."""

EXHAUSTED_MG_L_CACO3 = 17.1
"""Hardness at the outlet at which a run counts as over: 1 grain a gallon. Source: capacity test of NSF/ANSI 44."""

FRONT_SHARE = 0.25
"""Length of a worn front over the length of a run, from 1 grain a gallon to all of the hardness. Owner's default."""

LEAST_DAYS = 3.0
"""Days between regenerations below which a dose is too small. Common practice, no source: 3 to 14 days."""


def capacity_left_share(years: float, loss_share_per_year: float) -> float:
    """Capacity of a resin over that of a new one [0-1] after `years` [year].

    (1 - loss)^years. Raises BadInput for years below 0 or a loss outside 0-1. Source: about 5 % a year, replace at a
    quarter lost: UFC 3-240-13FN p. 21 (for boiler plants; in a house an owner's default).
    """
    at_least("age", years, 0.0)
    share("capacity lost in a year", loss_share_per_year)
    return float((1.0 - loss_share_per_year) ** years)


def outlet_hardness_mg_l_caco3(litres: float, run_l: float, fed_mg_l_caco3: float, leak_mg_l_caco3: float) -> float:
    """Hardness after the resin [mg/L as CaCO3], `litres` [L] into a run whose capacity is `run_l` [L], no reserve.

    The leak up to nine tenths of the run, 17.1 (1 grain a gallon) at its end, then a straight line to the hardness
    fed over a quarter of a run more: past that the resin does nothing. Never above the hardness fed; all in
    [mg/L as CaCO3]. Raises BadInput for a run of 0 or less or a negative.
    Source: end of the run NSF/ANSI 44; the shape of the front is an owner's default, common practice, no source.
    """
    positive("run", run_l)
    for what, value in (("litres", litres), ("hardness", fed_mg_l_caco3), ("leak", leak_mg_l_caco3)):
        at_least(what, value, 0.0)
    end = max(EXHAUSTED_MG_L_CACO3, leak_mg_l_caco3)
    gone = litres / run_l
    if gone <= 1.0:
        rise = max(gone - 0.9, 0.0) / 0.1
        return min(leak_mg_l_caco3 + (end - leak_mg_l_caco3) * rise, fed_mg_l_caco3)
    past = min((gone - 1.0) / FRONT_SHARE, 1.0)
    return min(end + max(fed_mg_l_caco3 - end, 0.0) * past, fed_mg_l_caco3)


def setting_gpg(compensated_mg_l_caco3: float) -> int:
    """Hardness to set on the valve [gpg], whole grains, rounded up, from compensated hardness [mg/L as CaCO3].

    At least 1. Raises BadInput for a negative. Source: 17.118 mg/L a grain, NIST SP 811; rounding up is common
    practice, no source.
    """
    at_least("compensated hardness", compensated_mg_l_caco3, 0.0)
    # A hair over a whole grain is that grain: the reading was not so fine.
    return max(ceil(compensated_mg_l_caco3 / GPG_MG_L - 0.02), 1)


def setting_gpg_for_run(capacity_g: float, run_l: float, reserve_share: float) -> int:
    """Hardness to set [gpg] so that a valve that thinks in grains regenerates after `run_l` [L], rounded up.

    1000 capacity (1 - reserve) / run, `capacity_g` [g as CaCO3]; for when nitrate, not hardness, ends the run.
    Raises BadInput for a capacity or run of 0 or less or a reserve outside 0-1. Source: mass balance.
    """
    positive("capacity", capacity_g)
    positive("run", run_l)
    share("reserve", reserve_share)
    return setting_gpg(1000.0 * capacity_g * (1.0 - reserve_share) / run_l)


class DoseOption(msgspec.Struct, frozen=True, kw_only=True):
    """What one dose of salt buys. `salt_kg` a regeneration [kg]; capacity [g as CaCO3]; run [L]; days between
    regenerations; salt, its sodium or potassium, and its cost in a year [kg, money]; whether nitrate ends the run."""

    salt_lb_per_ft3: float
    salt_kg: float
    capacity_g_caco3: float
    litres_between: float
    days_between: float
    salt_kg_per_year: float
    cation_kg_per_year: float
    cost_per_year: float
    grains_per_lb: float
    by_nitrate: bool


def dose_options(
    resin_l: float,
    compensated_mg_l_caco3: float,
    litres_per_year: float,
    *,
    reserve_share: float = 0.0,
    capacity_share: float = 1.0,
    regenerant: str = SODIUM_CHLORIDE,
    price_per_kg: float = 0.0,
    nitrate_run_l: Callable[[float], float | None] | None = None,
    doses_lb_ft3: Iterable[float] = DOSES_LB_FT3,
) -> tuple[DoseOption, ...]:
    """The trade-off between salt and litres: one row a dose, smallest first.

    `resin_l` [L], hardness with its allowances [mg/L as CaCO3], use [L/year], reserve and capacity left [0-1], price
    of the regenerant [money/kg]. `doses_lb_ft3` [lb/ft3] count as sodium chloride; potassium chloride takes 1.276
    times the mass. `nitrate_run_l`: for a dose [kg], where nitrate ends a run first [L], None where it does not. More
    salt a time means fewer, less thrifty regenerations. Raises BadInput for resin, hardness or a dose of 0 or less.
    Source: trade table of capacities, common practice, no source; mass balance.
    """
    positive("use", litres_per_year)
    found = []
    for dose in sorted(doses_lb_ft3):
        plain_kg = dose * POUND_KG * resin_l / CUBIC_FOOT_L
        salt_kg = plain_kg / sodium_chloride_equal_kg(1.0, regenerant)
        capacity = capacity_g_caco3(resin_l, plain_kg) * capacity_share
        by_hardness = litres_between_regenerations(capacity, compensated_mg_l_caco3, reserve_share)
        by_nitrate = nitrate_run_l(salt_kg) if nitrate_run_l is not None else None
        run = by_hardness if by_nitrate is None else min(by_hardness, by_nitrate)
        yearly = salt_kg * litres_per_year / run
        found.append(
            DoseOption(
                salt_lb_per_ft3=dose,
                salt_kg=salt_kg,
                capacity_g_caco3=capacity,
                litres_between=run,
                days_between=run / litres_per_year * 365.0,
                salt_kg_per_year=yearly,
                cation_kg_per_year=cation_kg(yearly, regenerant),
                cost_per_year=yearly * price_per_kg,
                grains_per_lb=capacity / salt_kg * POUND_KG / 0.06479891,
                by_nitrate=run < by_hardness,
            )
        )
    return tuple(found)


def thriftiest(options: tuple[DoseOption, ...]) -> DoseOption | None:
    """The option of least salt in a year [kg] that still leaves three days between regenerations, else the longest run.

    None without options. Source: least of 3 days, common practice, no source.
    """
    enough = [option for option in options if option.days_between >= LEAST_DAYS]
    if enough:
        return min(enough, key=lambda option: option.salt_kg_per_year)
    return max(options, key=lambda option: option.litres_between, default=None)
