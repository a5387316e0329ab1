"""In which state the water was when it was read: before or after a regeneration, flowing or after standing."""

from __future__ import annotations

from typing import Literal

from model.equipment.softener import Softener
from model.findings.readings import noted
from model.forecast.situation import Situation
from model.records.history import Dated

Run = Literal["before", "after", ""]

_BEFORE, _AFTER = ("before regen", "last tenth"), ("after regen",)
_STOOD = ("stood", "standing", "overnight", "first draw", "first water", "at rest")


def run_of(now: Situation, stage: Softener, one: Dated) -> Run:
    """Whether a reading was taken at the end of a run or after a regeneration; "" where nobody said.

    The hardness check asks for one before and one after; else method or note may say so.
    """
    if any(done.id == one.event for done in reversed(now.history.services(f"{stage.id}.hardness_check"))):
        return one.taken.moment
    if noted(now, one, _BEFORE):
        return "before"
    return "after" if noted(now, one, _AFTER) else ""


def stood(now: Situation, one: Dated) -> bool:
    """Whether a reading is of water that had stood, as its method or note says."""
    return noted(now, one, _STOOD)
