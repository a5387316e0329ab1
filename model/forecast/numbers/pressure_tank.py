"""The pressure tank today: draw-down by the gas law, against the one that was measured."""

from __future__ import annotations

from typing import NamedTuple

from model.equipment.pressure_tank import PressureTank
from model.equipment.relations.pressure_tank import drawdown_l, shortest_run_s, shortfall_share, starts_per_day
from model.equipment.well import Well
from model.errors import BadInput
from model.forecast.numbers.common import Numbers, number
from model.forecast.situation import Situation
from model.forecast.use import known_l_per_day
from model.plan_types import Alert, Fact
from model.records.history import Dated

SHORT_SHARE = 0.15
"""A measured draw-down this far short of the reckoned one is told. From memory; owner's default."""

LEAST_RUN_S = 60.0
"""Shortest run that is kind to a pump [s]. Common practice, no source; two minutes at 1 hp and above, from memory."""

MOST_STARTS_PER_DAY = 300.0
"""Starts a day for a pump below 1 hp. Source: D. Kill, Water Well Journal (as few as 50 above 5 hp)."""


class Measured(NamedTuple):
    """A draw-down that was measured, and what the gas law gives for the pressures of that day [L]."""

    read: Dated
    expected_l: float


def expected_l(now: Situation, stage: PressureTank, cut_in_bar: float, cut_out_bar: float) -> float | None:
    """Draw-down by the gas law [L], None where the pressures make no sense."""
    try:
        return drawdown_l(stage.volume_l, stage.precharge_bar, cut_in_bar, cut_out_bar, now.house.elevation_m)
    except BadInput:
        return None


def measured(now: Situation, stage: PressureTank) -> Measured | None:
    """The newest draw-down measured since the air charge was last set, or None."""
    set_on = now.known.last_done(stage, "precharge")
    renewed = max([day for day in (set_on, now.known.last_done(stage, "replace_tank")) if day], default=None)
    read = now.history.newest("drawdown", stage.id)
    if read is None or (renewed is not None and read.on < renewed):
        return None
    low, high = (
        next((one.taken.value for one in now.history.taken(name, stage.id) if one.on == read.on), plain)
        for name, plain in (("cut_in", stage.cut_in_bar), ("cut_out", stage.cut_out_bar))
    )
    expected = expected_l(now, stage, low, high)
    return Measured(read, expected) if expected else None


def pumped_l_per_day(now: Situation) -> float:
    """All that the pump lifts on a day [L/day]: house and hose."""
    hose = known_l_per_day(now.house, now.today.month, hose=True) if now.house.hose else 0.0
    return now.demand.per_day() + hose


def numbers(now: Situation, stage: PressureTank) -> Numbers:
    """Draw-down and starts a day by the gas law; the shortest run where the pump's flow is known; what was measured."""
    draw = expected_l(now, stage, stage.cut_in_bar, stage.cut_out_bar)
    if draw is None:
        return {}
    found: Numbers = {"drawdown_l": draw}
    if draw > 0.0:
        found["starts_per_day"] = starts_per_day(pumped_l_per_day(now), draw)
    pump = next((one.pump_l_per_min for one in now.house.stages if isinstance(one, Well)), None)
    seen = measured(now, stage)
    if pump:
        found["shortest_run_s"] = shortest_run_s(seen.read.taken.value if seen else draw, pump)
    if seen:
        found["measured_drawdown_l"] = seen.read.taken.value
    return found


def facts(now: Situation, stage: PressureTank, found: Numbers) -> list[Fact]:
    """The same in words."""
    show = now.known.show
    if "drawdown_l" not in found:
        text = "the pump must stop at a higher pressure than it starts at: check the settings"
        return [Fact(stage=stage.id, label="Draw-down", text=text)]
    text = f"{show(number(found, 'drawdown_l'), 'volume')} a cycle"
    if "starts_per_day" in found:
        text += f", about {number(found, 'starts_per_day'):.0f} pump starts a day"
    rows = [Fact(stage=stage.id, label="Draw-down", text=text, basis="Boyle's law at this elevation; an upper bound")]
    if "shortest_run_s" in found:
        text = f"{number(found, 'shortest_run_s'):.0f} s with every tap shut"
        rows.append(Fact(stage=stage.id, label="Shortest run", text=text, basis="draw-down over the pump's flow"))
    if seen := measured(now, stage):
        text = f"{show(seen.read.taken.value, 'volume')} on {now.known.day(seen.read.on)}"
        basis = f"{show(seen.expected_l, 'volume')} reckoned for the pressures of that day"
        rows.append(Fact(stage=stage.id, label="Measured", text=text, basis=basis))
    return rows


def alerts(now: Situation, stage: PressureTank) -> list[Alert]:
    """A tank that gives too little, a pump that runs too briefly or starts too often."""
    found = numbers(now, stage)
    told = [_short(now, stage)]
    if 0.0 < number(found, "shortest_run_s") < LEAST_RUN_S:
        text = (
            f"The pump can run as briefly as {number(found, 'shortest_run_s'):.0f} s; a minute is the least for a "
            "small pump (common practice, no source). A bigger tank or a wider switch setting: ask the pump contractor."
        )
        told.append(Alert(level="note", point="source", text=text))
    if number(found, "starts_per_day") > MOST_STARTS_PER_DAY:
        text = (
            f"The pump may start {number(found, 'starts_per_day'):.0f} times a day; below 300 is advised under 1 hp "
            "(D. Kill, Water Well Journal)."
        )
        told.append(Alert(level="note", point="source", text=text))
    return [one for one in told if one is not None]


def _short(now: Situation, stage: PressureTank) -> Alert | None:
    seen, show = measured(now, stage), now.known.show
    if seen is None or (short := shortfall_share(seen.read.taken.value, seen.expected_l)) < SHORT_SHARE:
        return None
    text = (
        f"Draw-down measured {show(seen.read.taken.value, 'volume')} on {now.known.day(seen.read.on)}, {short:.0%} "
        f"short of the {show(seen.expected_l, 'volume')} reckoned: check the air charge, with the power off and the "
        "tank empty of water."
    )
    return Alert(level="warning", point="source", text=text)
