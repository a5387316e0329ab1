"""Anything else with a life in days, litres, lit or running hours, or regenerations."""

from __future__ import annotations

from typing import Literal

import msgspec

from model.equipment.base import Job, Stage, Stock
from model.equipment.bounds import HoursADay, LifeDays, Positive
from model.equipment.evidence import Evidence, Pace, fitted
from model.water.sample import Sample


class Part(Stage, frozen=True, kw_only=True, tag="part"):
    """A part with a life of its own; the first of the given lives that ends decides.

    `hours_per_day` turns `life_hours` into days. `protects_health` gives it the careful risk limit.
    """

    life_days: LifeDays | None = None
    life_l: Positive | None = None
    life_hours: Positive | None = None
    hours_per_day: HoursADay = 24.0
    life_regenerations: Positive | None = None
    protects_health: bool = False


JOBS = (Job(id="replace", title="Replace the part", parts={"part": 1}, basis="the life entered by the owner"),)


def jobs(stage: Part, fed: Sample | None) -> tuple[Job, ...]:
    """The one job of a part, named after it."""
    named = f"Replace: {stage.title}" if stage.title else JOBS[0].title
    days = round(stage.life_days) if stage.life_days else 0
    return (msgspec.structs.replace(JOBS[0], title=named, health=stage.protects_health, days=days),)


def stocks(stage: Part, known: Evidence) -> tuple[Stock, ...]:
    """One stock for each life that the owner gave in litres, hours or regenerations; days are the calendar's."""
    by_valve = known.regenerations(careful=stage.protects_health) if stage.life_regenerations else Pace()
    lives: tuple[tuple[float | None, Literal["volume", "hours", "regenerations"], str, Pace], ...] = (
        (stage.life_l, "volume", "L", Pace(per_litre=1.0)),
        (stage.life_hours, "hours", "h", Pace(per_day=stage.hours_per_day)),
        (stage.life_regenerations, "regenerations", "regenerations", by_valve),
    )
    since = known.renewed(stage, "replace")
    return tuple(
        Stock(
            job="replace",
            driver=driver,
            unit=unit,
            since=since,
            left=life,
            left_sd=0.0,
            full=life,
            per_litre=pace.per_litre,
            per_day=pace.per_day,
            least_l_per_day=pace.least_l_per_day,
            spread=0.1,
            sure="forecast" if known.recorded(stage, "replace") else "guess",
            why=(fitted("Part", known, stage, "replace"), f"Good for {life:,.0f} {unit} (owner's setting)."),
        )
        for life, driver, unit, pace in lives
        if life is not None and pace.per_litre + pace.per_day > 0
    )
