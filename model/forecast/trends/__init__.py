"""What can be plotted of a home: readings against time, with the forecast where there is one."""

from __future__ import annotations

from collections.abc import Iterator

import msgspec

from model.equipment.neutralizer import Neutralizer
from model.equipment.reverse_osmosis import ReverseOsmosis
from model.equipment.sediment_filter import SedimentFilter
from model.equipment.softener import Softener
from model.forecast.situation import Situation
from model.forecast.trends.bed import bed_depth, ph_after
from model.forecast.trends.drop import pressure_drop
from model.forecast.trends.membrane import membrane_flow, membrane_rejection
from model.forecast.trends.nitrate import nitrate_by_season
from model.forecast.trends.salt import salt_left
from model.forecast.trends.shape import Trend, at
from model.forecast.trends.use import house_use

LEAST_PAST_DAYS = 60
"""A plot begins so long before today at the latest. Owner's default."""


def trends(now: Situation) -> tuple[Trend, ...]:
    """Every plot that this home can have, the empty ones too: they tell what to read. Use first, then by train."""
    found = (house_use(now), *_of_stages(now), nitrate_by_season(now))
    return tuple(_trimmed(one, now) if one.across == "days" else one for one in found)


def trend_of(found: tuple[Trend, ...], task: str) -> Trend | None:
    """The plot that belongs to a task ("softener.refill_salt"): its own, else the stage's first; None without one."""
    stage, _, job = task.partition(".")
    own = [one for one in found if one.stage == stage]
    exact = [one for one in own if job in one.jobs] or [one for one in found if not one.stage and job in one.jobs]
    return next(iter((*exact, *own)), None)


def _trimmed(trend: Trend, now: Situation) -> Trend:
    """Without the time before the first reading, but with two months at least."""
    seen = [one.x for one in trend.points] + [way.points[0][0] for way in trend.paths if way.points]
    first = max(min([*seen, at(now.today) - LEAST_PAST_DAYS]), trend.start)
    spans = tuple(one for one in trend.spans if one.high >= first)
    return msgspec.structs.replace(trend, start=first, spans=spans)


def _of_stages(now: Situation) -> Iterator[Trend]:
    filters = [stage for stage in now.house.stages if isinstance(stage, SedimentFilter)]
    for stage in now.house.stages:
        if isinstance(stage, SedimentFilter):
            yield pressure_drop(now, stage, f"Drop {filters.index(stage) + 1}" if len(filters) > 1 else "Drop")
        elif isinstance(stage, Neutralizer):
            yield bed_depth(now, stage)
            yield ph_after(now, stage)
        elif isinstance(stage, Softener):
            yield salt_left(now, stage)
        elif isinstance(stage, ReverseOsmosis):
            yield membrane_rejection(now, stage)
            yield membrane_flow(now, stage)
