"""What brings the water: the level in the well, the pump, and the pressure it gives."""

from __future__ import annotations

from model.equipment.pressure_tank import PressureTank
from model.equipment.well import Well
from model.findings.readings import earlier, newest, rests, said
from model.findings.shape import Raised
from model.forecast.situation import Situation
from model.records.history import Dated
from model.records.likeness import median
from model.records.points import main_train
from model.unit_tables import PSI_BAR

LONG_RUN_S = 900.0
"""A pump that runs so long without a stop hardly fills the tank [s]. From memory; owner's default."""

UNDER_CUT_IN_BAR = 5.0 * PSI_BAR
"""So far under cut-in the pump should long be running [bar]: 5 psi, more than two gauges differ. Owner's default."""

FALL_M = 3.0
"""A level this much deeper than usual is more than a dry season's swing in most wells [m]. From memory; owner's
default."""

LESS_YIELD = 0.75
"""A well that gives less than this share of what it gave. From memory; owner's default."""


def long_run(now: Situation, stage: PressureTank) -> Raised | None:
    """The pump hardly stops."""
    run = newest(now, "run_time", stage.id)
    if run is None or run.taken.value < LONG_RUN_S:
        return None
    text = f"The pump ran {said(now, run)} before it stopped; with every tap shut a few minutes fill the tank."
    return Raised("warning", text, rests(now, run, newest(now, "cut_out", stage.id)))


def low_supply(now: Situation, stage: PressureTank) -> Raised | None:
    """Less pressure at the first gauge after the tank than that at which the pump starts."""
    read = newest(now, "pressure_in", *_next_gauge(now, stage))
    start = newest(now, "cut_in", stage.id)
    cut_in_bar = start.taken.value if start else stage.cut_in_bar
    if read is None or read.taken.value >= cut_in_bar - UNDER_CUT_IN_BAR:
        return None
    at = now.known.show(cut_in_bar, "pressure")
    text = (
        f"Pressure {said(now, read)} ahead of the first filter; the pump should start at {at}: look before the filter."
    )
    return Raised("warning", text, rests(now, read, start))


def _next_gauge(now: Situation, stage: PressureTank) -> tuple[str, ...]:
    """The stage that comes right after the tank."""
    train = [one.id for one in main_train(now.house)]
    place = train.index(stage.id) + 1
    return tuple(train[place : place + 1])


def falling_level(now: Situation, stage: Well) -> Raised | None:
    """The water in the well stands deeper than it used to, or the well gives less."""
    for quantity in ("static_level", "pumping_level", "well_yield"):
        read = newest(now, quantity, stage.id)
        before = earlier(now, read) if read else []
        if read is not None and before and _worse(quantity, read, before):
            text = (
                f"{_TITLES[quantity]} {said(now, read)}, {said(now, before[0])}. If taps spurt air, stop drawing water."
            )
            return Raised("warning", text, rests(now, read, before[0]))
    return None


_TITLES = {"static_level": "Water at rest", "pumping_level": "Water while pumping", "well_yield": "Well yield"}


def _worse(quantity: str, read: Dated, before: list[Dated]) -> bool:
    usual = median([one.taken.value for one in before])
    if quantity == "well_yield":
        return read.taken.value < LESS_YIELD * usual
    return read.taken.value >= usual + FALL_M
