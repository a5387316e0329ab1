"""Answers about money, spares, and what to hand on."""

from __future__ import annotations

from model.equipment.base import Job
from model.equipment.registry import KINDS, AnyStage, kind_of
from model.guide.answering import Answerer
from model.guide.own import Own, plain
from model.guide.shape import Missing, Said
from model.plan_types import Range
from model.units import money

_NAMED = 4
"""So many are named in one answer, the rest counted."""

_SUPPLIES = Missing(what="the supplies with their prices: Shelf (4), then n")
_STAGES = (Missing(what="the stages: House (7), then a"),)


def cost(own: Own) -> Said:
    """The year and the decade."""
    if not own.house.stages:
        return Said("Nothing stands here yet, so nothing costs.", _STAGES)
    year, decade, unit = own.costs, own.ten_years, own.house.currency
    if not own.plan.shelf:
        return Said("Not known: no supply with a price is listed.", (_SUPPLIES,))
    months = f"{_whole(year.total.expected, unit)} in the next twelve months ({_spread(year.total, unit)})"
    years = f"{_whole(decade.total.expected, unit)} in ten years, {_whole(decade.slow.expected, unit)} of it slow parts"
    text = f"About {months} and {years}."
    unpriced = [row for row in own.plan.shelf if row.price <= 0.0]
    command = f"wellward buy {unpriced[0].supply} 1 --price VALUE" if unpriced else ""
    missing = (Missing(what=f"prices of {len(unpriced)} supplies", command=command),) if unpriced else ()
    return Said(text, missing)


def _spread(total: Range, unit: str) -> str:
    return f"{_whole(total.low, unit)} to {_whole(total.high, unit)}, 8 times in 10"


def _whole(amount: float, unit: str) -> str:
    return money(round(amount), unit).removesuffix(".00")


def sitter(own: Own) -> Said:
    """What comes due while somebody else looks after it."""
    soon = [item.title for item in own.plan.due if (item.act_on - own.today).days < 14]
    away = own.absence
    gone = f"You are away {own.day(away.on)} to {own.day(away.until)}. " if away else ""
    text = f"{gone}Shut-offs first. Due by two weeks from now: {_listed(soon) or 'nothing'}."
    missing = () if away else (Missing(what="days away, with the dates", command="wellward away FROM TO"),)
    return Said(text, missing)


def spares(own: Own) -> Said:
    """Parts that a job needs and the shelf does not hold."""
    roles = [(stage, role) for stage in own.house.stages for role in _roles(stage)]
    unlisted = sorted({role.replace("_", " ") for stage, role in roles if role not in stage.supplies})
    held = {row.supply for row in own.plan.shelf if row.on_shelf > 0.0}
    used = {stage.supplies[role] for stage, role in roles if role in stage.supplies}
    empty = [plain(row.title) for row in own.plan.shelf if row.supply in used - held]
    text = f"Of what your jobs use, the shelf lacks: {_listed(empty)}." if empty else "All that is listed lies there."
    if not roles:
        return Said("No job of this home uses a part.", () if own.house.stages else _STAGES)
    missing = (Missing(what=f"no supply is named for: {_listed(unlisted)}: Shelf (4), then n"),) if unlisted else ()
    listed = any(row.supply in used for row in own.plan.shelf)
    return Said(text if listed else "No supply is listed for any job of this home.", missing)


def _roles(stage: AnyStage) -> list[str]:
    return [role for job in KINDS[kind_of(stage)].jobs(stage, None) for role in job.parts]


def skipped(own: Own) -> Said:
    """Jobs with no day on record on which they were done."""
    jobs = [(stage, job) for stage in own.house.stages for job in KINDS[kind_of(stage)].jobs(stage, None)]
    never = [(stage, job) for stage, job in jobs if not job.on_event and own.done(stage, job.id) is None]
    dated = [stage for stage in own.house.stages if stage.installed_on is None]
    missing = [] if jobs else [*_STAGES]
    missing += [Missing(what=f"the day on which {own.name(stage)} was put in: House (7)") for stage in dated[:_NAMED]]
    if never:
        stage, job = _first(never)
        command = f"wellward done {stage.id}.{job.id} --on DATE"
        missing.append(Missing(what="what was done after all, with its day", command=command))
    health = [job.title for _, job in never if job.health]
    text = f"{len(never)} of {len(jobs)} jobs have no day on record" if jobs else "No stage is written down, so no job"
    return Said(f"{text}{f'; for health: {_listed(health)}' if health else ''}.", tuple(missing))


def _first(never: list[tuple[AnyStage, Job]]) -> tuple[AnyStage, Job]:
    """One that protects health, where there is one."""
    return next((pair for pair in never if pair[1].health), never[0])


def _listed(names: list[str]) -> str:
    shown = [plain(name) for name in names[:_NAMED]]
    more = len(names) - len(shown)
    return f"{'; '.join(shown)}{f'; and {more} more' if more > 0 else ''}"


ANSWERS: dict[str, Answerer] = {"cost": cost, "sitter": sitter, "spares": spares, "skipped": skipped}
"""Question -> its answer."""
