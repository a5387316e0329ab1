"""Salt that is reckoned to be under its line, and resin that was left without."""

from __future__ import annotations

from model.equipment.softener import Softener, has_anion_resin
from model.forecast.chance import day_of_chance
from model.forecast.exposed.house import for_fish, for_lamp, for_ro
from model.forecast.exposed.line import INFANTS, Line, Rank, said
from model.forecast.ran_out import RanOut, ran_out
from model.forecast.situation import Situation
from model.forecast.words import day_in_words
from model.unit_tables import AS_NO3


def salt_lines(now: Situation) -> list[Line]:
    """One line for each softener whose salt is more likely under its line than not, or was with no clear test since."""
    under = _under_now(now)
    since = [one for one in ran_out(now) if one.stage not in under]
    return [*under.values(), *(_after(now, one) for one in since)]


def _under_now(now: Situation) -> dict[str, Line]:
    lines = {}
    for stage in now.house.stages:
        if isinstance(stage, Softener):
            for stock in now.stocks[stage.id]:
                empty = stock.under_since or day_of_chance(stock, now.demand, 0.5)
                if empty is not None and empty <= now.today:
                    lines[stage.id] = _line(now, stage, day_in_words(empty, now.today))
    return lines


def _after(now: Situation, one: RanOut) -> Line:
    """Salt alone renews no resin: it takes a regeneration, and only a test says that it worked."""
    was = "was" if any(short.seen for short in one.times) else "reckoned"
    until = day_in_words(one.times[-1].on, now.today)
    lead = f"Salt {was} under its line until {until}: treat as untreated for nitrate."
    ends = (
        f"It counts until nitrate after the softener is read below {one.action_mg_l_n:g} mg/L as N "
        f"({one.action_mg_l_n * AS_NO3:.0f} as NO3) after a recovery, or after a whole run."
    )
    ro = for_ro(now, "The RO unit may get all the nitrate.")
    return Line(Rank.NITRATE_PASSES, lead, said(ends, INFANTS, ro, for_fish(now)))


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
