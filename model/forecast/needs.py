"""What the jobs of the coming months will take from the shelf."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import takewhile
from math import exp

import msgspec

from model.clock import add_months
from model.equipment.base import Job, Stock
from model.equipment.neutralizer import Neutralizer
from model.equipment.registry import AnyStage
from model.forecast.chance import day_of_chance, expected_left
from model.forecast.due import due_item
from model.forecast.situation import Situation
from model.plan_types import Due

MOST_REFILLS = 400


class Need(msgspec.Struct, frozen=True, kw_only=True):
    """Parts that a job will take on a day, in the supply's unit. `per_year` is the long-run rate of this need."""

    on: date
    supply: str
    stage: str
    task: str
    quantity: float
    per_year: float


def needs(now: Situation, until: date, deviation: float = 0.0) -> tuple[Need, ...]:
    """All needs from today to `until`, soonest first.

    `deviation`: how many standard deviations the draw is above (or below) what is expected; the same for all stages,
    because they share the water use.
    """
    found = [
        need
        for stage in now.house.stages
        for job in now.jobs(stage)
        if job.parts and not job.on_event
        for need in _of_job(now, stage, job, until, deviation)
    ]
    return tuple(sorted(found, key=lambda need: (need.on, need.task, need.supply)))


def yearly(now: Situation) -> tuple[Need, ...]:
    """The next need of every part that a job takes, however far away: what its yearly rate is read from."""
    return tuple(
        need
        for stage in now.house.stages
        for job in now.jobs(stage)
        if job.parts and not job.on_event
        for need in _first_of_each(_of_job(now, stage, job, date.max, 0.0))
    )


def _first_of_each(path: Iterator[Need]) -> Iterator[Need]:
    """The needs of the first day only."""
    first = next(path, None)
    if first is not None:
        yield first
        yield from takewhile(lambda need: need.on == first.on, path)


def unsupplied(now: Situation) -> tuple[str, ...]:
    """Parts that jobs take but for which the stage names no supply on the list: "softener: salt"."""
    known = {supply.id for supply in now.house.supplies}
    return tuple(
        f"{stage.id}: {part.replace('_', ' ')}"
        for stage in now.house.stages
        for part in sorted(_taken(now, stage))
        if stage.supplies.get(part) not in known
    )


def _taken(now: Situation, stage: AnyStage) -> set[str]:
    """Parts that the dated jobs of a stage take, leaving out a medium of which there is none in the bed."""
    parts = {part for job in now.jobs(stage) if not job.on_event for part in job.parts}
    return parts - {"magnesia"} if isinstance(stage, Neutralizer) and stage.magnesia_share <= 0 else parts


def _of_job(now: Situation, stage: AnyStage, job: Job, until: date, deviation: float) -> Iterator[Need]:
    item = due_item(now, stage, job)
    if item is None:
        return
    stock = _deciding(now, stage, item, job)
    taken = stock.refills if stock is not None and stock.refills else job.parts
    shares = 1.0
    if stock is None:
        days = _by_calendar(item.act_on, job, now.today)
    else:
        margin = expected_left(stock, now.demand, item.act_on)
        shares = 1.0 - margin / stock.full if stock.refills and 0 < margin < stock.full else 1.0
        days = _by_stock(now, stock, job, item, margin, deviation)
    for on, interval in days:
        if on >= until:
            return
        for part, quantity in taken.items():
            if part in stage.supplies and quantity > 0:
                yield Need(
                    on=on,
                    supply=stage.supplies[part],
                    stage=stage.id,
                    task=item.task,
                    quantity=quantity * shares,
                    per_year=quantity * shares * 365.25 / interval,
                )


def _deciding(now: Situation, stage: AnyStage, item: Due, job: Job) -> Stock | None:
    """The stock that gave the item its date."""
    for stock in now.stocks.get(stage.id, ()):
        if stock.job == job.id and stock.driver == item.driver:
            return stock
    return None


def _by_calendar(first: date, job: Job, today: date) -> Iterator[tuple[date, float]]:
    """Days of a job that only the calendar drives, with its interval in days."""
    months = 12 if job.season else job.months
    on = max(first, today)
    for _ in range(MOST_REFILLS):
        if on.year >= 9000:
            return
        later = add_months(on, months) if months else on + timedelta(days=max(job.days, 1))
        yield on, float((later - on).days)
        on = later


def _by_stock(
    now: Situation, stock: Stock, job: Job, item: Due, margin: float, deviation: float
) -> Iterator[tuple[date, float]]:
    """Days on which the level falls to the margin at which this owner acts, or on which the calendar cap comes.

    `margin` is what is expected to be left on the planned day.
    """
    year = now.demand.forecast_log_sd(365) if stock.per_litre else 0.0
    factor = exp(deviation * (stock.spread**2 + year**2) ** 0.5)
    drawn = msgspec.structs.replace(
        stock, per_litre=stock.per_litre * factor, per_day=stock.per_day * factor, left=max(stock.left - margin, 0.0)
    )
    on = item.act_on if deviation == 0.0 else _reached(now, drawn) or date.max
    on = max(min(on, item.cap_on or date.max), now.today)
    usable = max(stock.full - margin, 0.05 * stock.full)
    for _ in range(MOST_REFILLS):
        if on.year >= 9000:
            return
        later = _reached(now, msgspec.structs.replace(drawn, since=on, left=usable)) or date.max
        later = max(min(later, _cap(on, job)), min(on, date.max - timedelta(days=1)) + timedelta(days=1))
        yield on, float((later - on).days)
        on = later


def _reached(now: Situation, stock: Stock) -> date | None:
    return day_of_chance(stock, now.demand, 0.5)


def _cap(on: date, job: Job) -> date:
    if on.year >= 9000:
        return date.max
    by_days = on + timedelta(days=job.days) if job.days else date.max
    return min(add_months(on, job.months), by_days) if job.months else by_days
