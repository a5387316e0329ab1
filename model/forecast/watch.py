"""Raw nitrate watched in spring and autumn, where fields are near or much was ever found."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from model.equipment.well import MUCH_NITRATE_MG_L_N, Well
from model.forecast.situation import Situation
from model.forecast.source import worst_of_two_years
from model.forecast.wanted import Wanted
from model.forecast.words import day_in_words
from model.records.bounds import for_health
from model.records.history import Dated

SEASONS = (("spring", (3, 1), (4, 15)), ("autumn", (9, 1), (10, 15)))
"""Season, the day from which a reading counts, the day to act (month, day), in the northern temperate zone.

Spring and autumn: Heartland Health Region (Saskatchewan), Water treatment for sandpoint wells; spring recharge:
Wisconsin DNR-123 (1998). The days: from memory; owner's default.
"""

RISEN, RISEN_MG_L_N = 1.25, 1.0
"""So many times the reading before, and at least so much more [mg/L as N], is a rise. From memory; owner's default."""

AGAIN_DAYS, WEEKS_DAYS = 7, 42
"""After a rise every so many days [day], until so long after the season's first reading [day]: weekly for 4 to 6 weeks
is common practice, no source."""


def nitrate_watch(now: Situation) -> Iterator[Wanted]:
    """The next reading of raw nitrate that the season asks for, of each well that needs it."""
    raw = now.history.taken("nitrate", "source")
    much = (worst_of_two_years(raw, now.today) or 0.0) >= MUCH_NITRATE_MG_L_N
    for well in now.house.stages:
        if isinstance(well, Well) and (well.farmed_land or much):
            reason = "fields or animals are near" if well.farmed_land else "much has been found here"
            yield _by_season(now, well, raw, reason)
            yield from _after_a_rise(now, well, raw)


def _by_season(now: Situation, well: Well, raw: list[Dated], reason: str) -> Wanted:
    """The newest season that has begun and was not read in, else the next one."""
    name, begins, act = _season(now.today)
    if act < now.house.started or _last(now, well, raw) >= begins:
        name, begins, act = _season(begins + timedelta(days=200))
    why = f"Raw nitrate rises and falls with the {name}, and {reason}: read raw and treated water by {act:%d %b}."
    return Wanted(act, f"{well.id}.nitrate_watch", why.replace("by 0", "by "))


def _season(on: date) -> tuple[str, date, date]:
    """The last season that has begun by a day: its name, its first day, and the day to act."""
    begun = [
        (name, date(year, *first), date(year, *act))
        for year in (on.year - 1, on.year)
        for name, first, act in SEASONS
        if date(year, *first) <= on
    ]
    return begun[-1]


def _last(now: Situation, well: Well, raw: list[Dated]) -> date:
    """The last day on which raw nitrate was read or tested, in whatever way it was recorded."""
    days = [now.known.last_done(well, job) for job in ("nitrate_watch", "nitrate_test")]
    return max([*(one.on for one in raw[-1:]), *(day for day in days if day)], default=date.min)


def _after_a_rise(now: Situation, well: Well, raw: list[Dated]) -> Iterator[Wanted]:
    """Another reading a week after one that was clearly higher than the one before it."""
    if len(raw) < 2:
        return
    new, old = for_health(raw[-1].taken), for_health(raw[-2].taken)
    begins = _season(raw[-1].on)[1]
    first = next(one.on for one in raw if one.on >= begins)
    again = raw[-1].on + timedelta(days=AGAIN_DAYS)
    done = now.known.last_done(well, "nitrate_watch")
    if new < max(RISEN * old, old + RISEN_MG_L_N) or again > first + timedelta(days=WEEKS_DAYS):
        return
    if done is None or done <= raw[-1].on:
        why = (
            f"Raw nitrate rose from {old:.1f} to {new:.1f} mg/L as N by {day_in_words(raw[-1].on, now.today)}: read it "
            "each week until it stops rising."
        )
        yield Wanted(again, f"{well.id}.nitrate_watch", why)
