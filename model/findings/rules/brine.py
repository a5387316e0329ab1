"""The brine tank, what is left of brine in the water, and iron on the resin."""

from __future__ import annotations

from model.equipment.softener import Softener
from model.findings.readings import after, earlier, newest, rests, said
from model.findings.shape import Raised
from model.forecast.numbers.common import inlet_of
from model.forecast.situation import Situation
from model.plan_types import Level
from model.records.bounds import top
from model.records.history import Dated
from model.records.likeness import median
from model.records.points import main_train
from model.records.quantities import QUANTITIES
from model.water.limits import CHLORIDE_MG_L, IRON_MG_L

FULL_BRINE_CM = 46.0
"""Water in a brine tank that is filled after each regeneration stands up to here [cm]: 18 in. Common practice, no
source."""

OVER_SETTING = 1.25
"""This many times what the owner wrote down as its water is too much. From memory; owner's default."""

SLOW_TIMES = 1.5
"""A draw that takes this many times as long as usual is slow. From memory; owner's default."""

SALTY_TIMES, SALTY_MG_L = 1.25, 25.0
"""So far above what the exchange explains is told: times, and what is added to it [mg/L]. From memory; owner's
default."""

SALTY = {"sodium": ("sodium_mg_l", 200.0), "chloride": ("chloride_mg_l", CHLORIDE_MG_L)}
"""Quantity -> its field in a water, and where it is tasted [mg/L], for a home whose raw water is not known. Sources:
sodium from memory; chloride 40 CFR 143.3."""

MUCH_IRON_MG_L = 1.0
"""From here on iron fouls resin within months [mg/L]. From memory; owner's default."""


def brine_over_full(now: Situation, stage: Softener) -> Raised | None:
    """More water in the brine tank than belongs there."""
    read, most = newest(now, "brine_level", stage.id), max(FULL_BRINE_CM, OVER_SETTING * stage.water_depth_cm)
    if read is None or read.taken.value <= most:
        return None
    text = f"Water in the brine tank {said(now, read)}; up to {now.known.show(most, 'length')} is usual."
    return Raised("warning", text, rests(now, read, newest(now, "salt_depth", stage.id)))


def slow_brine_draw(now: Situation, stage: Softener) -> Raised | None:
    """The tank's water takes half as long again to be drawn in as it used to."""
    read = newest(now, "brine_draw", stage.id)
    before = earlier(now, read) if read else []
    if read is None or not before or read.taken.value < SLOW_TIMES * median([one.taken.value for one in before]):
        return None
    took, took_before = (f"{one.taken.value / 60.0:.0f} min on {now.known.day(one.on)}" for one in (read, before[0]))
    text = f"Brine draw and rinse took {took}, {took_before}: the resin may get too little brine."
    return Raised("warning", text, rests(now, read, before[0]))


def salty_water(now: Situation, stage: Softener) -> Raised | None:
    """More sodium or chloride after the resin than the raw water and what it exchanges explain."""
    salty = [one for quantity in SALTY if (one := _salty(now, stage, quantity)) is not None]
    if not salty:
        return None
    told = " and ".join(words for _, words in salty)
    text = f"{told} after the softener: brine may be left in the water. On a diet low in sodium ask your doctor."
    raw = [newest(now, one.taken.quantity, "source") for one, _ in salty]
    hardness = newest(now, "hardness", inlet_of(now, stage), "source")
    return Raised("warning", text, rests(now, *(one for one, _ in salty), *raw, hardness))


def _salty(now: Situation, stage: Softener, quantity: str) -> tuple[Dated, str] | None:
    """The newest reading where it is over what is reckoned, or over its taste where nothing is; and its words."""
    read, (field, tasted) = newest(now, quantity, *after(now, stage)), SALTY[quantity]
    out = now.carried.treated[stage.id]
    expected = float(getattr(out, field)) if out is not None else None
    most = tasted if expected is None else SALTY_TIMES * expected + SALTY_MG_L
    if read is None or read.taken.qualifier == "<" or read.taken.value <= most:
        return None
    told = f" ({now.known.show(expected, 'concentration')} reckoned)" if expected is not None else ""
    return read, f"{QUANTITIES[quantity].title} {said(now, read)}{told}"


def iron_on_resin(now: Situation, stage: Softener) -> Raised | None:
    """Iron in the water that meets the resin, or in what leaves it."""
    out, fed = newest(now, "iron", *after(now, stage)), newest(now, "iron", *_before(now, stage))
    high = [one for one in (out, fed) if one and one.taken.qualifier != "<" and top(one.taken) > IRON_MG_L]
    if not high:
        return None
    through, much = high[0] is out, top(high[0].taken) >= MUCH_IRON_MG_L
    level: Level = "warning" if through or much else "note"
    where = "after the resin" if through else "before the resin"
    text = f"Iron {said(now, high[0])} {where}, over {IRON_MG_L:g} mg/L: it coats resin, and the sleeve of a lamp."
    return Raised(level, text, rests(now, out, fed), ("resin",) if through else ())


def _before(now: Situation, stage: Softener) -> tuple[str, ...]:
    """The points ahead of a softener."""
    train = [one.id for one in main_train(now.house)]
    return ("source", *(f"after_{one}" for one in train[: train.index(stage.id)]))
