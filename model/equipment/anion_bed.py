"""The anion resin in a softener's tank: how long it holds nitrate, and what comes when it no longer does."""

from __future__ import annotations

from functools import lru_cache
from typing import Literal

from model.errors import BadInput
from model.water.constants import CACO3_MG_PER_MEQ
from model.water.exchange.resins import RESINS
from model.water.exchange.run import Run, nitrate_run
from model.water.sample import Sample

NITROGEN_G_PER_EQ, SULFATE_G_PER_EQ, CHLORIDE_G_PER_EQ = 14.007, 48.03, 35.45
"""Equivalent weights [g/eq]. Source: IUPAC 2013."""

FULL_DOSE_KG_PER_L = 0.16
"""Salt per litre of anion resin from which a further dose adds nothing that is planned on [kg/L]: 10 lb/ft3. Common
practice, no source."""

PROFILE_SHARE = 0.65
"""How far of a measured breakthrough a run is planned: 60 to 70 %. Common practice, no source."""

EDGE_SHARE = 0.9
"""How far up to the quick early edge a run is planned: on household beds and flows it is late by up to a tenth."""

AnionType = Literal["standard", "nitrate_selective"]


def usable_share(salt_dose_kg: float, resin_l: float, share: float) -> float:
    """Share of the resin's capacity that a dose [kg] brings back to so much resin [L], `share` at a full dose, 0-1.

    In proportion to the dose below FULL_DOSE_KG_PER_L. Common practice, no source; a breakthrough profile replaces it.
    """
    return share * min(salt_dose_kg / resin_l / FULL_DOSE_KG_PER_L, 1.0)


def planned_l(early_l: float | None, profile_l: float | None) -> float | None:
    """Litres to plan a run on [L]: of the owner's own breakthrough profile, else short of the reckoned early edge."""
    if profile_l is not None:
        return PROFILE_SHARE * profile_l
    return None if early_l is None else EDGE_SHARE * early_l


@lru_cache(maxsize=64)
def run_of_bed(
    fed: Sample, anion_type: AnionType, resin_l: float, flow_l_per_min: float, action_mg_l_n: float, usable: float
) -> Run | None:
    """How nitrate comes through the bed [L of resin] fed with this water at a flow [L/min], from a regeneration on.

    `action_mg_l_n`: the level that counts as through [mg/L as N]. None for a water that no column can be reckoned for.
    Source: see `nitrate_run`.
    """
    feed = {
        "HCO3": fed.alkalinity_mg_l_caco3 / CACO3_MG_PER_MEQ,
        "Cl": fed.chloride_mg_l / CHLORIDE_G_PER_EQ,
        "NO3": fed.nitrate_mg_l_n / NITROGEN_G_PER_EQ,
        "SO4": fed.sulfate_mg_l / SULFATE_G_PER_EQ,
    }
    try:
        return nitrate_run(feed, RESINS[anion_type], resin_l, flow_l_per_min, action_mg_l_n, usable)
    except BadInput:
        return None
