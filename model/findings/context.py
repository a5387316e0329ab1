"""In which state the water was when it was read: before or after a regeneration, flowing or after standing."""

from __future__ import annotations

from typing import Literal

from model.equipment.softener import Softener, resin_years, run_length
from model.findings.readings import noted
from model.forecast.situation import Situation
from model.records.history import Dated

Run = Literal["before", "after", ""]

_BEFORE, _AFTER = ("before regen", "last tenth"), ("after regen",)
_TENTH = 0.1
_STOOD = ("stood", "standing", "overnight", "first draw", "first water", "at rest")


def run_of(now: Situation, stage: Softener, one: Dated) -> Run:
    """Whether a reading was taken at the end of a run or after a regeneration; "" where nobody said.

    By the water that passed since, if that was written down: the first and the last tenth of a run. The hardness check
    asks for one before and one after; else method or note may say so.
    """
    passed = one.taken.since_regeneration_l
    if passed is not None:
        return _by_litres(now, stage, passed)
    if any(done.id == one.event for done in reversed(now.history.services(f"{stage.id}.hardness_check"))):
        return one.taken.moment
    if noted(now, one, _BEFORE):
        return "before"
    return "after" if noted(now, one, _AFTER) else ""


def _by_litres(now: Situation, stage: Softener, passed_l: float) -> Run:
    run = run_length(stage, now.known.fed(stage), resin_years(stage, now.known)).planned_l
    if not run:
        return ""
    share = passed_l / run
    return "after" if share <= _TENTH else "before" if share >= 1.0 - _TENTH else ""


def stood(now: Situation, one: Dated) -> bool:
    """Whether a reading is of water that had stood, as its state, method or note says."""
    return one.taken.state == "at_rest" or noted(now, one, _STOOD)
