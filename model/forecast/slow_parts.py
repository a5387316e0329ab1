"""Ten years: the parts that last for years, each with its spread, and the consumables beside them."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta
from math import ceil

import msgspec

from model.clock import add_months
from model.equipment.base import Job, Stock
from model.equipment.registry import AnyStage, title_of
from model.forecast.chance import FURTHEST_DAYS, chance_out, day_of_chance
from model.forecast.chances import Chances, added, gathered, mean, mixed, spread_of
from model.forecast.costs import consumables
from model.forecast.due import due_item
from model.forecast.lives import Life, done_by, replacements
from model.forecast.needs import deciding, supplied_jobs, taken
from model.forecast.shelf import on_shelf, price_of
from model.forecast.situation import Situation
from model.forecast.words import day_in_words
from model.plan_types import SlowPart, TenYears

MONTHS = 120
_DAYS_A_YEAR = 365.25
_CHANCES = (0.1, 0.5, 0.9)


def ten_years(now: Situation) -> TenYears:
    """What the next ten years cost: the slow parts with their lives, and all other jobs as `cost_forecast` has them.

    A job whose part has a life in years counts among the slow parts only, with everything that it takes; in the list of
    the coming months it stands on the day that the plan gives it.
    """
    shelf = _shelf_for_slow(now)
    told = [_slow(now, stage, job, shelf) for stage, job in supplied_jobs(now) if job.life_years is not None]
    parts, costs = tuple(part for part, _ in told), [cost for _, cost in told]
    slow: Chances = {0.0: 1.0}
    for cost in costs:
        slow = added(slow, cost)
    others = consumables(now, MONTHS, lambda job: job.life_years is None)
    dear, cheap = mean(slow), mean(mixed(others))
    return TenYears(
        start=now.today,
        end=add_months(now.today, MONTHS),
        currency=now.house.currency,
        total=spread_of(mixed(added(one, slow) for one in others), dear + cheap),
        consumables=spread_of(mixed(others), cheap),
        slow=spread_of(slow, dear),
        parts=tuple(sorted(parts, key=lambda part: (part.middle, part.task))),
        notes=tuple(
            f"{part.stage_title}: {part.title}: no price known, counted as nothing."
            for part in parts
            if part.cash is None
        ),
    )


def _shelf_for_slow(now: Situation) -> dict[str, float]:
    """What of the shelf may serve a slow part: supplies that no other job takes."""
    others = {
        supply
        for stage, job in supplied_jobs(now)
        if job.life_years is None
        for part in job.parts
        if (supply := stage.supplies.get(part))
    }
    return {supply: amount for supply, amount in on_shelf(now).items() if supply not in others}


def _slow(now: Situation, stage: AnyStage, job: Job, shelf: dict[str, float]) -> tuple[SlowPart, Chances]:
    """One part, and the chances of what it costs; what it may take from `shelf` is taken out of it."""
    low, high = job.life_years or (1.0, 1.0)
    life = Life(low, high)
    fitted, known = _fitted(now, stage, job)
    age = max((now.today - fitted).days / _DAYS_A_YEAR, 0.0)
    window = _window(now, stage, job, life, age)
    every = (job.months or None) if _capped(job) else None
    counts = replacements(window.done_by, done_by(life, 0.0, every), MONTHS)
    cash = _cash(now, stage, job, counts, shelf)
    part = SlowPart(
        task=f"{stage.id}.{job.id}",
        title=job.title,
        stage=stage.id,
        stage_title=title_of(stage),
        age_years=age,
        age_known=known,
        earliest=window.days[0],
        middle=window.days[1],
        latest=window.days[2],
        chance=1.0 - counts.get(0.0, 0.0),
        replacements=mean(counts),
        cash=None if cash is None else spread_of(cash, mean(cash)),
        basis=f"{window.basis}; {_age_words(now, fitted, known)}",
    )
    return part, cash or {0.0: 1.0}


def _fitted(now: Situation, stage: AnyStage, job: Job) -> tuple[date, bool]:
    """When the part was fitted, and whether that is on record; else when the record began."""
    on = now.known.last_done(stage, job.id) or stage.installed_on
    return (now.house.started, False) if on is None else (on, True)


def _age_words(now: Situation, fitted: date, known: bool) -> str:
    day = day_in_words(fitted, now.today)
    return f"fitted {day}" if known else f"age not known, counted from when the record began, {day}"


class _Window(msgspec.Struct, frozen=True):
    """When the next replacement comes: the chance by a month from now, the 10, 50 and 90 % dates, and why."""

    done_by: Callable[[float], float]
    days: tuple[date, date, date]
    basis: str


def _capped(job: Job) -> bool:
    """Whether the part is replaced on its calendar day at the latest, however well it does."""
    return job.health or job.careful


def _cap(now: Situation, stage: AnyStage, job: Job) -> date | None:
    item = due_item(now, stage, job) if _capped(job) else None
    return None if item is None or item.cap_on is None else max(item.cap_on, now.today)


def _window(now: Situation, stage: AnyStage, job: Job, life: Life, age: float) -> _Window:
    """By the readings where they show the part wearing, else by its age."""
    cap, item = _cap(now, stage, job), due_item(now, stage, job)
    stock = None if item is None else deciding(now, stage, item, job)
    if stock is not None and stock.sure != "guess":
        return _by_readings(now, stock, cap)
    ages = [life.age_at(chance, age) - age for chance in _CHANCES]
    found = [now.today + timedelta(days=round(years * _DAYS_A_YEAR)) for years in ages]
    years = f"{life.low_years:g} to {life.high_years:g} years for 8 in 10 ({job.life_basis})"
    until = "" if cap is None else f", {day_in_words(cap, now.today)} at the latest by the calendar"
    return _Window(done_by(life, age, _months_to(cap, now.today)), _dates(found, now.today, cap), years + until)


def _by_readings(now: Situation, stock: Stock, cap: date | None) -> _Window:
    cap_month = _months_to(cap, now.today)

    def done(month: float) -> float:
        if cap_month is not None and month >= cap_month:
            return 1.0
        return chance_out(stock, now.demand, now.today + timedelta(days=round(month * _DAYS_A_YEAR / 12.0)))

    never = now.today + timedelta(days=FURTHEST_DAYS)
    found = [day_of_chance(stock, now.demand, chance) or never for chance in _CHANCES]
    return _Window(done, _dates(found, now.today, cap), "by its readings")


def _months_to(cap: date | None, today: date) -> float | None:
    return None if cap is None else (cap - today).days * 12.0 / _DAYS_A_YEAR


def _dates(found: list[date], today: date, cap: date | None) -> tuple[date, date, date]:
    early, middle, late = (max(min(day, cap or day), today) for day in found)
    return early, middle, late


def _cash(
    now: Situation, stage: AnyStage, job: Job, counts: dict[float, float], shelf: dict[str, float]
) -> Chances | None:
    """What so many replacements cost, whole packs beyond the shelf; None where no part of it has a price."""
    known = {supply.id: supply for supply in now.house.supplies}
    takes = {supply: amount for supply, amount in taken(stage, job, None).items() if supply in known}
    prices = {supply: price_of(now, known[supply])[0] for supply in takes}
    if not any(price > 0 for price in prices.values()):
        return None
    there = {supply: shelf.pop(supply, 0.0) for supply in takes}

    def paid(count: float) -> float:
        short = {supply: max(count * amount - there[supply], 0.0) for supply, amount in takes.items()}
        return sum(ceil(short[one] / known[one].pack - 1e-9) * price for one, price in prices.items())

    return gathered((paid(count), chance) for count, chance in counts.items())
