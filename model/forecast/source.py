"""The water of the well as it is known today: reports and readings merged, the newest of each quantity."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Literal

import msgspec

from model.records.bounds import for_health, for_mean
from model.records.history import Dated, History
from model.water.balance import complete, hardness_of
from model.water.sample import Sample
from model.water.sample_report import pH_can_be

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

TOGETHER_DAYS = 366
"""Values taken within 12 months of each other count as those of one water. Owner's default, no source."""

_METALS = ("calcium", "magnesium")


class Merged(msgspec.Struct, frozen=True):
    """What is known of the water at a point: the newest value of each quantity.

    `newest`: quantity -> its newest value. `older`: the quantities whose newest value is more than 12 months
    older than the newest value of all. They are reckoned with for want of better, and said to be old.
    `refused_pH`: the newest pH where it cannot be that of a well water; the newest one that can be stands in for it.
    """

    newest: dict[str, Dated]
    older: tuple[str, ...]
    refused_pH: Dated | None = None

    @property
    def last_on(self) -> date | None:
        """The day of the newest value of all."""
        return max((one.on for one in self.newest.values()), default=None)

    def known(self, *, together: bool = False) -> dict[str, float]:
        """Field of a water -> value [mg/L, degC]; with `together` only those of one time, as they were found."""
        found = {
            FIELDS[quantity]: for_mean(one.taken)
            for quantity, one in self.newest.items()
            if not (together and quantity in self.older)
        }
        if not together:
            return self._scaled(found)
        return found if self.refused_pH is None else found | {"pH": for_mean(self.refused_pH.taken)}

    def _scaled(self, known: dict[str, float]) -> dict[str, float]:
        """Old calcium and magnesium raised or lowered, in their proportion, to a hardness of the newest time."""
        if not set(_METALS) <= set(self.older) or "hardness" not in self.newest or "hardness" in self.older:
            return known
        old = hardness_of(known["calcium_mg_l"], known["magnesium_mg_l"])
        if old <= 0.0:
            return {name: value for name, value in known.items() if name not in ("calcium_mg_l", "magnesium_mg_l")}
        factor = known["hardness_mg_l_caco3"] / old
        return known | {name: known[name] * factor for name in ("calcium_mg_l", "magnesium_mg_l")}


def merged(history: History, point: str) -> Merged:
    """Reports and readings at a point merged by date: the newest of each quantity, the old ones marked."""
    return _marked({quantity: found for quantity in FIELDS if (found := history.taken(quantity, point))})


def merged_everywhere(history: History) -> dict[str, Merged]:
    """As `merged`, for every point at which anything was ever tested, in one pass."""
    found: dict[str, dict[str, list[Dated]]] = {}
    for quantity in FIELDS:
        for one in history.taken(quantity):
            found.setdefault(one.taken.point, {}).setdefault(quantity, []).append(one)
    return {point: _marked(values) for point, values in found.items()}


def _marked(values: dict[str, list[Dated]]) -> Merged:
    newest = {quantity: every[-1] for quantity, every in values.items()}
    refused = newest.get("pH")
    if refused is not None and not pH_can_be(for_mean(refused.taken)):
        possible = [one for one in values["pH"] if pH_can_be(for_mean(one.taken))]
        newest = {name: one for name, one in newest.items() if name != "pH"} | (
            {"pH": possible[-1]} if possible else {}
        )
    else:
        refused = None
    last = max((one.on for one in newest.values()), default=date.min)
    older = (quantity for quantity, one in newest.items() if (last - one.on).days > TOGETHER_DAYS)
    return Merged(newest, tuple(older), refused)


def source_water(history: History) -> Sample | None:
    """The newest value of each quantity at the source, completed by charge balance; None where too little is known.

    A "less than" counts as half of its limit and a pad as its middle: common practice for a mean (no source).
    """
    return complete(merged(history, "source").known())


def planned_nitrate_mg_l_n(history: History, plan_on: Literal["worst", "newest"] = "worst") -> float | None:
    """Raw nitrate to plan on [mg/L as N]; None where it was never measured.

    The worst of the last two years, since nitrate comes and goes with the season and is never averaged away; the
    newest value where the owner's setting says so, or where there is none of the last two years. A "less than"
    counts as its limit and a pad as its upper end.
    """
    every = history.taken("nitrate", "source")
    if not every:
        return None
    worst = worst_of_two_years(every, history.today)
    return for_health(every[-1].taken) if plan_on == "newest" or worst is None else worst


def worst_of_two_years(values: list[Dated], today: date) -> float | None:
    """The highest of these values of one quantity within the last two years, None where there is none."""
    since = today - timedelta(days=PLANNING_DAYS)
    return max((for_health(one.taken) for one in values if one.on >= since), default=None)


def source_basis(history: History) -> str:
    """Where the source water comes from, in words."""
    used = merged(history, "source").newest
    days = sorted({one.on for one in used.values() if one.from_lab})
    if len(days) > 1:
        return f"laboratory reports of {days[0]} to {days[-1]}, the newest of each quantity"
    if days:
        return f"laboratory report of {days[0]}"
    return "home readings only; no laboratory report of the raw water"


def older_in_words(water: Merged) -> str:
    """The old values of a merged water with their days: "sodium (2024-05-02), iron (2023-04-01)"."""
    return ", ".join(f"{name} ({water.newest[name].on})" for name in water.older)
