"""The hours of the night in which a single-tank softener regenerates and passes untreated water."""

from __future__ import annotations

from model.equipment.softener import Softener, has_anion_resin
from model.forecast.exposed.house import for_fish
from model.forecast.exposed.line import Line, Rank, said
from model.forecast.situation import Situation

REGENERATION_H = 2.5
"""How long from the hour set until it is surely over [h]. From memory; owner's default."""


def night_lines(now: Situation) -> list[Line]:
    """One line for each softener that has one tank: a twin never passes untreated water."""
    return [
        _line(now, stage, stage.regenerates_at_hour)
        for stage in now.house.stages
        if isinstance(stage, Softener) and stage.regenerates_at_hour is not None
    ]


def _line(now: Situation, stage: Softener, hour: int) -> Line:
    untreated = "untreated water, nitrate too" if has_anion_resin(stage) else "hard water then"
    hours = f"From {_clock(hour)} to {_clock(hour + REGENERATION_H)}"
    lead = f"{hours} the softener may regenerate: {untreated}."
    more = said("No infant's bottle then, and no hot water.", for_fish(now, "No water for the fish tank then."))
    return Line(Rank.AT_NIGHT, lead, more)


def _clock(hour: float) -> str:
    """ "2:00", "0:30": an hour of the day, beyond midnight too."""
    minutes = round(hour * 60) % (24 * 60)
    return f"{minutes // 60}:{minutes % 60:02d}"
