"""The day on which the chance that the shelf cannot serve a job reaches the owner's risk."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from heapq import merge

import msgspec

from model.equipment.base import Job, Stock
from model.equipment.registry import AnyStage
from model.forecast.chance import day_of_chance
from model.forecast.due import due_item
from model.forecast.needs import MOST_REFILLS, by_calendar, cap_after, deciding, supplied_jobs, taken
from model.forecast.situation import Situation
from model.forecast.wear import risk_of
from model.plan_types import Due


def shortfall(now: Situation, supply: str, on_shelf: float, until: date) -> tuple[date | None, float]:
    """The first day on which the shelf cannot serve a job [may be past], and how much is missing then.

    Each job is taken at its own risk: 1 in 100 that it is needed sooner where the owner says 1 %. With nothing on the
    shelf this is the day to act on the job. None from `until` on.
    """
    left = on_shelf
    jobs = [
        _takes(now, stage, job, supply, until) for stage, job in supplied_jobs(now) if supply in stage.supplies.values()
    ]
    for on, quantity in merge(*jobs):
        if quantity > left + 1e-9:
            return on, quantity - left
        left -= quantity
    return None, 0.0


def _takes(now: Situation, stage: AnyStage, job: Job, supply: str, until: date) -> Iterator[tuple[date, float]]:
    """What one job takes of a supply, on the days by which it may be needed."""
    item = due_item(now, stage, job)
    if item is None:
        return
    stock = deciding(now, stage, item, job)
    quantity = taken(stage, job, stock).get(supply, 0.0)
    if quantity <= 0:
        return
    days = _by_calendar(item.act_on, job, now.today) if stock is None else _by_stock(now, item, job, stock)
    for on in days:
        if on >= until:
            return
        yield on, quantity


def _by_calendar(first: date, job: Job, today: date) -> Iterator[date]:
    """The day to act, overdue or not; what follows is counted from the day it can be done."""
    yield first
    days = by_calendar(max(first, today), job)
    next(days, None)
    yield from (on for on, _ in days)


def _by_stock(now: Situation, item: Due, job: Job, stock: Stock) -> Iterator[date]:
    """Days by which the stock may be used up, full again after each service, at the owner's risk; or the cap's day."""
    on = item.act_on
    for _ in range(MOST_REFILLS):
        yield on
        done = max(on, now.today)
        if done.year >= 9000:
            return
        full = msgspec.structs.replace(stock, since=done, left=stock.full, left_sd=0.0, covariance=0.0)
        on = max(min(_out(now, job, full), cap_after(done, job)), done + timedelta(days=1))


def _out(now: Situation, job: Job, stock: Stock) -> date:
    """The day on which the chance of having run out reaches the owner's risk."""
    risk = risk_of(now, job)
    days = [day_of_chance(stock, now.demand, risk)]
    if job.health and stock.per_litre:
        days.append(day_of_chance(stock, now.unread_demand, risk))
    return min((day for day in days if day is not None), default=date.max)
