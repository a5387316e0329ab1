"""Lead and copper at the taps people drink from."""

from __future__ import annotations

from typing import NamedTuple

from model.findings.readings import near, newest_first, rests, said
from model.findings.shape import Raised
from model.forecast.exposed.house import drinking_points
from model.forecast.situation import Situation
from model.plan_types import Level
from model.records.bounds import top
from model.records.history import Dated
from model.records.quantities import QUANTITIES
from model.water.traces import ASK, COPPER_ACTION_MG_L, COPPER_TASTE_MG_L, LEAD_ACTION_MG_L, LEAD_COMING_MG_L


class Step(NamedTuple):
    """From `mg_l` on [mg/L] a metal is told as grave as `level`; `words` say what that number is."""

    mg_l: float
    level: Level
    words: str


STEPS: dict[str, tuple[Step, Step]] = {
    "lead": (
        Step(LEAD_ACTION_MG_L, "danger", "action level 0.015 mg/L (15 µg/L); no lead is safe for a child"),
        Step(LEAD_COMING_MG_L, "warning", "action level 0.015 mg/L (15 µg/L), 0.010 from November 2027"),
    ),
    "copper": (
        Step(COPPER_ACTION_MG_L, "warning", "action level 1.3 mg/L"),
        Step(COPPER_TASTE_MG_L, "note", "taste and stains from 1.0 mg/L, action level 1.3"),
    ),
}
"""The gravest first. Sources: as in `model.water.traces`."""

ACID_PH = 6.8
"""Under this at a tap, water takes metal out of pipes. From memory; owner's default."""

PH_DAYS = 60
"""A pH read this near to a metal belongs to it. From memory; owner's default."""


def metal_at_tap(now: Situation, metal: str) -> Raised | None:
    """The worst of the newest day at some drinking tap, at or over one of the levels."""
    places = drinking_points(now)
    worst = max(_newest_days(now, metal, tuple(places)), key=lambda one: top(one.taken), default=None)
    step = next((one for one in STEPS[metal] if worst is not None and top(worst.taken) >= one.mg_l), None)
    if worst is None or step is None:
        return None
    point = worst.taken.point
    pH = near(now, "pH", (point, "tap"), worst.on, PH_DAYS)
    fine = pH is not None and pH.taken.value >= ACID_PH
    text = (
        f"{QUANTITIES[metal].title} {said(now, worst)} {places[point]}: {step.words}. Boiling does not take it out: "
        f"drink from a tap that tests clean. {ASK}"
    )
    place = f"{metal}.{point}"
    return Raised(step.level, text, rests(now, worst, pH), ("stood", "fitting") if fine else (), place, metal, point)


def _newest_days(now: Situation, metal: str, points: tuple[str, ...]) -> list[Dated]:
    """What was found on the newest day of each point: a first draw and a flushed sample both count."""
    days = {one.taken.point: one.on for one in reversed(list(newest_first(now, metal, points)))}
    return [
        one
        for one in newest_first(now, metal, points)
        if one.on == days[one.taken.point] and one.taken.qualifier != "<"
    ]
