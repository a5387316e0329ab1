"""Metals, nitrite and the like, measured at or over their limit where people drink."""

from __future__ import annotations

from model.forecast.exposed.house import drinking_points
from model.forecast.exposed.line import INFANTS, Line, Rank, said
from model.forecast.exposed.measured import over
from model.forecast.situation import Situation
from model.forecast.words import day_in_words
from model.records.bounds import for_health
from model.water.traces import ASK, COPPER_ACTION_MG_L, LEAD_ACTION_MG_L, LIMITS, Limit, shown

_PIPES = (
    Limit(quantity="lead", name="Lead", most_mg_l=LEAD_ACTION_MG_L, source="Wisconsin NR 809"),
    Limit(quantity="copper", name="Copper", most_mg_l=COPPER_ACTION_MG_L, source="Wisconsin NR 809"),
)


def trace_lines(now: Situation) -> list[Line]:
    """One line for each of them and each drinking tap; the worst of the newest day that tells counts."""
    lines = []
    for point, where in drinking_points(now).items():
        for limit in (*_PIPES, *LIMITS):
            worst = over(now, limit.quantity, (point,), limit.most_mg_l)
            if worst is not None:
                value, day = shown(for_health(worst.taken), limit), day_in_words(worst.on, now.today)
                lead = f"{limit.name} {value}, {where} on {day}: do not drink it."
                lines.append(Line(Rank.METALS, lead, said("Boiling makes it no better.", INFANTS, ASK)))
    return lines
