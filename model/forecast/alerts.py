"""Each drinking tap against published limits, and what else is to be known of the water today."""

from __future__ import annotations

import msgspec

from model.equipment.registry import KINDS, kind_of, title_of
from model.forecast.acid_and_bleach import clashes
from model.forecast.asked import disagreements, use_alerts
from model.forecast.playbooks import open_steps
from model.forecast.reports import stage_alerts
from model.forecast.samples import sample_alerts
from model.forecast.situation import Situation
from model.forecast.source import FIELDS
from model.plan_types import Alert, PointWater
from model.records.bounds import for_health
from model.records.events import Taken
from model.records.history import Dated
from model.water.limits import NITRATE_LIMIT_MG_L_N, limit_alerts, nitrate_alerts
from model.water.traces import MEASURED, bacteria_alerts, trace_alerts

_RANK = {"danger": 0, "warning": 1, "note": 2}


def alerts(now: Situation, points: tuple[PointWater, ...]) -> tuple[Alert, ...]:
    """Each drinking tap against the published limits, then what the log and the settings say; the worst first."""
    titles = {stage.id: title_of(stage) for stage in now.house.stages}
    found = [alert for point in points if _drunk(point) for alert in _limits(now, point)]
    found += [alert for point in points if not _drunk(point) for alert in _elsewhere(now, point)]
    found += [Alert(level="note", point="source", text=problem) for problem in now.demand.problems]
    found += [
        Alert(
            level="warning",
            point=f"after_{stage}",
            text=f"{titles[stage]}: its settings cannot be reckoned with. {problem}",
        )
        for stage, problem in now.problems
    ]
    found += sample_alerts(now) + stage_alerts(now) + _raw_traces(now, points)
    found += use_alerts(now) + disagreements(now) + _hose(now) + _unknown_source(now) + clashes(now, open_steps(now))
    return tuple(sorted(found, key=lambda alert: (_RANK[alert.level], not alert.text.startswith("Coliform"))))


def _drunk(point: PointWater) -> bool:
    return point.point in ("tap", "ro") or point.point.startswith("reverse_osmosis")


def _limits(now: Situation, point: PointWater) -> tuple[Alert, ...]:
    """The water at a drinking tap, what was not measured there said to be estimated."""
    measured = _measured(now, point.point)
    coliform, e_coli = (_found(now, organism, point.point) for organism in ("total_coliform", "e_coli"))
    nitrate = measured.pop("nitrate", 0.0)
    if point.sample is None:
        told = [
            *bacteria_alerts(coliform, e_coli, True),
            *nitrate_alerts(nitrate, True, now.nitrate_action_mg_l_n()),
            *trace_alerts(measured, None, nitrate, True),
        ]
        return tuple(Alert(level=level, point=point.point, text=text) for level, text in told)
    assumed = tuple(field for quantity, field in FIELDS.items() if now.history.newest(quantity, point.point) is None)
    sample = msgspec.structs.replace(point.sample, assumed=assumed)
    level = now.nitrate_action_mg_l_n()
    found = limit_alerts(point.point, sample, coliform, True, level, measured=measured, e_coli_present=e_coli)
    return (*found, *_may_reach(point))


def _may_reach(point: PointWater) -> list[Alert]:
    """A tap that shows less than the limit now, though the worst raw water of two years would bring it over."""
    planned, now_there = point.nitrate_planned_mg_l_n, point.sample.nitrate_mg_l_n if point.sample else 0.0
    if planned is None or planned < NITRATE_LIMIT_MG_L_N or now_there >= NITRATE_LIMIT_MG_L_N:
        return []
    text = (
        f"Nitrate may reach {planned:.1f} mg/L as N here (limit 10): so much was in the raw water within two years. "
        "Have it tested in spring and autumn; infant formula from tested bottled water only."
    )
    return [Alert(level="warning", point=point.point, text=text)]


def _elsewhere(now: Situation, point: PointWater) -> list[Alert]:
    """Germs found at a point where nobody is meant to drink; metals there are told where no tap was tested."""
    coliform, e_coli = (_found(now, organism, point.point) for organism in ("total_coliform", "e_coli"))
    told = bacteria_alerts(coliform, e_coli, False)
    return [Alert(level=level, point=point.point, text=text) for level, text in told]


def _hose(now: Situation) -> list[Alert]:
    """Untreated water that comes out of a hose may still be drunk by someone."""
    nitrate = now.planned_nitrate_mg_l_n or 0.0
    if not now.house.hose or nitrate < NITRATE_LIMIT_MG_L_N:
        return []
    text = f"The hose gives untreated water, nitrate up to {nitrate:.1f} mg/L as N (limit 10): nobody should drink it."
    return [Alert(level="warning", point="hose", text=text)]


def _measured(now: Situation, point: str) -> dict[str, float]:
    """What counts only where it was measured: the highest of its newest day, since the first draw and the flushed water
    of one sample are two values; the upper end of a colour; "less than" is not found."""
    found = {name: _of_newest_day(now.history.taken(name, point)) for name in (*MEASURED, "nitrate")}
    return {name: max(for_health(one) for one in every) for name, every in found.items() if every}


def _of_newest_day(every: list[Dated]) -> list[Taken]:
    return [one.taken for one in every if one.on == every[-1].on and one.taken.qualifier != "<"]


def _raw_traces(now: Situation, points: tuple[PointWater, ...]) -> list[Alert]:
    """Metals and nitrite found where nobody is meant to drink, which no tap was tested for."""
    found: list[Alert] = []
    for point in points:
        if not _drunk(point):
            measured = _measured(now, point.point)
            open_ = {n: v for n, v in measured.items() if n != "nitrate" and now.history.newest(n, "tap") is None}
            told = trace_alerts(open_, None, None, False)
            found += [Alert(level=level, point=point.point, text=text) for level, text in told]
    return found


def _found(now: Situation, organism: str, point: str) -> bool | None:
    """Whether the newest result of an organism at a point found it; None where never tested."""
    newest = now.history.newest(organism, point)
    return None if newest is None else newest.taken.value > 0


def _unknown_source(now: Situation) -> list[Alert]:
    needs_water = [stage for stage in now.house.stages if KINDS[kind_of(stage)].treat is not None]
    if now.source is not None or not needs_water:
        return []
    text = "Enter pH, alkalinity and hardness of the raw water: until then media, salt and taps cannot be reckoned."
    return [Alert(level="note", point="source", text=text)]
