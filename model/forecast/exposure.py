"""What the house is exposed to today, from what is recorded and reckoned."""

from __future__ import annotations

from model.equipment.registry import KINDS, kind_of
from model.equipment.softener import Softener, has_anion_resin, run_length
from model.forecast.chance import day_of_chance
from model.forecast.situation import Situation
from model.forecast.words import day_in_words
from model.plan_types import Alert, Due, PointWater
from model.water.limits import limit_alerts

NITRATE_LIMIT_MG_L_N = 10.0
"""US limit for nitrate [mg/L as N]. Source: US EPA maximum contaminant level."""

INFANTS = "Infant formula: tested bottled water only."

_RANK = {"danger": 0, "warning": 1, "note": 2}


def exposure(now: Situation, due: tuple[Due, ...]) -> tuple[str, ...]:
    """Short lines, the worst first: what is not protecting the house now, and what that means."""
    lines = [*_salt(now), *_coliform(now), *_lamp(now, due)]
    nitrate = now.planned_nitrate_mg_l_n
    if nitrate is None and now.house.stages:
        lines.append("Raw nitrate has never been measured: have it tested before an infant drinks this water.")
    elif nitrate is not None and nitrate > NITRATE_LIMIT_MG_L_N:
        lines.append(f"Raw nitrate has reached {nitrate:.1f} mg/L as N (limit 10): safe only while treated. {INFANTS}")
    if not now.house.stages:
        return ("No equipment is written down yet, so nothing can be said about the water.",)
    return tuple(lines) or ("Nothing recorded or reckoned says that a stage is not working.",)


def _salt(now: Situation) -> list[str]:
    lines: list[str] = []
    for stage in now.house.stages:
        if isinstance(stage, Softener):
            for stock in now.stocks[stage.id]:
                empty = day_of_chance(stock, now.demand, 0.5)
                if empty is not None and empty <= now.today:
                    means = (
                        "treat the water as untreated for nitrate" if has_anion_resin(stage) else "expect hard water"
                    )
                    lines.append(
                        f"Salt reckoned under its line since {day_in_words(empty, now.today)}: {means}. "
                        f"{INFANTS if has_anion_resin(stage) else ''}".strip()
                    )
    return lines


def _coliform(now: Situation) -> list[str]:
    """A positive at a point counts until a later negative at the same point."""
    lines: list[str] = []
    for point, where in (("tap", "at the tap"), ("source", "in the raw water")):
        results = [*now.history.taken("e_coli", point), *now.history.taken("total_coliform", point)]
        newest = max((one.on for one in results), default=None)
        if newest and any(one.on == newest and one.taken.value > 0 for one in results):
            lines.append(f"Coliform found {where} on {day_in_words(newest, now.today)}: {_coliform_advice(now, point)}")
    return lines


def _coliform_advice(now: Situation, point: str) -> str:
    lit = any(kind_of(stage) == "ultraviolet" for stage in now.house.stages)
    if point == "source" and lit:
        return "the UV unit is all that stands between."
    return "boil drinking water and call the health authority. Boiling does not remove nitrate."


def _lamp(now: Situation, due: tuple[Due, ...]) -> list[str]:
    return [
        f"{item.stage_title} lamp is past its date ({day_in_words(item.act_on, now.today)}): "
        "dose unknown, even if it glows."
        for item in due
        if item.task.endswith(".replace_lamp") and item.state == "overdue"
    ]


def alerts(now: Situation, points: tuple[PointWater, ...]) -> tuple[Alert, ...]:
    """Each drinking tap against the published limits, then what the log and the settings say; the worst first."""
    found = [alert for point in points if point.point in ("tap", "ro") for alert in _limits(now, point)]
    found += [Alert(level="note", point="source", text=problem) for problem in now.demand.problems]
    found += _run_too_long(now) + _unknown_source(now)
    return tuple(sorted(found, key=lambda alert: _RANK[alert.level]))


def _limits(now: Situation, point: PointWater) -> tuple[Alert, ...]:
    if point.sample is None:
        return ()
    newest = now.history.newest("total_coliform", point.point)
    present = None if newest is None else newest.taken.value > 0
    return limit_alerts(point.point, point.sample, present, point.point != "source")


def _run_too_long(now: Situation) -> list[Alert]:
    """A meter set beyond what the nitrate resin holds lets nitrate through while the water still feels soft."""
    found: list[Alert] = []
    for stage in now.house.stages:
        if isinstance(stage, Softener):
            run = run_length(stage, now.known.fed(stage))
            if run.set_l and run.by_nitrate_l and run.set_l > run.by_nitrate_l:
                found.append(_too_long(now, stage, run.set_l, run.by_nitrate_l))
    return found


def _too_long(now: Situation, stage: Softener, set_l: float, by_nitrate_l: float) -> Alert:
    text = (
        f"The valve is set to {now.known.show(set_l, 'volume')} between regenerations, but nitrate may pass after "
        f"{now.known.show(by_nitrate_l, 'volume')} ({stage.anion_usable_share:.0%} of the resin's capacity planned on)."
    )
    return Alert(level="warning", point=f"after_{stage.id}", text=text)


def _unknown_source(now: Situation) -> list[Alert]:
    needs_water = [stage for stage in now.house.stages if KINDS[kind_of(stage)].treat is not None]
    if now.source is not None or not needs_water:
        return []
    text = "Enter pH, alkalinity and hardness of the raw water: until then media, salt and taps cannot be reckoned."
    return [Alert(level="note", point="source", text=text)]
