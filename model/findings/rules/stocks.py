"""Levels that do not agree with what was reckoned."""

from __future__ import annotations

from model.equipment.base import Stock
from model.equipment.registry import AnyStage
from model.findings.readings import newest_first, rests
from model.findings.shape import Raised
from model.forecast.situation import Situation
from model.plan_types import Level
from model.records.history import Dated


def stock_of(now: Situation, stage: AnyStage, job: str) -> Stock | None:
    """The stock that a job renews, None where it cannot be reckoned."""
    return next((stock for stock in now.stocks.get(stage.id, ()) if stock.job == job), None)


def unlike(
    now: Situation,
    stage: AnyStage,
    job: str,
    quantity: str,
    odd: tuple[str, ...],
    level: Level,
    what: str,
) -> Raised | None:
    """A level that stands otherwise than reckoned, in one of these ways. `what` it means ends the sentence."""
    stock = stock_of(now, stage, job)
    seen = stock.unlike if stock else None
    read = odd_reading(now, stage, job, quantity)
    if seen is None or read is None or seen.odd not in odd:
        return None
    show = now.known.show
    found, reckoned = show(seen.seen, "mass"), show(seen.reckoned, "mass")
    text = f"{found} on {now.known.day(seen.on)}, where {reckoned} was reckoned: {what}."
    return Raised(level, text, rests(now, read))


def odd_reading(now: Situation, stage: AnyStage, job: str, quantity: str) -> Dated | None:
    """The reading of the level that did not agree, None where all did."""
    stock = stock_of(now, stage, job)
    if stock is None or stock.unlike is None:
        return None
    on = stock.unlike.on
    return next((one for one in newest_first(now, quantity, (stage.id,)) if one.on == on), None)
