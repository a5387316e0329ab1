"""The water at each point of the train, with its numbers worked out."""

from __future__ import annotations

from datetime import timedelta

import msgspec

from model.equipment.registry import title_of
from model.equipment.relations.reverse_osmosis import feed_l
from model.equipment.reverse_osmosis import ReverseOsmosis
from model.forecast.situation import Situation
from model.forecast.source import source_basis
from model.forecast.use import known_l_per_day
from model.plan_types import PointWater
from model.records.bounds import for_health
from model.records.points import main_train, ro_point
from model.records.positions import Position
from model.water.balance import hardness_mg_l_caco3, tds_mg_l
from model.water.carbonate import aerated_ph, speciate
from model.water.sample import Sample

_DAY = timedelta(days=1)


def point_waters(now: Situation) -> tuple[PointWater, ...]:
    """Source, after each stage of the main train, the tap, the RO tap and the hose."""
    flow = now.demand.per_day()
    hose = known_l_per_day(now.house, now.today.month, hose=True) if now.house.hose else 0.0
    found = [_point(now, "source", "Well", "", flow + hose, now.source, now.planned_nitrate_mg_l_n)]
    main = main_train(now.house)
    for stage in main[:-1]:
        title = f"After {title_of(stage)}"
        found.append(_point(now, f"after_{stage.id}", title, stage.id, flow, now.running.treated[stage.id], None))
    last = main[-1] if main else None
    tap = now.running.treated[last.id] if last else now.source
    planned = now.running_planned.treated[last.id] if last else now.planned_source
    found.append(_point(now, "tap", "Tap", last.id if last else "", flow, tap, _nitrate(planned)))
    found += [_ro(now, stage) for stage in now.house.stages if isinstance(stage, ReverseOsmosis)]
    if now.house.hose:
        found.append(_point(now, "hose", "Hose, untreated", "", hose, now.source, now.planned_nitrate_mg_l_n))
    return tuple(found)


def _ro(now: Situation, stage: ReverseOsmosis) -> PointWater:
    flow = now.demand.ro_product_l_per_day()
    planned = _nitrate(now.running_planned.treated[stage.id])
    treated = now.running.treated[stage.id]
    return _point(now, ro_point(stage), f"{title_of(stage)} tap", stage.id, flow, treated, planned)


def _nitrate(sample: Sample | None) -> float | None:
    return sample.nitrate_mg_l_n if sample is not None else None


def ro_feed_l_per_day(now: Situation, stage: ReverseOsmosis) -> float:
    """Water that an RO unit takes from the tap [L/day], product and reject."""
    return feed_l(now.demand.ro_product_l_per_day(), stage.recovery)


def _point(
    now: Situation, point: str, title: str, stage: str, flow: float, sample: Sample | None, planned: float | None
) -> PointWater:
    sample, basis = _with_measured(now, point, stage, sample)
    known = speciate(sample) if sample else None
    return PointWater(
        point=point,
        title=title,
        stage=stage,
        flow_l_per_day=flow,
        sample=sample,
        hardness_mg_l_caco3=hardness_mg_l_caco3(sample) if sample else None,
        co2_mg_l=known.co2_mg_l if known else None,
        tds_mg_l=tds_mg_l(sample) if sample else None,
        calcite_saturation_index=known.calcite_saturation_index if known else None,
        aerated_pH=aerated_ph(sample) if sample else None,
        nitrate_planned_mg_l_n=planned,
        basis=basis,
    )


def _with_measured(now: Situation, point: str, stage: str, sample: Sample | None) -> tuple[Sample | None, str]:
    """The water of a point with the nitrate measured there, and what its numbers rest on.

    An older measurement than that of the raw water counts only where it is the worse of the two, and so one from before
    a stage on the way went on bypass.
    """
    if point in ("source", "hose"):
        return sample, source_basis(now.history)
    round_it = _round(now, stage)
    basis = f"the raw water carried through the train{''.join(f', past {one.handle.title}' for one in round_it)}"
    newest, raw = now.history.newest("nitrate", point), now.history.newest("nitrate", "source")
    if sample is None or newest is None or newest.taken.qualifier == "<":
        return sample, basis
    value = for_health(newest.taken)
    changed = max([*([raw.on] if raw else []), *(one.since + _DAY for one in round_it if one.since)], default=newest.on)
    if newest.on < changed and value < sample.nitrate_mg_l_n:
        return sample, basis
    told = f"{basis}; nitrate as measured on {newest.on}"
    return msgspec.structs.replace(sample, nitrate_mg_l_n=value), told


def _round(now: Situation, stage: str) -> list[Position]:
    """The stages on bypass at or before a stage, the whole main train before a branch."""
    if not now.bypassed:
        return []
    train = [one.id for one in main_train(now.house)]
    before = train[: train.index(stage) + 1] if stage in train else [*train, stage]
    return [now.bypassed[one] for one in before if one in now.bypassed]
