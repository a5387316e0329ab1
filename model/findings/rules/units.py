"""Readings that stand to their like as two units do: nitrate as N and as NO3, gallons and litres, inches and cm."""

from __future__ import annotations

from itertools import islice
from math import log

from model.equipment.registry import AnyStage
from model.equipment.softener import Softener
from model.findings.readings import newest_first, rests, said
from model.findings.rules.stocks import odd_reading, stock_of
from model.findings.shape import Raised
from model.forecast.situation import Situation
from model.records.events import MeterReplaced
from model.records.history import Dated
from model.records.likeness import median
from model.records.quantities import QUANTITIES
from model.unit_tables import AS_NO3, GALLON_L, GPG_MG_L, PSI_BAR

_VOLUME = (GALLON_L, "gal and L")
_LENGTH = (2.54, "in and cm")
_PRESSURE = (1.0 / PSI_BAR, "psi and bar")
_GRAINS = (GPG_MG_L, "gpg and mg/L as CaCO3")

FACTORS: dict[str, tuple[float, str, float]] = {
    "nitrate": (AS_NO3, "mg/L as N and as NO3", 0.5),
    "hardness": (*_GRAINS, 2.0),
    "alkalinity": (*_GRAINS, 2.0),
    "drawdown": (*_VOLUME, 0.0),
    "ro_flow": (*_VOLUME, 0.0),
    "bed_depth": (*_LENGTH, 0.0),
    "freeboard": (*_LENGTH, 0.0),
    "pressure_in": (*_PRESSURE, 0.0),
    "pressure_out": (*_PRESSURE, 0.0),
    "feed_pressure": (*_PRESSURE, 0.0),
    "cut_in": (*_PRESSURE, 0.0),
    "cut_out": (*_PRESSURE, 0.0),
    "precharge": (*_PRESSURE, 0.0),
}
"""Quantity -> how many times one unit is of the other, both units, and under which value nothing is told [the unit
inside]. Source: NIST SP 811, appendix B.8, and IUPAC 2013, as in `model.unit_tables`."""

NEAR_SHARE = 0.15
"""This near to the factor the unit is asked about. From memory; owner's default."""

ALIKE_TIMES = 1.5
"""Earlier readings that differ by more than this many times are no measure for the next. From memory; owner's
default."""

LEAST_BEFORE, MOST_BEFORE = 2, 5


def mixed_up(now: Situation, quantity: str) -> Raised | None:
    """The newest reading of a quantity at some point that is a unit's factor off those before it."""
    factor, units, least = FACTORS[quantity]
    seen: set[str] = set()
    for one in newest_first(now, quantity, _points(now, quantity)):
        if one.taken.point not in seen:
            seen.add(one.taken.point)
            if (before := _before(now, one, factor, least)) is not None:
                return _raised(now, one, before, units)
    return None


def _points(now: Situation, quantity: str) -> tuple[str, ...]:
    return tuple({one.taken.point for one in now.history.taken(quantity)})


def _before(now: Situation, one: Dated, factor: float, least: float) -> Dated | None:
    """The reading before it, where those before agree with each other and this one is off by the factor."""
    every = newest_first(now, one.taken.quantity, (one.taken.point,))
    earlier = [other for other in islice(every, 1, MOST_BEFORE + 1) if other.taken.qualifier == "="]
    values = [other.taken.value for other in earlier]
    if len(values) < LEAST_BEFORE or one.taken.qualifier != "=" or min(*values, one.taken.value) <= least:
        return None
    alike = max(values) <= ALIKE_TIMES * min(values)
    return earlier[0] if alike and is_factor(one.taken.value, median(values), factor) else None


def is_factor(value: float, other: float, factor: float, share: float = NEAR_SHARE) -> bool:
    """Whether one of two values above 0 is so many times the other, within a share."""
    return value > 0.0 and other > 0.0 and abs(abs(log(value) - log(other)) - log(factor)) <= log(1.0 + share)


def _raised(now: Situation, one: Dated, before: Dated, units: str) -> Raised:
    quantity = QUANTITIES[one.taken.quantity]
    typed = f' (typed as "{one.taken.entered}")' if one.taken.entered else ""
    text = (
        f"{quantity.title} {said(now, one)}{typed}, {said(now, before)}: as far apart as {units}. Until you have "
        "looked, both count as recorded; where health is at stake go by the worse."
    )
    place = f"{quantity.id}.{one.taken.point}"
    return Raised("note", text, rests(now, one, before), place=place, read=quantity.id, at=one.taken.point)


def meter_mixed_up(now: Situation) -> Raised | None:
    """A water meter that shows 3.8 times what it last did, far beyond what the house can have used."""
    if now.history.of(MeterReplaced):
        return None
    read = list(islice(newest_first(now, "meter", ("house",)), 2))
    if len(read) < LEAST_BEFORE:
        return None
    new, old = read
    used = new.taken.value - old.taken.value
    much = used > 2.0 * now.demand.per_day() * max((new.on - old.on).days, 1)
    if used <= 0.0 or not much or not is_factor(new.taken.value, old.taken.value, GALLON_L, 0.08):
        return None
    return _raised(now, new, old, _VOLUME[1])


def salt_mixed_up(now: Situation) -> Raised | None:
    """A salt depth that is 2.54 times what was reckoned, or as many times less."""
    for stage in now.house.stages:
        if isinstance(stage, Softener) and (read := _salt_read(now, stage)) is not None:
            every = newest_first(now, "salt_depth", (stage.id,))
            before = next((one for one in every if one is not read), None)
            if before is not None:
                return _raised(now, read, before, _LENGTH[1])
    return None


def _salt_read(now: Situation, stage: AnyStage) -> Dated | None:
    stock, read = stock_of(now, stage, "refill_salt"), odd_reading(now, stage, "refill_salt", "salt_depth")
    if stock is None or stock.unlike is None:
        return None
    return read if is_factor(stock.unlike.seen, stock.unlike.reckoned, _LENGTH[0], 0.2) else None
