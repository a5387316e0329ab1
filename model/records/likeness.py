"""Whether a value is unlike the last ones: their own scatter decides, and the unit that was mixed up is looked for."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from itertools import pairwise

from model.records.bounds import top
from model.records.events import Taken
from model.records.quantities import Quantity, show_quantity, show_taken
from model.records.typed import split_unit
from model.units import System, find_unit, from_si, known_names, plain, to_si

Past = Sequence[tuple[date, Taken]]

# All of these from memory; owner's default.
_ERROR: dict[str, tuple[float, float]] = {
    "pH": (0.25, 0.0),
    "temperature": (2.0, 0.0),
    "pressure": (0.1, 0.05),
    "percent": (4.0, 0.0),
    "hardness": (10.0, 0.1),
    "alkalinity": (10.0, 0.1),
    "nitrate": (0.4, 0.1),
    "nitrite": (0.05, 0.1),
    "concentration": (0.05, 0.15),
    "conductivity": (20.0, 0.15),
    "turbidity": (0.5, 0.2),
    "daily_flow": (5.0, 0.15),
    "hourly_flow": (5.0, 0.3),
    "flow": (1.0, 0.15),
    "length": (2.0, 0.05),
    "volume": (2.0, 0.1),
    "time": (10.0, 0.15),
    "water_level": (1.0, 0.05),
    "current": (0.3, 0.05),
    "voltage": (5.0, 0.02),
    "days": (2.0, 0.3),
    "count": (1.0, 0.0),
    "arsenic": (0.002, 0.2),
    "lead": (0.002, 0.2),
    "uranium": (0.003, 0.2),
}
"""Dimension, or a quantity of its own -> what two readings of the same water differ by at least: in its unit inside,
and as a share of the value, whichever is more."""
_FAR = {"pH": 1.0, "temperature": 8.0, "pressure": 0.7, "percent": 20.0, "voltage": 30.0}
"""Dimension -> how far from the one or two readings before is strange, in its unit inside."""
_NOISE = {
    "hardness": 20.0,
    "alkalinity": 20.0,
    "nitrate": 1.0,
    "nitrite": 0.1,
    "concentration": 0.1,
    "conductivity": 50.0,
    "turbidity": 1.0,
    "daily_flow": 10.0,
    "hourly_flow": 20.0,
    "flow": 2.0,
    "length": 5.0,
    "volume": 5.0,
    "time": 10.0,
    "water_level": 1.0,
    "current": 0.5,
    "days": 5.0,
    "count": 2.0,
    "arsenic": 0.003,
    "lead": 0.003,
    "uranium": 0.005,
}
"""Dimension, or a quantity of its own -> below this, how many times as much means nothing, in its unit inside."""
_MANY_TIMES = 3.0
_SLOW = {"bed_depth": 1.8, "freeboard": 1.8}
"""Quantities that change slowly: so many times as much is strange already."""
_LAST = 8
"""So many readings before are compared with."""
_ENOUGH = 3
"""From so many on their own scatter is known."""
_FEW = 4
"""Among more than so many one may have been a slip."""
_BEYOND = 3.0
"""Further beyond the last ones than so many times what they differ by from one to the next is strange."""

COUNTERS = frozenset({"meter", "regenerations", "lamp_hours"})
"""They rise for ever: what they can have risen by is asked elsewhere."""
NOT_COMPARED = COUNTERS | {"total_coliform", "e_coli"}
"""Quantities whose last values say nothing of the next: counters, and bacteria, which come and go."""
_REFILLED = frozenset({"salt_depth", "brine_level", "water_since_regeneration", "days_since_regeneration"})
"""They fall and rise all the time: two readings before say nothing of the next."""
_RESET_BY_WORK = _REFILLED | {
    "bed_depth",
    "freeboard",
    "pressure_in",
    "pressure_out",
    "precharge",
    "drawdown",
    "run_time",
    "uv_intensity",
    "ro_flow",
    "ro_product_tds",
}
"""What was read after the work is like what was read after the work before."""

LIKELY_UNITS: dict[str, tuple[str, ...]] = {
    "length": ("in", "cm"),
    "water_level": ("ft", "m"),
    "volume": ("gal", "L"),
    "daily_flow": ("gal/day", "L/day", "mL/min"),
    "hourly_flow": ("gal/h", "L/h"),
    "flow": ("gpm", "L/min"),
    "pressure": ("psi", "bar"),
    "hardness": ("gpg", "mg/L as CaCO3", "dH"),
    "alkalinity": ("mg/L as CaCO3", "dH", "gpg"),
    "nitrate": ("mg/L as N", "mg/L as NO3"),
    "nitrite": ("mg/L as N", "mg/L as NO2"),
    "concentration": ("mg/L", "ug/L"),
    "conductivity": ("uS/cm", "mS/cm"),
    "temperature": ("F", "C"),
    "time": ("s", "min"),
}
"""Dimension -> units that people mix up: factors 2.54, 3.28, 3.785, 1.44, 14.5, 17.1, 17.85, 4.43, 3.28, 1000, 60."""


def unlike_last(quantity: Quantity, taken: Taken, same: Past, system: System) -> str:
    """A sentence where a value is further from the last ones than they are from each other; "" where it is not.

    Args:
        quantity: what was read.
        taken: the reading; a bound is not compared.
        same: earlier readings of it at the same point, oldest first.
        system: the house's units, for the sentence.
    """
    if quantity.id in NOT_COMPARED or taken.qualifier != "=":
        return ""
    past = [(day, one) for day, one in same if _comparable(taken, one)][-_LAST:]
    if not past or not _far(quantity, taken, [one for _, one in past]):
        return ""
    now = show_taken(taken, system)
    slip = mixed_up(quantity, taken, [one for _, one in past])
    fits = f"as {slip} it would fit, so check the unit." if slip else "check the unit, or read again."
    return f"{quantity.title} {now} is far from {_those(quantity, past, system)}: {fits}"


def _comparable(taken: Taken, one: Taken) -> bool:
    """Exact readings in the same state of the water; after the work only what was read after the work before."""
    states = {taken.state or "flowing", one.state or "flowing"}
    after = taken.moment == "after" and taken.quantity in _RESET_BY_WORK
    return one.qualifier == "=" and len(states) == 1 and (not after or one.moment == "after")


def _those(quantity: Quantity, past: Past, system: System) -> str:
    """ "the last one, 7.2 on 2027-02-01" or "your last 6, 7.1 to 7.4"."""
    day, last = past[-1]
    if len(past) < _ENOUGH:
        return f"the last one, {show_taken(last, system)} on {day}"
    low, high = min(one.value for _, one in past), max(top(one) for _, one in past)
    shown = [show_quantity(quantity.id, value, system) for value in (low, high)]
    numbers = shown[0] if shown[0] == shown[1] else f"{shown[0].partition(' ')[0]} to {shown[1]}"
    return f"your last {len(past)}, {numbers}"


def _far(quantity: Quantity, taken: Taken, past: Sequence[Taken]) -> bool:
    if len(past) >= _ENOUGH:
        low, high = usual_range(quantity, past)
        return taken.value > high or top(taken) < low
    here, last = nearest(taken, past[-1])
    if quantity.id in _REFILLED:
        return False
    if quantity.dimension in _FAR:
        return abs(here - last) > _FAR[quantity.dimension]
    low, high = sorted((here, last))
    many = _SLOW.get(quantity.id, _MANY_TIMES)
    noise = _NOISE.get(quantity.id) or _NOISE.get(quantity.dimension)
    return noise is not None and high > many * max(low, noise)


def usual_range(quantity: Quantity, past: Sequence[Taken]) -> tuple[float, float]:
    """Where the next reading of a quantity is to be expected after these, in its unit inside.

    From the lowest to the highest of them (the second ones of five or more, against a slip among them), and three
    times what they differ by from one to the next beyond that. Common practice, no source.
    """
    values = [(one.value + top(one)) / 2.0 for one in past]
    steps = [abs(after - before) for before, after in pairwise(values)]
    least, share = _ERROR.get(quantity.id) or _ERROR.get(quantity.dimension, (0.0, 0.2))
    spread = max([*([median(steps)] if steps else []), least, share * median(values)])
    left_out = 1 if len(past) > _FEW else 0
    lowest, highest = sorted(one.value for one in past)[left_out], sorted(map(top, past))[-1 - left_out]
    return lowest - _BEYOND * spread, highest + _BEYOND * spread


def nearest(one: Taken, other: Taken) -> tuple[float, float]:
    """The two values closest to each other, where one or both are intervals; the same one where they overlap."""
    here = min(max(one.value, other.value), top(one))
    return here, min(max(here, other.value), top(other))


def mixed_up(quantity: Quantity, taken: Taken, past: Sequence[Taken]) -> str:
    """The value in the unit that makes it like the last ones, "18 mg/L as NO3"; "" where none does."""
    fitting = []
    for number, unit, inside in other_readings(quantity.dimension, taken):
        at = (inside + (top(taken) - taken.value) / 2.0, median([(one.value + top(one)) / 2.0 for one in past]))
        if _fits(quantity, at[0], past):
            fitting.append((abs(at[0] - at[1]), f"{number:.4g} {unit}"))
    return min(fitting)[1] if fitting else ""


def _fits(quantity: Quantity, value: float, past: Sequence[Taken]) -> bool:
    return not _far(quantity, Taken(quantity=quantity.id, value=value, point=""), past)


def other_readings(dimension: str, taken: Taken) -> Iterator[tuple[float, str, float]]:
    """The number that was typed, another unit it may have been in, and the value inside then.

    Where the unit typed is not known, any of those that people mix up may have been.
    """
    likely = LIKELY_UNITS.get(dimension, ())
    _, written = split_unit(taken.entered)
    known = written and plain(written) in known_names(dimension)
    for typed in (find_unit(written, dimension).name,) if known else likely:
        number = from_si(taken.value, typed, dimension)
        for unit in likely:
            if unit != typed:
                yield number, unit, to_si(number, unit, dimension)


def median(values: Sequence[float]) -> float:
    """The middle of one value or more, or the mean of the two middle ones. The library's own costs 3 ms to import."""
    ordered = sorted(values)
    half = len(ordered) // 2
    return ordered[half] if len(ordered) % 2 == 1 else (ordered[half - 1] + ordered[half]) / 2.0
