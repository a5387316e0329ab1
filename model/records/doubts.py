"""What makes a reading doubtful: possible, but unlike the usual or unlike the last ones."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from itertools import pairwise

from model.errors import BadInput
from model.home import House
from model.records.bounds import top
from model.records.events import Taken
from model.records.history import BOUND_IS_NO_NUMBER
from model.records.how import doubts_of_how
from model.records.likeness import other_readings, unlike_last
from model.records.points import canonical_point
from model.records.quantities import QUANTITIES, Quantity, show_quantity, show_taken
from model.units import System, show

Past = Sequence[tuple[date, Taken]]

# All of these from memory; owner's default.
_MANY_TIMES = 3.0
_SAME_DEPTH_CM = 0.5
_SAME_DEPTH_DAYS = 10
_HOURS_A_DAY = 24.0
_A_LITTLE_MORE = 1.5
"""A meter seldom counts half as much again between two readings as in all its life."""
_MOST_L_PER_PERSON_DAY = 2000.0
"""More than this a house does not use without a leak or a garden [L/day], where nothing is known of its use."""
_NEVER_ZERO = frozenset({"nitrate", "nitrite"})
_NEVER_FALLS = {"lamp_hours": "a new lamp or a reset counter", "regenerations": "a reset counter"}
_LOWER_THAN = (
    ("pressure_out", "pressure_in"),
    ("cut_in", "cut_out"),
    ("precharge", "cut_in"),
    ("ro_product_tds", "ro_feed_tds"),
)


def doubts(house: House, taken: Taken, previous: Past, on: date) -> tuple[str, ...]:
    """Sentences for the owner about a reading that is only unlikely; empty where nothing is odd.

    Args:
        house: the house as it stands.
        taken: the reading, as `take` gives it.
        previous: earlier readings of any quantity with their days; only the same quantity and point are compared.
        on: the day of the reading.
    """
    quantity = QUANTITIES.get(taken.quantity)
    if quantity is None:
        return ()
    point = canonical_point(house, taken.point)
    names = {name for name in {one.point for _, one in previous} if canonical_point(house, name) == point}
    here = [(day, one) for day, one in previous if one.point in names and day <= on]
    same = sorted((pair for pair in here if pair[1].quantity == taken.quantity), key=lambda pair: pair[0])
    found = (
        _unusual(quantity, taken, house.units),
        unlike_last(quantity, taken, same, house.units),
        _bare_zero(quantity, taken),
        _end_of_scale(quantity, taken),
        _stuck_salt(taken, same, on, house.units),
        _counter(quantity, taken, same, on, house.units),
        _meter_rate(taken, same, on, house),
        *doubts_of_how(taken, on),
        *_wrong_way(quantity, taken, [pair for pair in here if pair[0] == on]),
    )
    return tuple(sentence for sentence in found if sentence)


def _unusual(quantity: Quantity, taken: Taken, system: System) -> str:
    low, high = quantity.unlikely_below, quantity.unlikely_above
    said = show_taken(taken, system)
    if low is not None and taken.value < low and taken.qualifier != ">":
        return f"{quantity.title} {said} is unusually low: seldom below {show(low, quantity.dimension, system)}."
    if high is not None and top(taken) > high and taken.qualifier != "<":
        return f"{quantity.title} {said} is unusually high: seldom above {show(high, quantity.dimension, system)}."
    return ""


def _bare_zero(quantity: Quantity, taken: Taken) -> str:
    """A test that shows nothing says "less than its first mark", never 0."""
    if quantity.id not in _NEVER_ZERO or top(taken) > 0.0 or taken.qualifier != "=":
        return ""
    return f"No test shows {quantity.name} of 0: better write < and the lowest mark of the test, as <1."


def _end_of_scale(quantity: Quantity, taken: Taken) -> str:
    if quantity.id not in BOUND_IS_NO_NUMBER or taken.qualifier == "=":
        return ""
    said = f"{quantity.title} {taken.qualifier}{taken.value:g}"
    return (
        f"{said} is kept and shown, but nothing is reckoned with it: read it with a kit or meter that reaches further."
    )


def _stuck_salt(taken: Taken, same: Past, on: date, system: System) -> str:
    if taken.quantity != "salt_depth" or not same:
        return ""
    day, last = same[-1]
    if (on - day).days < _SAME_DEPTH_DAYS or abs(taken.value - last.value) > _SAME_DEPTH_CM:
        return ""
    depth = show_quantity("salt_depth", last.value, system)
    return f"The salt stood at {depth} on {day} too: probe for a salt bridge, and see that the softener regenerates."


def _counter(quantity: Quantity, taken: Taken, same: Past, on: date, system: System) -> str:
    if taken.quantity not in _NEVER_FALLS or not same:
        return ""
    day, last = same[-1]
    then = show_quantity(taken.quantity, last.value, system)
    if taken.value < last.value:
        return f"{quantity.title} fell from {then} on {day}: {_NEVER_FALLS[taken.quantity]}? Record what was changed."
    most = _HOURS_A_DAY * ((on - day).days + 1)
    if taken.quantity == "lamp_hours" and taken.value - last.value > most:
        return f"{quantity.title} rose from {then} on {day} by more hours than have passed."
    return ""


def _meter_rate(taken: Taken, same: Past, on: date, house: House) -> str:
    """Use since the last reading against use before, where that is known, else against what a house can use."""
    if taken.quantity != "meter" or not same:
        return ""
    day, last = same[-1]
    # Two readings of one day may lie a day apart.
    lately = (taken.value - last.value) / max((on - day).days, 1)
    before = _usual_l_per_day(same)
    most = _MANY_TIMES * before if before else _MOST_L_PER_PERSON_DAY * max(house.people, 1.0)
    if taken.value < last.value or lately <= most:
        return ""
    now = show(lately, "daily_flow", house.units)
    then = f"{show(before, 'daily_flow', house.units)} before" if before else "no use known before"
    slip = _other_unit(taken, last.value, last.value + most * max((on - day).days, 1))
    return f"That is {now} since {day}, against {then}: check the digits{slip}; if they are right, look for a leak."


def _other_unit(taken: Taken, low: float, high: float) -> str:
    """A hint at the unit in which a meter's digits would fit between two readings [L]."""
    fits = (
        f"{number:,.0f} {unit}" for number, unit, inside in other_readings("volume", taken) if low <= inside <= high
    )
    found = next(fits, "")
    return f" (as {found} they would fit)" if found else ""


def _usual_l_per_day(same: Past) -> float:
    """What the meter counted a day up to its last reading [L/day]; where it fell, another meter began. 0: not known."""
    litres, days = 0.0, 0
    for (start, first), (end, last) in pairwise(same):
        new_meter = last.value < first.value or (start == end and (first.moment, last.moment) == ("before", "after"))
        if not new_meter:
            litres += last.value - first.value
            days += (end - start).days
    return litres / days if days else 0.0


def _wrong_way(quantity: Quantity, taken: Taken, today: Past) -> list[str]:
    """Two readings of one day that cannot well stand in this order, like a pressure that rises across a filter."""
    found = []
    for lower, higher in _LOWER_THAN:
        other = {lower: higher, higher: lower}.get(taken.quantity)
        match = [one.value for _, one in today if one.quantity == other and _together(one, taken)]
        if not match or other is None:
            continue
        under, over = (taken.value, match[-1]) if taken.quantity == lower else (match[-1], taken.value)
        if under > over:
            found.append(f"{QUANTITIES[lower].title} is above {QUANTITIES[higher].name} of the same day.")
    return found


def _together(one: Taken, taken: Taken) -> bool:
    return one.moment == taken.moment and (one.state == taken.state or "" in (one.state, taken.state))


def refuse_meter(taken: Taken, last: float, rolls_over_at_l: float | None = None, system: System = "metric") -> None:
    """Refuse a meter that runs backwards, unless it can have rolled over.

    Args:
        taken: the meter reading.
        last: the reading before it, of the same meter [L].
        rolls_over_at_l: where the meter starts again at 0 [L]; None where that is not known.
        system: the house's units, for the message.

    Raises:
        BadInput: below `last` without a known roll-over, or by rolling over more than half of the dial would have
            been used; or above what the dial can show.
    """
    now, then = (show(value, "volume", system) for value in (taken.value, last))
    if rolls_over_at_l is not None and taken.value > rolls_over_at_l:
        dial = show(rolls_over_at_l, "volume", system)
        raise BadInput(f"The meter starts again at {dial}, so it cannot show {now}.", "Check digits and unit.")
    if taken.value >= last * (1.0 - 1e-9):
        return
    if rolls_over_at_l is None or taken.value + rolls_over_at_l - last > rolls_over_at_l / 2.0:
        replaced = "If the meter was replaced, record that first."
        slip = _other_unit(taken, last, last * _A_LITTLE_MORE)
        raise BadInput(
            f"The meter shows {now}, less than the {then} before.", f"Check digits and unit{slip}. {replaced}"
        )
