"""The largest flow that a house draws."""

from __future__ import annotations

from math import ceil

from model.equipment.relations.check import at_least

SHOWER_L_PER_MIN, TAP_L_PER_MIN, TOILET_L_PER_MIN = 9.5, 8.3, 9.5
"""What one of each draws [L/min]: US limits for showerheads and taps, and a toilet filling. From memory."""

PEOPLE_PER_SHOWER = 3.0


def peak_l_per_min(people: float, pump_l_per_min: float | None = None) -> float:
    """Peak flow of a house [L/min] from the people in it, for want of a measurement.

    One shower running for every three people begun, with a tap and a toilet filling; or what the pump delivers
    [L/min], if that is more: with enough taps open all of it flows. Raises BadInput for people or a pump below 0.
    Source: from memory; owner's default. Time a bucket with everything running, and enter that.
    """
    at_least("people", people, 0.0)
    drawn = SHOWER_L_PER_MIN * max(ceil(people / PEOPLE_PER_SHOWER), 1) + TAP_L_PER_MIN + TOILET_L_PER_MIN
    if pump_l_per_min is None:
        return drawn
    at_least("pump flow", pump_l_per_min, 0.0)
    return max(drawn, pump_l_per_min)
