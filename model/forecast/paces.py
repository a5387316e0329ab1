"""How often the valve regenerates: in the water planned on, and in the worst water of two years."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import timedelta

import msgspec

from model.equipment.evidence import Pace
from model.equipment.part import Part
from model.equipment.softener import Softener, pace, resin_years
from model.forecast.known import Known
from model.forecast.source import PLANNING_DAYS, source_water
from model.forecast.train import carry
from model.home import House
from model.records.events import AnyEvent
from model.records.history import History
from model.water.sample import Sample

LOADING = (
    "calcium_mg_l",
    "magnesium_mg_l",
    "iron_mg_l",
    "manganese_mg_l",
    "alkalinity_mg_l_caco3",
    "sulfate_mg_l",
    "nitrate_mg_l_n",
)
"""What fills the two resins: the more of each, the shorter the run."""


def paces(house: House, events: tuple[AnyEvent, ...], known: Known) -> tuple[Pace, Pace]:
    """The first softener's pace in the water planned on, and that for parts that protect health: the quickest of the
    paces that any water of the last two years gives, so that a reading of better water postpones nothing."""
    softener = next((stage for stage in house.stages if isinstance(stage, Softener)), None)
    if softener is None:
        return Pace(), Pace()
    years = resin_years(softener, known)
    planned = pace(softener, known.fed(softener), years)
    if not any(isinstance(one, Part) and one.protects_health and one.life_regenerations for one in house.stages):
        return planned, planned
    met = [known.fed(softener), *_met(house, events, known.history, softener)]
    waters = [water for water in met if water is not None]
    found = [planned, *(pace(softener, water, years) for water in waters)]
    if waters:
        found.append(pace(softener, _worst(waters), years))
    return planned, max(found)


def _met(house: House, events: tuple[AnyEvent, ...], history: History, softener: Softener) -> Iterable[Sample | None]:
    """The water that met the softener on each day of the last two years on which water was measured before it."""
    since = history.today - timedelta(days=PLANNING_DAYS)
    measured = history.every_taken()
    days = {on for on, taken in measured if on >= since and taken.point.startswith(("source", "after_"))}
    for day in sorted(days):
        then = History(events, day)
        yield carry(house, then, source_water(then)).fed[softener.id]


def _worst(waters: list[Sample]) -> Sample:
    """The newest of these waters with the most of each ion that loads a resin. Not a water that ever flowed."""
    return msgspec.structs.replace(waters[0], **{ion: max(getattr(one, ion) for one in waters) for ion in LOADING})
