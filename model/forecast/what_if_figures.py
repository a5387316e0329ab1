"""The figures that a change of settings is judged by: cost, salt, sodium, runs, media, waste, dates."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from datetime import date

import msgspec

from model.equipment.neutralizer import Neutralizer
from model.equipment.registry import AnyStage, title_of
from model.equipment.softener import Softener
from model.errors import BadInput
from model.forecast.costs import costs_of
from model.forecast.due import due_item
from model.forecast.numbers.common import Numbers
from model.forecast.numbers.softener import run_of
from model.forecast.reports import reports, stage_alerts
from model.forecast.situation import Situation
from model.records.points import main_train

MONTHS = 12
_DATED = {
    "refill_salt": "salt",
    "top_up": "media",
    "replace_cartridge": "cartridge",
    "replace_lamp": "lamp",
    "replace_prefilters": "RO prefilters",
    "replace_membrane": "RO membrane",
}
"""The jobs whose day is shown, those of the main consumables, and what they are about."""


class Figure(msgspec.Struct, frozen=True, kw_only=True):
    """One figure. `dimension` is a key of `model.units.UNITS`, "pH", "money", "days", "day" or "" for mg/L."""

    id: str
    label: str
    dimension: str
    value: float | date | None


class Picture(msgspec.Struct, frozen=True, kw_only=True):
    """The figures of one home on the day `today`, its expected cash by the first day of each month, and its warnings
    in words."""

    today: date
    currency: str
    figures: tuple[Figure, ...]
    months: tuple[tuple[date, float], ...]
    warnings: tuple[str, ...]


def pictured(now: Situation) -> Picture:
    """The home of a situation in figures."""
    costs, told = costs_of(now, MONTHS), reports(now)
    spent = costs.total
    figures = [
        _figure("cost", "Cost of the year", "money", spent.expected),
        _figure("cost_low", "  low, 10 %", "money", spent.low),
        _figure("cost_high", "  high, 90 %", "money", spent.high),
        _figure("long_run", "Long run, a year", "money", costs.long_run_per_year),
        _figure("use", "Water used a day", "volume", now.demand.per_day()),
        *(one for stage in now.house.stages for one in _of_stage(now, stage, told.get(stage.id, {}))),
        *_tap(now),
        *_drain(told),
        *_dates(now),
    ]
    return Picture(
        today=now.today,
        currency=costs.currency,
        figures=tuple(figures),
        months=tuple((month.starts, month.cash.expected) for month in costs.months),
        warnings=tuple(alert.text for alert in stage_alerts(now) if alert.level != "note"),
    )


def _figure(name: str, label: str, dimension: str, value: object) -> Figure:
    known = value if isinstance(value, date) else float(value) if isinstance(value, int | float) else None
    return Figure(id=name, label=label, dimension=dimension, value=known)


def _of_stage(now: Situation, stage: AnyStage, numbers: Numbers) -> Iterator[Figure]:
    if isinstance(stage, Softener):
        yield from _of_softener(now, stage, numbers)
    elif isinstance(stage, Neutralizer):
        yield from _of_neutralizer(now, stage, numbers)


def _of_softener(now: Situation, stage: Softener, numbers: Numbers) -> Iterator[Figure]:
    yield _figure(f"{stage.id}.salt", "Salt a year", "mass", numbers.get("salt_kg_per_year"))
    days = numbers.get("days_between_regenerations")
    yield _figure(f"{stage.id}.days", "Regenerates, days", "days", days)
    try:
        run = run_of(now, stage)
    except BadInput:
        return
    yield _figure(f"{stage.id}.hardness_run", "Hardness run", "volume", run.by_hardness_l)
    if stage.anion_resin_l > 0.0:
        yield _figure(f"{stage.id}.nitrate_run", "Nitrate run", "volume", run.by_nitrate_l)


def _of_neutralizer(now: Situation, stage: Neutralizer, numbers: Numbers) -> Iterator[Figure]:
    """pH after the tank, and the media lost in a year: dissolved, and washed out with the backwash."""
    out = now.carried.treated[stage.id]
    yield _figure(f"{stage.id}.pH", "pH after neutralizer", "pH", out.pH if out else None)
    media = numbers.get("media_g_per_m3")
    m3 = now.demand.year_litres() / 1000.0 * (1.0 + stage.backwash_loss_share)
    kg = sum(media.values()) / 1000.0 * m3 if isinstance(media, dict) else None
    yield _figure(f"{stage.id}.media", "Media a year", "mass", kg)


def _tap(now: Situation) -> Iterator[Figure]:
    """Sodium and potassium of the cold water at the tap [mg/L]."""
    train = main_train(now.house)
    tap = now.carried.treated.get(train[-1].id) if train else None
    yield _figure("sodium", "Sodium at tap, mg/L", "", tap.sodium_mg_l if tap else None)
    if tap and any(isinstance(one, Softener) and one.regenerant != "sodium_chloride" for one in now.house.stages):
        yield _figure("potassium", "Potassium, tap, mg/L", "", tap.potassium_mg_l)


def _drain(told: dict[str, Numbers]) -> Iterator[Figure]:
    sent = told.get("drain", {})
    yield _figure("waste_water", "Drain, water a week", "volume", sent.get("water_l_per_week", 0.0))
    yield _figure("waste_salt", "Drain, salt a week", "mass", sent.get("salt_kg_per_week", 0.0))


def _dates(now: Situation) -> Iterator[Figure]:
    """The day to act of each main consumable, today where it is past; where several stages have one, with the stage."""
    jobs = [(stage, job) for stage in now.house.stages for job in now.jobs(stage) if job.id in _DATED]
    many = Counter(job.id for _, job in jobs)
    for stage, job in jobs:
        due = due_item(now, stage, job)
        label = f"Next {_DATED[job.id]}" + (f", {title_of(stage)}" if many[job.id] > 1 else "")
        yield _figure(f"{stage.id}.{job.id}", label, "day", max(due.act_on, now.today) if due else None)
