"""Pressure tank and sediment filter."""

from __future__ import annotations

from model.equipment.pressure_tank import PressureTank
from model.equipment.sediment_filter import SedimentFilter
from model.findings.readings import newest, rests, said, since_renewed
from model.findings.shape import Raised
from model.forecast.numbers.pressure_tank import LEAST_RUN_S, SHORT_SHARE, measured
from model.forecast.situation import Situation
from model.plan_types import Level

VERY_SHORT_RUN_S = 20.0
"""A run this short wears a pump out fast [s]. From memory; owner's default."""

ABOVE_BAR = 0.02
"""A charge this much above cut-in is above it [bar]: the last digit of a psi gauge read in bar. Owner's default."""

_AIR = ("precharge", "replace_tank")


def short_cycling(now: Situation, stage: PressureTank) -> Raised | None:
    """A pump run under a minute, measured since the air charge was last set."""
    runs = since_renewed(now, stage, "run_time", *_AIR)
    if not runs or runs[-1].taken.value >= LEAST_RUN_S:
        return None
    run = runs[-1]
    draw = newest(now, "drawdown", stage.id)
    level: Level = "warning" if run.taken.value < VERY_SHORT_RUN_S else "note"
    text = f"The pump ran {said(now, run)}; a minute is the least that is kind to a small pump."
    return Raised(level, text, rests(now, run, draw))


def drawdown_loss(now: Situation, stage: PressureTank) -> Raised | None:
    """A draw-down that has shrunk since the charge was set, or falls short of the gas law."""
    own = since_renewed(now, stage, "drawdown", *_AIR)
    if not own:
        return None
    first, last = own[0], own[-1]
    if last.taken.value <= (1.0 - SHORT_SHARE) * first.taken.value:
        return Raised("warning", f"Draw-down {said(now, last)}, from {said(now, first)}.", rests(now, last, first))
    seen = measured(now, stage)
    if seen is None or seen.read.taken.value > (1.0 - SHORT_SHARE) * seen.expected_l:
        return None
    expected = now.known.show(seen.expected_l, "volume")
    return Raised("warning", f"Draw-down {said(now, seen.read)}; {expected} by the gas law.", rests(now, seen.read))


def precharge_over_cut_in(now: Situation, stage: PressureTank) -> Raised | None:
    """An air charge above the pressure at which the pump starts: a dry moment before each start."""
    charges, read = since_renewed(now, stage, "precharge", *_AIR), newest(now, "cut_in", stage.id)
    cut_in_bar = read.taken.value if read else stage.cut_in_bar
    if not charges or charges[-1].taken.value <= cut_in_bar + ABOVE_BAR:
        return None
    charge = charges[-1]
    at = now.known.show(cut_in_bar, "pressure")
    text = f"Air charge {said(now, charge)}, above the cut-in of {at}: water stops for a moment before the pump starts."
    return Raised("warning", text, rests(now, charge, read))


def loaded_filter(now: Situation, stage: SedimentFilter) -> Raised | None:
    """A drop at the change-out drop or over it, read on this cartridge."""
    before = since_renewed(now, stage, "pressure_in", "replace_cartridge")
    after = {(one.on, one.taken.moment): one for one in since_renewed(now, stage, "pressure_out", "replace_cartridge")}
    pairs = [(one, after[key]) for one in before if (key := (one.on, one.taken.moment)) in after]
    if not pairs:
        return None
    high, low = pairs[-1]
    drop = high.taken.value - low.taken.value
    if drop < stage.change_drop_bar:
        return None
    show, day = now.known.show, now.known.day(high.on)
    limit = show(stage.change_drop_bar, "pressure")
    text = f"Pressure drop {show(drop, 'pressure')} on {day}; a cartridge is changed at {limit}."
    return Raised("warning", text, rests(now, high, low), ("storm",) if _early(now, stage) else ())


def _early(now: Situation, stage: SedimentFilter) -> bool:
    """Whether the water that passed would leave the cartridge more than half of its litres."""
    since = now.known.renewed(stage, "replace_cartridge")
    return now.known.recorded(stage, "replace_cartridge") and now.known.litres(since, now.today) < 0.5 * stage.rated_l
