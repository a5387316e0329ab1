"""For every job of every stage: the day to act, the window, and the reasons."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

import msgspec

from model.clock import add_months
from model.equipment.base import Job, Stock
from model.equipment.registry import AnyStage, title_of
from model.forecast.asked_for import wanted as wanted_of
from model.forecast.chance import FURTHEST_DAYS, day_of_chance, days_of_chances, expected_left, likely_out
from model.forecast.narrowing import best_reading
from model.forecast.situation import Situation
from model.forecast.states import state_of
from model.forecast.words import ago, amount_in_words, day_in_words
from model.plan_types import Amount, Due

SEASON_DAY = 15
GRACE_DAYS = 14
"""A job that was never recorded, and whose interval was over before the home was written down, gets this long."""

_ORDER = {"overdue": 0, "this_week": 1, "soon": 2, "later": 3}


def due_items(now: Situation) -> tuple[Due, ...]:
    """Every dated job, the soonest first."""
    found = [
        item for stage in now.house.stages for job in now.jobs(stage) if (item := due_item(now, stage, job)) is not None
    ]
    return in_order(found)


def in_order(items: Iterable[Due]) -> tuple[Due, ...]:
    """The items as they are shown: by state, then by day."""
    return tuple(sorted(items, key=lambda item: (_ORDER[item.state], item.act_on, item.task)))


def due_item(now: Situation, stage: AnyStage, job: Job) -> Due | None:
    """One job: by its consumable where it has one, never later than its calendar cap. None where neither is known."""
    task = f"{stage.id}.{job.id}"
    if task not in now.items:
        now.items[task] = _no_later_than_wanted(now, stage, job, None if job.on_event else _work_out(now, stage, job))
    return now.items[task]


def _no_later_than_wanted(now: Situation, stage: AnyStage, job: Job, item: Due | None) -> Due | None:
    """The item, brought forward to the day by which the log asks for its job."""
    wanted = wanted_of(now).get(f"{stage.id}.{job.id}")
    if wanted is None or (item is not None and item.act_on <= wanted.on):
        return item
    if item is None:
        return _by_calendar(now, stage, job, wanted.on, wanted.why)
    why = (wanted.why, *item.why[:7])
    return msgspec.structs.replace(item, act_on=wanted.on, state=state_of(wanted.on, now.today), why=why)


def _work_out(now: Situation, stage: AnyStage, job: Job) -> Due | None:
    cap, cap_why = calendar_date(now, stage, job)
    stocks = [stock for stock in now.stocks.get(stage.id, ()) if stock.job == job.id]
    windows = [_Window.of(now, stock, job) for stock in stocks]
    first = min(windows, key=lambda window: window.act_on, default=None)
    if first is None:
        return None if cap is None else _by_calendar(now, stage, job, cap, cap_why)
    return _by_stock(now, stage, job, first, cap, cap_why)


class _Window(msgspec.Struct, frozen=True):
    """When one stock reaches its threshold."""

    stock: Stock
    act_on: date
    earliest: date | None
    middle: date | None
    latest: date | None
    risk: float

    @classmethod
    def of(cls, now: Situation, stock: Stock, job: Job) -> _Window:
        risk = now.house.risk_health if job.health or job.careful else now.house.risk_other
        if (out := stock.under_since) is not None:
            return cls(stock, out, out, out, out, risk)
        never = now.today + timedelta(days=FURTHEST_DAYS)
        act_on = day_of_chance(stock, now.demand, risk) or never
        if job.health and stock.per_litre:
            act_on = min(act_on, day_of_chance(stock, now.unread_demand, risk) or never)
        low, middle, high = days_of_chances(stock, now.demand, (0.1, 0.5, 0.9), likely_out)
        return cls(stock, act_on, low, middle, high, risk)


def _left_known(now: Situation, stage: AnyStage, job: Job, stock: Stock) -> bool:
    """Whether anything on record says how much is left: a reading, the job, or the day the stage was put in."""
    return stock.sure != "guess" or stage.installed_on is not None or now.known.recorded(stage, job.id)


def calendar_date(now: Situation, stage: AnyStage, job: Job) -> tuple[date | None, str]:
    """The date by the calendar alone, and the reason; None for a job without an interval."""
    done = now.known.last_done(stage, job.id)
    if job.season:
        return _seasonal(now, done, job.season), f"Each year in the season: {job.basis}."
    if not job.months and not job.days:
        return None, ""
    every = _interval(job)
    if done is not None:
        return _later(done, job), f"Last done {day_in_words(done, now.today)}; every {every} ({job.basis})."
    first = _never_done(now, stage, job)
    asked = f"asked for on {day_in_words(first, now.today)}" if first > now.house.started else "asked for at once"
    return first, f"No record that it was ever done: {asked}; every {every} ({job.basis})."


def _interval(job: Job) -> str:
    """ "month", "6 months", "day", "90 days": to stand after "every"."""
    count, unit = (job.months, "month") if job.months else (job.days, "day")
    return unit if count == 1 else f"{count} {unit}s"


def _never_done(now: Situation, stage: AnyStage, job: Job) -> date:
    """A job that was never recorded. What protects health is due at once unless the stage is known to be new."""
    if job.health and stage.installed_on is None:
        return now.house.started
    first = now.house.started + timedelta(days=0 if job.health else GRACE_DAYS)
    return max(_later(stage.installed_on or now.house.started, job), first)


def _later(day: date, job: Job) -> date:
    return add_months(day, job.months) if job.months else day + timedelta(days=job.days)


def _seasonal(now: Situation, done: date | None, month: int) -> date:
    """The next middle of the season's month that lies well after the last time."""
    after = (done or now.house.started) + timedelta(days=150 if done else 0)
    this_year = date(after.year, month, SEASON_DAY)
    return this_year if this_year >= after else date(after.year + 1, month, SEASON_DAY)


def _by_calendar(now: Situation, stage: AnyStage, job: Job, cap: date, why: str) -> Due:
    done = now.known.last_done(stage, job.id)
    return Due(
        task=f"{stage.id}.{job.id}",
        title=job.title,
        stage=stage.id,
        stage_title=title_of(stage),
        state=state_of(cap, now.today),
        act_on=cap,
        earliest=None,
        middle=None,
        latest=None,
        driver="calendar",
        remaining=None,
        share_left=None,
        sure="forecast" if done else "guess",
        health=job.health,
        cap_on=cap,
        paused=now.history.paused(f"{stage.id}.{job.id}") is not None,
        why=(why,),
    )


def _by_stock(now: Situation, stage: AnyStage, job: Job, window: _Window, cap: date | None, cap_why: str) -> Due:
    stock = window.stock
    act_on = min(window.act_on, cap) if cap else window.act_on
    left = expected_left(stock, now.demand, now.today)
    return Due(
        task=f"{stage.id}.{job.id}",
        title=job.title,
        stage=stage.id,
        stage_title=title_of(stage),
        state=state_of(act_on, now.today),
        act_on=act_on,
        earliest=window.earliest,
        middle=window.middle,
        latest=window.latest,
        driver=stock.driver,
        remaining=Amount(round(left if stock.shown_left is None else stock.shown_left, 3), stock.unit),
        share_left=min(left / stock.full, 1.0) if stock.full > 0 else None,
        left_known=_left_known(now, stage, job, stock),
        sure=stock.sure,
        health=job.health,
        cap_on=cap,
        paused=now.history.paused(f"{stage.id}.{job.id}") is not None,
        why=_reasons(now, window, cap, cap_why, left),
    )


def _reasons(now: Situation, window: _Window, cap: date | None, cap_why: str, left: float) -> tuple[str, ...]:
    """The chain from the last reading to the date, in at most eight short lines."""
    stock = window.stock
    lines = [stock.finding, *stock.why[:3]] if stock.finding else list(stock.why[:4])
    if stock.per_litre:
        lines.append(f"The house takes {now.known.show(now.demand.per_day(), 'volume')} a day: {now.demand.basis()}.")
    lines.append(f"Reckoned left above the line today: {amount_in_words(left, stock.unit, now.house.units)}.")
    if window.act_on == now.today + timedelta(days=FURTHEST_DAYS):
        lines.append("At this pace it lasts beyond any date worth giving.")
    else:
        chance = f"{window.risk:.0%}"
        lines.append(f"The chance of having run out reaches {chance} on {day_in_words(window.act_on, now.today)}.")
    if cap is not None and cap <= window.act_on:
        lines.append(f"The calendar comes first, {ago(cap, now.today)}. {cap_why}")
    return (*lines, *_narrower(now, window))[:8]


def _narrower(now: Situation, window: _Window) -> tuple[str, ...]:
    if now.brief:
        return ()
    found = best_reading(window.stock, now.demand, window.earliest, window.latest)
    if found is None:
        return ()
    return (f"{found.do}: the window shrinks from {found.days_now} days to {found.days_then}.",)
