"""What comes through, and when, if nobody refills the salt."""

from __future__ import annotations

from datetime import date

import msgspec

from model.equipment.base import Stock
from model.equipment.softener import Softener, anion_run, has_anion_resin
from model.forecast.chance import day_of_chance
from model.forecast.numbers.common import Numbers
from model.forecast.situation import Situation
from model.water.balance import hardness_mg_l_caco3

OTHER = {"standard": "nitrate_selective", "nitrate_selective": "standard"}
"""The other kind of anion resin."""


def if_salt_runs_out(now: Situation, stage: Softener, full_run_l: float | None) -> Numbers:
    """The day the salt is reckoned to reach its line, then hardness and nitrate at the tap; empty where unknown.

    The last good regeneration is taken to fall on that day; nothing renews the resin after it.
    Days may lie in the past.
    `full_run_l`: litres
    that the softening resin treats without a reserve [L]. Nitrate comes at its early edge at the flow drawn.
    """
    stocks, fed = now.stocks.get(stage.id, ()), now.known.fed(stage)
    out = day_of_chance(stocks[0], now.demand, 0.5) if stocks else None
    if out is None or fed is None:
        return {}
    found: Numbers = {"salt_out": out.isoformat()}
    hard = _after(now, out, full_run_l, 0.5)
    if hard is not None:
        found |= {"hardness_shows": hard.isoformat(), "hardness_then_mg_l_caco3": hardness_mg_l_caco3(fed)}
    if has_anion_resin(stage) and fed.nitrate_mg_l_n > 0:
        found |= _nitrate(now, stage, out)
    return found


def _nitrate(now: Situation, stage: Softener, start: date) -> Numbers:
    """Nitrate of the resin that stands there, and beside it what the other kind of resin would do."""
    other = msgspec.structs.replace(stage, anion_type=OTHER[stage.anion_type], profile_l=None)
    found = _of_resin(now, stage, start)
    if found:
        found["with_other_resin"] = {"anion_type": other.anion_type, **_of_resin(now, other, start)}
    return found


def _of_resin(now: Situation, stage: Softener, start: date) -> Numbers:
    fed = now.known.fed(stage)
    run = anion_run(stage, fed) if fed is not None else None
    if run is None:
        return {}
    found: Numbers = {"nitrate_then_mg_l_n": run.plateau_mg_l_n, "nitrate_peak_mg_l_n": run.peak_mg_l_n}
    shows = _after(now, start, stage.profile_l or run.early_l, now.house.risk_health)
    return found | ({"nitrate_shows": shows.isoformat()} if shows is not None else {})


def _after(now: Situation, start: date, litres: float | None, chance: float) -> date | None:
    """The day on which the chance that the house drew so many litres since `start` reaches `chance`."""
    if litres is None:
        return None
    tally = Stock(job="", driver="volume", unit="L", since=start, left=litres, left_sd=0.0, full=litres, per_litre=1.0)
    return day_of_chance(tally, now.demand, chance)
