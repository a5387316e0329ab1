"""The RO unit today: what it can make, how its membrane stands, what it sends to the drain."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from typing import NamedTuple

from model.equipment.pressure_tank import PressureTank
from model.equipment.relations.membrane import (
    fill_hours,
    mean_back_bar,
    mean_osmotic_bar,
    normalized_flow_ratio,
    normalized_salt_passage,
    osmotic_bar_of,
)
from model.equipment.relations.reverse_osmosis import net_pressure_bar, permeate_l_per_day
from model.equipment.reverse_osmosis import ReverseOsmosis, latest_rejection, rejections
from model.forecast.numbers.common import Numbers, near, number
from model.forecast.points import ro_feed_l_per_day
from model.forecast.situation import Situation
from model.plan_types import Alert, Fact
from model.records.points import ro_point

TOGETHER_DAYS = 45
"""Flow, pressure and temperature read within these days belong together. Owner's default."""

TRIES = 5
"""Readings tried from each end of the log for one that pressure and temperature were read with."""

FLOW_FALL_SHARE = 0.10
"""Fall of the normalized flow that says clean or look. Source: US Army TM 10-4610-309-14, WP 0016."""

SEPTIC_REJECT_L_PER_DAY = 113.6
"""Reject to a septic tank, at most [L/day]: 30 gal. Source: Connecticut DPH publication 21."""


class Condition(NamedTuple):
    """How the membrane did on a day: product flow over that of the rating at the same pressure and temperature, or
    salt passage as it would be at the rated pressure and 25 degC."""

    on: date
    ratio: float


def feed_bar(now: Situation, stage: ReverseOsmosis, on: date | None = None) -> float | None:
    """Pressure before the membrane [bar]: read near a day (or newest), set by the owner, or that of the tank."""
    if on is not None:
        read = near(now, "feed_pressure", (stage.id,), on, TOGETHER_DAYS)
    else:
        read = now.history.newest("feed_pressure", stage.id)
    if read is not None:
        return read.taken.value
    if stage.feed_bar is not None:
        return stage.feed_bar
    return next(
        ((one.cut_in_bar + one.cut_out_bar) / 2.0 for one in now.house.stages if isinstance(one, PressureTank)), None
    )


def net_bar(now: Situation, stage: ReverseOsmosis, feed: float, back_bar: float = 0.0) -> float:
    """Net driving pressure [bar]: feed less back pressure less the mean osmotic pressure of this water."""
    fed = now.carried.fed[stage.id]
    osmotic = 0.0
    if fed is not None:
        osmotic = mean_osmotic_bar(osmotic_bar_of(fed), min(stage.recovery, 0.99), latest_rejection(stage, now.history))
    return net_pressure_bar(feed, back_bar, osmotic)


def flows(now: Situation, stage: ReverseOsmosis) -> tuple[Condition, ...]:
    """Normalized flow of this membrane on the first and the last day it can be told; empty where never."""
    read = [(one.on, one.taken.value) for one in now.history.taken("ro_flow", stage.id)]
    return _ends(now, stage, read, lambda litres, net, at: _flow_ratio(stage, litres, net, at))


def passages(now: Situation, stage: ReverseOsmosis) -> tuple[Condition, ...]:
    """Normalized salt passage of this membrane on the first and the last day it can be told; empty where never."""
    return _ends(
        now,
        stage,
        rejections(stage, now.history),
        lambda kept, net, at: normalized_salt_passage(1.0 - kept, net, stage.rated_bar, at),
    )


def _flow_ratio(stage: ReverseOsmosis, litres: float, net: float, at: float) -> float:
    return normalized_flow_ratio(litres, stage.rated_l_per_day, stage.rated_bar, net, at)


def flow_condition(now: Situation, stage: ReverseOsmosis, on: date, litres_per_day: float) -> Condition | None:
    """Normalized flow of a product flow read on a day [L/day]; None without pressure and temperature near it."""
    return _seen(now, stage, on, litres_per_day, lambda litres, net, at: _flow_ratio(stage, litres, net, at))


def _ends(
    now: Situation,
    stage: ReverseOsmosis,
    read: list[tuple[date, float]],
    normalized: Callable[[float, float, float], float],
) -> tuple[Condition, ...]:
    """The first and the last value since the membrane was new that had pressure and temperature read near it."""
    since = now.known.renewed(stage, "replace_membrane")
    own = [one for one in read if one[0] >= since]
    # A few tries from each end: a long log must not be searched day by day.
    first = next((seen for one in own[:TRIES] if (seen := _seen(now, stage, *one, normalized))), None)
    last = next((seen for one in own[: -TRIES - 1 : -1] if (seen := _seen(now, stage, *one, normalized))), None)
    if first is None or last is None:
        return () if last is None else (last,)
    return (first, last) if last.on > first.on else (last,)


def _seen(
    now: Situation, stage: ReverseOsmosis, on: date, value: float, normalized: Callable[[float, float, float], float]
) -> Condition | None:
    at, bar = _temperature(now, stage, on), feed_bar(now, stage, on)
    net = 0.0 if bar is None else net_bar(now, stage, bar)
    return None if at is None or net <= 0.0 else Condition(on, normalized(value, net, at))


def _temperature(now: Situation, stage: ReverseOsmosis, on: date) -> float | None:
    """Water temperature read near a day [degC], within what the corrections hold for."""
    read = near(now, "temperature", (stage.id, ro_point(stage), "tap", "source"), on, TOGETHER_DAYS)
    return None if read is None or not 0.0 <= read.taken.value <= 45.0 else read.taken.value


def makes_l_per_day(
    now: Situation, stage: ReverseOsmosis, temperature_c: float, back_bar: float = 0.0, ratio: float = 1.0
) -> float:
    """Product the membrane can make [L/day] at a temperature [degC] against a back pressure [bar], by its condition."""
    bar = feed_bar(now, stage)
    net = net_bar(now, stage, bar if bar is not None else stage.rated_bar, back_bar)
    return ratio * permeate_l_per_day(stage.rated_l_per_day, stage.rated_bar, net, temperature_c)


def coldest_c(now: Situation, stage: ReverseOsmosis) -> float:
    """Coldest water read at source or tap in two years, or today's [degC]."""
    fed, since = now.carried.fed[stage.id], now.today - timedelta(days=730)
    read = [one for point in ("source", "tap") for one in now.history.taken("temperature", point) if one.on >= since]
    return min([one.taken.value for one in read] + [fed.temperature_c if fed is not None else 11.0])


def winter_l_per_day(now: Situation, stage: ReverseOsmosis, condition: float) -> float:
    """Product in the coldest water seen, against the rising pressure of the reservoir [L/day]."""
    bar = feed_bar(now, stage)
    against = mean_back_bar(stage.reservoir_precharge_bar, bar if bar is not None else stage.rated_bar)
    return makes_l_per_day(now, stage, coldest_c(now, stage), against, condition)


def numbers(now: Situation, stage: ReverseOsmosis) -> Numbers:
    """What it can make now with an open line, recovery, rejection, the membrane's condition, filling and reject.

    `normalized_flow_ratio` is there once product flow, temperature and pressure were read together.
    """
    fed = now.carried.fed[stage.id]
    kept = latest_rejection(stage, now.history)
    celsius = min(max(fed.temperature_c if fed is not None else 11.0, 0.0), 45.0)
    flowed = flows(now, stage)
    ratio = flowed[-1].ratio if flowed else None
    condition = ratio if ratio is not None else 1.0
    found: Numbers = {
        "permeate_l_per_day": makes_l_per_day(now, stage, celsius, ratio=condition),
        "recovery": stage.recovery,
        "rejection": kept,
    }
    if ratio is not None:
        found["normalized_flow_ratio"] = ratio
    passed = passages(now, stage)
    if len(passed) > 1 and passed[0].ratio > 0.0:
        found["normalized_salt_passage_ratio"] = passed[-1].ratio / passed[0].ratio
    drawn, feed = now.demand.ro_product_l_per_day(), ro_feed_l_per_day(now, stage)
    found |= {"drawn_l_per_day": drawn, "reject_l_per_week": 7.0 * (feed - drawn)}
    winter = winter_l_per_day(now, stage, condition)
    if winter > 0.0:
        found["reservoir_fill_h_in_winter"] = fill_hours(stage.reservoir_l, winter)
    return found


def facts(now: Situation, stage: ReverseOsmosis, found: Numbers) -> list[Fact]:
    """The same in words."""
    show = now.known.show
    feed = "pressure read" if now.history.newest("feed_pressure", stage.id) else "pressure assumed"
    makes = show(number(found, "permeate_l_per_day"), "volume")
    text = f"{makes} a day now, rejection {number(found, 'rejection'):.0%}, recovery {stage.recovery:.0%}"
    rows = [("Product", text, f"rating at this temperature and net pressure ({feed}); newest solids readings")]
    drawn = show(number(found, "drawn_l_per_day"), "volume")
    waste = show(number(found, "reject_l_per_week"), "volume")
    rows.append(("Drawn", f"{drawn} a day, {waste} of reject a week", "named uses; product over recovery"))
    rows += _condition(now, stage, found)
    if "reservoir_fill_h_in_winter" in found:
        hours = number(found, "reservoir_fill_h_in_winter")
        at = show(coldest_c(now, stage), "temperature")
        rows.append(("Reservoir", f"fills in {hours:.1f} h at {at}", "coldest water seen, rising back pressure"))
    return [Fact(stage=stage.id, label=label, text=text, basis=basis) for label, text, basis in rows]


def _condition(now: Situation, stage: ReverseOsmosis, found: Numbers) -> list[tuple[str, str, str]]:
    rows = []
    seen = flows(now, stage)
    if seen:
        since = f"; {seen[0].ratio:.0%} on {now.known.day(seen[0].on)}" if len(seen) > 1 else ""
        text = f"{seen[-1].ratio:.0%} of its rating on {now.known.day(seen[-1].on)}{since}"
        rows.append(("Membrane flow", text, "corrected for temperature and net pressure"))
    if "normalized_salt_passage_ratio" in found:
        first = now.known.day(passages(now, stage)[0].on)
        text = f"{number(found, 'normalized_salt_passage_ratio'):.2f} times that of {first}"
        rows.append(("Salt passage", text, "corrected for pressure, and 6 % a degree: Water Quality Association"))
    return rows


def alerts(now: Situation, stage: ReverseOsmosis) -> list[Alert]:
    """A membrane that makes a tenth less than it did, and more reject than a septic tank should get."""
    found, seen, point = [], flows(now, stage), ro_point(stage)
    if len(seen) > 1 and seen[-1].ratio < (1.0 - FLOW_FALL_SHARE) * seen[0].ratio:
        text = (
            f"Corrected for cold and pressure, the membrane makes {1.0 - seen[-1].ratio / seen[0].ratio:.0%} less than "
            f"on {now.known.day(seen[0].on)}: look at prefilters and pressure, then clean or change it (US Army TM "
            "10-4610-309-14: act at 10 %)."
        )
        found.append(Alert(level="note", point=point, text=text))
    drawn, winter = now.demand.ro_product_l_per_day(), winter_l_per_day(now, stage, seen[-1].ratio if seen else 1.0)
    if drawn > winter:
        text = (
            f"{now.known.show(drawn, 'volume')} a day are drawn at the RO tap; in the coldest water the unit makes "
            f"{now.known.show(winter, 'volume')}."
        )
        found.append(Alert(level="note", point=point, text=text))
    reject = ro_feed_l_per_day(now, stage) - drawn
    if reject > SEPTIC_REJECT_L_PER_DAY:
        text = (
            f"RO reject is {now.known.show(reject, 'volume')} a day; Connecticut advises at most 30 gal (114 L) to a "
            "septic tank (DPH publication 21). Check your local rule."
        )
        found.append(Alert(level="note", point=point, text=text))
    return found
