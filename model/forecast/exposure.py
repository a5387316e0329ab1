"""The short lines on what the house is exposed to today."""

from __future__ import annotations

from model.equipment.registry import title_of
from model.equipment.reverse_osmosis import ReverseOsmosis
from model.equipment.softener import Softener, has_anion_resin
from model.equipment.ultraviolet import Ultraviolet
from model.forecast.chance import day_of_chance
from model.forecast.numbers import ultraviolet
from model.forecast.situation import Situation
from model.forecast.words import day_in_words
from model.plan_types import Alert, Due
from model.records.bounds import for_health
from model.records.points import points_of
from model.water.limits import NITRATE_LIMIT_MG_L_N

INFANTS = "Infant formula: tested bottled water only."

_TAPS = (("tap", "at the tap"), ("ro", "at the RO tap"))
_ORGANISMS = (("e_coli", "E. coli"), ("total_coliform", "Coliform"))


def exposure(now: Situation, due: tuple[Due, ...], alerts: tuple[Alert, ...]) -> tuple[str, ...]:
    """Short lines, the worst first: what is not protecting the house now, and what that means."""
    if not now.house.stages:
        return ("No equipment is written down yet, so nothing can be said about the water.",)
    lines = [*_bacteria(now, due), *_tap_nitrate(now), *_salt(now), *_lamp(now, due), *_raw_nitrate(now)]
    if lines:
        return tuple(lines)
    if any(alert.level != "note" for alert in alerts):
        return ("No stage is reckoned to be out of work, but the warnings below count.",)
    return ("Nothing recorded or reckoned says that a stage is not working.",)


def _bacteria(now: Situation, due: tuple[Due, ...]) -> list[str]:
    """Each organism at each point on its own: a positive counts until that organism is not found there."""
    lines: list[str] = []
    for point, title in points_of(now.house):
        for organism, name in _ORGANISMS:
            newest = now.history.newest(organism, point)
            if newest is not None and newest.taken.value > 0:
                day = day_in_words(newest.on, now.today)
                where = dict(_TAPS).get(point, "in the raw water" if point == "source" else f"at: {title}")
                lines.append(f"{name} found {where} on {day}: {_bacteria_advice(now, point, due)}")
                break
    return sorted(lines, key=lambda line: "the UV unit" in line)


def _bacteria_advice(now: Situation, point: str, due: tuple[Due, ...]) -> str:
    if point not in dict(_TAPS) and _lamp_stands(now, due):
        return "the UV unit is all that stands between."
    if (now.planned_nitrate_mg_l_n or 0.0) >= NITRATE_LIMIT_MG_L_N:
        return "drink bottled water and call the health authority; boiling would concentrate the nitrate."
    return "boil drinking water (which does not remove nitrate) and call the health authority."


def _lamp_stands(now: Situation, due: tuple[Due, ...]) -> bool:
    """Whether a class A unit works within its rating, with a lamp that is not past its date."""
    late = {item.stage for item in due if item.task.endswith(".replace_lamp") and item.state == "overdue"}
    return any(
        stage.unit_class == "A" and stage.id not in late and not ultraviolet.numbers(now, stage).get("outside_rating")
        for stage in now.house.stages
        if isinstance(stage, Ultraviolet)
    )


def _tap_nitrate(now: Situation) -> list[str]:
    """A measured nitrate at or over the limit at a drinking tap."""
    lines: list[str] = []
    for point, where in _TAPS:
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
