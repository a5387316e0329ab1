"""Salt that had run out before it was filled up: the resin is spent until it is renewed and a nitrate test is clear."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import NamedTuple

from model.equipment.salt import FILLS
from model.equipment.softener import Softener, has_anion_resin, pace, salt_kg
from model.forecast.situation import Situation
from model.forecast.wanted import Wanted
from model.forecast.words import day_in_words
from model.records.bounds import for_health
from model.records.history import Dated

RECOVER, CHECK = "recover_from_run_out", "nitrate_check"

RECOVER_DAYS = 1
"""The valve is made to regenerate so long after the refill [day]: brine forms best overnight. Common practice, no
source."""

CHECK_DAYS = 2
"""Nitrate is read so long after the recovery [day], in the last part of a run. From memory; owner's default."""


class Short(NamedTuple):
    """Salt was short on a day, by an event of that day; `seen` so, or only reckoned."""

    on: date
    event: int
    seen: bool


class RanOut(NamedTuple):
    """A softener (its id), the times its salt was short, oldest first, after which no nitrate was read below
    `action_mg_l_n` [mg/L as N]; never none."""

    stage: str
    times: tuple[Short, ...]
    action_mg_l_n: float


def ran_out(now: Situation) -> list[RanOut]:
    """Each softener with anion resin whose salt ran out and after which nothing says that it holds nitrate again.

    Without anion resin the next regeneration sees to it, and nothing that it lets through harms.
    """
    return now.once(_ran_out)


def _ran_out(now: Situation) -> list[RanOut]:
    softeners = [one for one in now.house.stages if isinstance(one, Softener) and has_anion_resin(one)]
    found = [RanOut(stage.id, _open(now, stage), stage.nitrate_action_mg_l_n) for stage in softeners]
    return [one for one in found if one.times]


def recovery_wanted(now: Situation) -> Iterator[Wanted]:
    """The recovery after each of them, then a nitrate reading until one is clear."""
    for one in ran_out(now):
        done = [service.on for service in now.history.services(f"{one.stage}.{RECOVER}")]
        left = [short for short in one.times if not any(day >= short.on for day in done)]
        short = left[0] if left else one.times[0]
        why = f"The salt had run out by {day_in_words(short.on, now.today)}, and no nitrate test has been clear since"
        if left:
            text = f"{why}: regenerate twice, then read it."
            yield Wanted(short.on + timedelta(days=RECOVER_DAYS), f"{one.stage}.{RECOVER}", text)
        else:
            first = next(day for day in done if day >= short.on)
            yield Wanted(first + timedelta(days=CHECK_DAYS), f"{one.stage}.{CHECK}", f"{why}: read it.")


def _open(now: Situation, stage: Softener) -> tuple[Short, ...]:
    """The times the salt was short that no clear test has followed."""
    short = sorted({*_seen(now, stage), *_reckoned(now, stage)})
    if not short:
        return ()
    clear = [one for one in now.history.taken("nitrate") if _is_clear(stage, one) and one.on >= short[0].on]
    return tuple(
        one for one in short if not any(_follows(read, one) and _renewed(now, stage, one, read) for read in clear)
    )


def _reckoned(now: Situation, stage: Softener) -> Iterator[Short]:
    """Refills that found too little, by what was reckoned to be left."""
    for stock in now.stocks[stage.id]:
        for on in stock.short_on:
            fills = [one for job in FILLS for one in now.history.services(f"{stage.id}.{job}")]
            yield Short(on, max((one.id for one in fills if one.on == on), default=0), seen=False)


def _seen(now: Situation, stage: Softener) -> Iterator[Short]:
    """Depths that show a regeneration made with too little salt: more than one dose under the line."""
    most_kg = max(salt_kg(stage, stage.salt_low_cm) - stage.salt_dose_kg, 0.0)
    for one in now.history.taken("salt_depth", stage.id):
        if one.taken.value < stage.salt_low_cm and salt_kg(stage, one.taken.value) <= most_kg:
            yield Short(one.on, one.event, seen=True)


def _is_clear(stage: Softener, one: Dated) -> bool:
    """Whether nitrate was below the owner's action level after the resin; what was read before the work of a service
    does not count."""
    after = one.taken.point in (f"after_{stage.id}", "tap") and one.taken.moment != "before"
    return after and one.taken.qualifier != ">" and for_health(one.taken) < stage.nitrate_action_mg_l_n


def _renewed(now: Situation, stage: Softener, short: Short, read: Dated) -> bool:
    """Whether the resin was surely renewed in between: by a recovery, or because a whole run has passed since.

    Soon after the refill the last good regeneration may still hold, and soon after it weak brine.
    """
    recoveries = now.history.services(f"{stage.id}.{RECOVER}")
    if any((short.on, short.event) <= (one.on, one.id) <= (read.on, read.event) for one in recoveries):
        return True
    times = pace(stage, now.known.fed(stage))
    used = now.known.litres(short.on, read.on, times.least_l_per_day)
    return times.per_litre * used + times.per_day * (read.on - short.on).days >= 1.0


def _follows(one: Dated, short: Short) -> bool:
    """Whether it was read later, or after the work of the same service."""
    read, then = (one.on, one.event), (short.on, short.event)
    return read > then or (read == then and one.taken.moment == "after")
