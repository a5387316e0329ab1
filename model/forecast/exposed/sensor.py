"""A UV sensor that reads too little light to count on."""

from __future__ import annotations

from model.equipment.ultraviolet import Ultraviolet
from model.forecast.exposed.house import about_boiling, instead, short_name
from model.forecast.exposed.line import INFANTS, Line, Rank, said
from model.forecast.situation import Situation
from model.forecast.words import day_in_words
from model.records.history import Dated

LOW_PERCENT, VERY_LOW_PERCENT = 70.0, 50.0
"""Sensor readings that call for the sleeve, and that are no protection [%]. From memory; owner's default."""


def sensor_lines(now: Situation) -> list[Line]:
    """One line for each unit whose sensor last read too little."""
    lines = []
    for stage in now.house.stages:
        if isinstance(stage, Ultraviolet) and (low := low_sensor(now, stage)) is not None:
            at = f"{short_name(stage)} sensor at {low.taken.value:.0f} % on {day_in_words(low.on, now.today)}"
            if low.taken.value < VERY_LOW_PERCENT:
                more = said(about_boiling(now), INFANTS)
                lines.append(Line(Rank.GERMS_PASS, f"{at}: treat as unsafe; {instead(now)}.", more))
            else:
                lines.append(Line(Rank.DOSE_UNKNOWN, f"{at}: do not count on its dose.", "Clean the sleeve."))
    return lines


def low_sensor(now: Situation, stage: Ultraviolet) -> Dated | None:
    """The newest reading of the sensor where it is too low, else None."""
    newest = now.history.newest("uv_intensity", stage.id)
    return newest if newest is not None and newest.taken.value < LOW_PERCENT else None
