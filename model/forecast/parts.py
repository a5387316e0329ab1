"""What a job is likely to take from the shelf, offered when it is recorded."""

from __future__ import annotations

from math import floor

from model.equipment.base import Job, Stock
from model.equipment.registry import KINDS, AnyStage, kind_of
from model.errors import UnknownName
from model.forecast.chance import expected_left
from model.forecast.situation import Situation
from model.home import House


def find_task(house: House, task: str) -> tuple[AnyStage, Job]:
    """The stage and job of a task id ("softener.refill_salt"), or UnknownName listing what there is."""
    stage_id, _, job_id = task.partition(".")
    for stage in house.stages:
        if stage.id == stage_id:
            for job in KINDS[kind_of(stage)].all_jobs:
                if job.id == job_id:
                    return stage, job
            known = ", ".join(f"{stage.id}.{job.id}" for job in KINDS[kind_of(stage)].all_jobs)
            raise UnknownName(f"There is no task {task!r}.", f"Tasks of {stage.id}: {known}.")
    stages = ", ".join(stage.id for stage in house.stages) or "none yet"
    raise UnknownName(f"There is no task {task!r}: no stage {stage_id!r} here.", f"Stages: {stages}.")


def suggested_parts(now: Situation, task: str) -> dict[str, float]:
    """Parts the job takes, by supply id, in the supply's unit. A stock is topped up in whole packs, at least one."""
    stage, job = find_task(now.house, task)
    stock = next((one for one in now.stocks.get(stage.id, ()) if one.job == job.id and one.refills), None)
    amounts = _top_up(now, stock) if stock is not None else job.parts
    packs = {supply.id: supply.pack for supply in now.house.supplies}
    return {
        stage.supplies[part]: _whole(quantity, packs.get(stage.supplies[part], 1.0)) if stock is not None else quantity
        for part, quantity in amounts.items()
        if part in stage.supplies and quantity > 0
    }


def _top_up(now: Situation, stock: Stock) -> dict[str, float]:
    missing = 1.0 - expected_left(stock, now.demand, now.today) / stock.full
    return {part: max(missing, 0.0) * quantity for part, quantity in stock.refills.items() if quantity > 0}


def _whole(quantity: float, pack: float) -> float:
    """Whole packs that fit, at least one."""
    return max(floor(quantity / pack), 1) * pack
