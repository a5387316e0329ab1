"""Salt that is reckoned to be under its line."""

from __future__ import annotations

from model.equipment.softener import Softener, has_anion_resin
from model.forecast.chance import day_of_chance
from model.forecast.exposed.house import for_fish, for_lamp, for_ro
from model.forecast.exposed.line import INFANTS, Line, Rank, said
from model.forecast.situation import Situation
from model.forecast.words import day_in_words


def salt_lines(now: Situation) -> list[Line]:
    """One line for each softener whose salt is more likely under its line than not."""
    lines = []
    for stage in now.house.stages:
        if isinstance(stage, Softener):
            for stock in now.stocks[stage.id]:
                empty = day_of_chance(stock, now.demand, 0.5)
                if empty is not None and empty <= now.today:
                    lines.append(_line(now, stage, day_in_words(empty, now.today)))
    return lines


def _line(now: Situation, stage: Softener, day: str) -> Line:
    since = f"Salt reckoned under its line since {day}"
    scale = for_lamp(now, "Scale grows on the UV sleeve.")
    if has_anion_resin(stage):
        ro = for_ro(now, "The RO unit gets all the nitrate, and hardness that scales it.")
        return Line(
            Rank.NITRATE_PASSES,
            f"{since}: treat as untreated for nitrate.",
            said(INFANTS, ro, scale, for_fish(now)),
        )
    return Line(Rank.NOT_WORKING, f"{since}: expect hard water.", said(for_ro(now, "The RO membrane scales."), scale))
