"""The short lines on what the house is exposed to today."""

from __future__ import annotations

from model.equipment.registry import kind_of, title_of
from model.equipment.reverse_osmosis import ReverseOsmosis
from model.equipment.softener import Softener, has_anion_resin
from model.forecast.chance import day_of_chance
from model.forecast.situation import Situation
from model.forecast.words import day_in_words
from model.plan_types import Alert, Due
from model.records.bounds import for_health
from model.water.limits import NITRATE_LIMIT_MG_L_N

INFANTS = "Infant formula: tested bottled water only."

_POINTS = (("tap", "at the tap"), ("ro", "at the RO tap"), ("source", "in the raw water"))
_ORGANISMS = (("e_coli", "E. coli"), ("total_coliform", "Coliform"))


def exposure(now: Situation, due: tuple[Due, ...], alerts: tuple[Alert, ...]) -> tuple[str, ...]:
    """Short lines, the worst first: what is not protecting the house now, and what that means."""
    if not now.house.stages:
        return ("No equipment is written down yet, so nothing can be said about the water.",)
    lines = [*_bacteria(now), *_tap_nitrate(now), *_salt(now), *_lamp(now, due), *_raw_nitrate(now)]
    if lines:
        return tuple(lines)
    if any(alert.level != "note" for alert in alerts):
        return ("No stage is reckoned to be out of work, but the warnings below count.",)
    return ("Nothing recorded or reckoned says that a stage is not working.",)


def _bacteria(now: Situation) -> list[str]:
    """Each organism at each point on its own: a positive counts until that organism is not found there."""
    lines: list[str] = []
    for point, where in _POINTS:
        for organism, name in _ORGANISMS:
            newest = now.history.newest(organism, point)
            if newest is not None and newest.taken.value > 0:
                day = day_in_words(newest.on, now.today)
                lines.append(f"{name} found {where} on {day}: {_bacteria_advice(now, point)}")
                break
    return lines


def _bacteria_advice(now: Situation, point: str) -> str:
    if point == "source" and any(kind_of(stage) == "ultraviolet" for stage in now.house.stages):
        return "the UV unit is all that stands between."
    if (now.planned_nitrate_mg_l_n or 0.0) >= NITRATE_LIMIT_MG_L_N:
        return "drink bottled water and call the health authority; boiling would concentrate the nitrate."
    return "boil drinking water (which does not remove nitrate) and call the health authority."


def _tap_nitrate(now: Situation) -> list[str]:
    """A measured nitrate at or over the limit at a drinking tap."""
    lines: list[str] = []
    for point, where in _POINTS[:2]:
        newest = now.history.newest("nitrate", point)
        if newest is not None and newest.taken.qualifier != "<" and for_health(newest.taken) >= NITRATE_LIMIT_MG_L_N:
            value, day = for_health(newest.taken), day_in_words(newest.on, now.today)
            lines.append(f"Nitrate {value:.1f} mg/L as N {where} on {day} (limit 10): do not drink it. {INFANTS}")
    return lines


def _salt(now: Situation) -> list[str]:
    lines: list[str] = []
    for stage in now.house.stages:
        if isinstance(stage, Softener):
            for stock in now.stocks[stage.id]:
                empty = day_of_chance(stock, now.demand, 0.5)
                if empty is not None and empty <= now.today:
                    since = f"Salt reckoned under its line since {day_in_words(empty, now.today)}"
                    lines.append(f"{since}: {_without_salt(stage)}")
    return lines


def _without_salt(stage: Softener) -> str:
    if has_anion_resin(stage):
        return f"treat the water as untreated for nitrate. {INFANTS}"
    return "expect hard water."


def _lamp(now: Situation, due: tuple[Due, ...]) -> list[str]:
    return [
        f"{item.stage_title} lamp is past its date ({day_in_words(item.act_on, now.today)}): "
        "dose unknown, even if it glows."
        for item in due
        if item.task.endswith(".replace_lamp") and item.state == "overdue"
    ]


def _raw_nitrate(now: Situation) -> list[str]:
    nitrate = now.planned_nitrate_mg_l_n
    if nitrate is None:
        return ["Raw nitrate has never been measured: have it tested before an infant drinks this water."]
    if nitrate < NITRATE_LIMIT_MG_L_N:
        return []
    return [f"Raw nitrate has reached {nitrate:.1f} mg/L as N (limit 10): {_removed_by(now)} {INFANTS}"]


def _removed_by(now: Situation) -> str:
    removing = [
        title_of(stage)
        for stage in now.house.stages
        if isinstance(stage, ReverseOsmosis) or (isinstance(stage, Softener) and has_anion_resin(stage))
    ]
    if not removing:
        return "nothing here removes it. Do not drink the tap water."
    return f"only a test of the treated water shows that {' and '.join(removing)} hold it back."
