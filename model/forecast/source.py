"""The water of the well as it is known today."""

from __future__ import annotations

from datetime import timedelta

from model.records.history import Dated, History
from model.water.balance import complete
from model.water.sample import Sample

FIELDS = {
    "pH": "pH",
    "temperature": "temperature_c",
    "alkalinity": "alkalinity_mg_l_caco3",
    "hardness": "hardness_mg_l_caco3",
    "calcium": "calcium_mg_l",
    "magnesium": "magnesium_mg_l",
    "sodium": "sodium_mg_l",
    "potassium": "potassium_mg_l",
    "chloride": "chloride_mg_l",
    "sulfate": "sulfate_mg_l",
    "nitrate": "nitrate_mg_l_n",
    "iron": "iron_mg_l",
    "manganese": "manganese_mg_l",
}
"""Quantity -> field of a water, for what a sample of the source can tell."""

PLANNING_DAYS = 730


def source_water(history: History) -> Sample | None:
    """The newest value of each quantity at the source, completed by charge balance; None where too little is known.

    A "less than" counts as half of its limit, common practice for a mean (no source).
    """
    known = {
        field: _value(newest)
        for quantity, field in FIELDS.items()
        if (newest := history.newest(quantity, "source")) is not None
    }
    return complete(known)


def _value(one: Dated) -> float:
    return one.taken.value / 2.0 if one.taken.qualifier == "<" else one.taken.value


def planned_nitrate_mg_l_n(history: History) -> float | None:
    """The worst raw nitrate of the last two years [mg/L as N]: what is planned on. None where never measured."""
    since = history.today - timedelta(days=PLANNING_DAYS)
    values = [one.taken.value for one in history.taken("nitrate", "source") if one.on >= since]
    return max(values) if values else None


def source_basis(history: History) -> str:
    """Where the source water comes from, in words."""
    reports = [one for quantity in FIELDS for one in history.taken(quantity, "source") if one.from_lab]
    if not reports:
        return "home readings only; no laboratory report of the raw water"
    return f"laboratory report of {max(one.on for one in reports)}"
