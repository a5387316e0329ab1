"""What the jobs of the coming months will take from the shelf if all goes as expected."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from itertools import takewhile

import msgspec

from model.clock import add_months
from model.equipment.base import Job, Stock
from model.equipment.neutralizer import Neutralizer
from model.equipment.registry import AnyStage
from model.forecast.chance import day_used_up, expected_left
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


def supplied_jobs(now: Situation) -> Iterator[tuple[AnyStage, Job]]:
    """Every dated job that takes parts, with its stage."""
    for stage in now.house.stages:
        for job in now.jobs(stage):
            if job.parts and not job.on_event:
                yield stage, job


def needs(now: Situation, until: date) -> tuple[Need, ...]:
    """All needs from today to `until`, soonest first, with the water use and the draw as expected."""
    found = [need for stage, job in supplied_jobs(now) for need in needs_of(now, stage, job, until)]
    return tuple(sorted(found, key=lambda need: (need.on, need.task, need.supply)))


def yearly(now: Situation) -> tuple[Need, ...]:
    """The next need of every part that a job takes, however far away: what its yearly rate is read from."""
    return tuple(
        need for stage, job in supplied_jobs(now) for need in _first_of_each(needs_of(now, stage, job, date.max))
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


def needs_of(now: Situation, stage: AnyStage, job: Job, until: date) -> Iterator[Need]:
    """What one job takes from today to `until`, day by day as expected."""
    item = due_item(now, stage, job)
    if item is None:
        return
    stock = deciding(now, stage, item, job)
    shares = 1.0
    if stock is None:
        days = by_calendar(max(item.act_on, now.today), job)
    else:
        margin = expected_left(stock, now.demand, item.act_on)
        shares = 1.0 - margin / stock.full if stock.refills and 0 < margin < stock.full else 1.0
        days = _by_stock(now, stock, job, item, margin)
    for on, interval in days:
        if on >= until:
            return
        for supply, quantity in taken(stage, job, stock).items():
            yield Need(
                on=on,
                supply=supply,
                stage=stage.id,
                task=item.task,
                quantity=quantity * shares,
                per_year=quantity * shares * 365.25 / interval,
            )


def taken(stage: AnyStage, job: Job, stock: Stock | None) -> dict[str, float]:
    """What a job takes, by supply in its unit: the parts replaced, or what tops a stock up from its line."""
    parts = stock.refills if stock is not None and stock.refills else job.parts
    found: dict[str, float] = {}
    for part, quantity in parts.items():
        if part in stage.supplies and quantity > 0:
            supply = stage.supplies[part]
            found[supply] = found.get(supply, 0.0) + quantity
    return found


def deciding(now: Situation, stage: AnyStage, item: Due, job: Job) -> Stock | None:
    """The stock that gave the item its date."""
    for stock in now.stocks.get(stage.id, ()):
        if stock.job == job.id and stock.driver == item.driver:
            return stock
    return None


def by_calendar(first: date, job: Job) -> Iterator[tuple[date, float]]:
    """Days of a job that only the calendar drives, with its interval in days."""
    months = 12 if job.season else job.months
    on = first
    for _ in range(MOST_REFILLS):
        if on.year >= 9000:
            return
        later = add_months(on, months) if months else on + timedelta(days=max(job.days, 1))
        yield on, float((later - on).days)
        on = later


def _by_stock(now: Situation, stock: Stock, job: Job, item: Due, margin: float) -> Iterator[tuple[date, float]]:
    """Days on which the level falls to the margin at which this owner acts, or on which the calendar cap comes.

    `margin` is what is expected to be left on the planned day.
    """
    on = max(min(item.act_on, item.cap_on or date.max), now.today)
    usable = usable_of(stock, margin)
    for _ in range(MOST_REFILLS):
        if on.year >= 9000:
            return
        later = _reached(now, msgspec.structs.replace(stock, since=on, left=usable)) or date.max
        later = max(min(later, cap_after(on, job)), min(on, date.max - timedelta(days=1)) + timedelta(days=1))
        yield on, float((later - on).days)
        on = later


def usable_of(stock: Stock, margin: float) -> float:
    """What goes between two services [the stock's unit], from full to the margin at which this owner acts."""
    return max(stock.full - margin, 0.05 * stock.full)


def _reached(now: Situation, stock: Stock) -> date | None:
    return day_used_up(stock, now.demand)


def cap_after(on: date, job: Job) -> date:
    """The latest day of the next service by the calendar; the last of all days without a cap."""
    if on.year >= 9000:
        return date.max
    by_days = on + timedelta(days=job.days) if job.days else date.max
    return min(add_months(on, job.months), by_days) if job.months else by_days
