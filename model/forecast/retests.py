"""Tests and disinfection that a bad result asks for, each with its day. A better result postpones none of them."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import NamedTuple

from model.equipment.reverse_osmosis import ReverseOsmosis
from model.equipment.ultraviolet import Ultraviolet
from model.equipment.well import Well
from model.forecast.exposed.house import meanwhile
from model.forecast.situation import Situation
from model.forecast.wanted import Wanted
from model.forecast.words import day_in_words
from model.records.bounds import for_health
from model.records.history import Dated
from model.records.points import points_of, ro_point
from model.water.limits import NITRATE_LIMIT_MG_L_N
from model.water.traces import COPPER_ACTION_MG_L, LEAD_ACTION_MG_L

GERMS = ("e_coli", "total_coliform")


class Retest(NamedTuple):
    """A test wanted `days` after a bad result; one counts from `counts_from` days after it. `what`: what it is for."""

    days: int
    counts_from: int
    what: str


AFTER_GERMS = (
    Retest(3, 1, "sample raw and treated again on one day, to see whether it is the well or the pipes"),
    Retest(30, 15, "sample again a month on"),
    Retest(90, 45, "sample again three months on"),
)
"""Raw and treated on one day: Florida Department of Health. After 1 to 3 months: from memory; owner's default."""

DISINFECT_DAYS = 7
"""Germs found are followed by disinfection within so many days [day]. From memory; owner's default."""

CLEAN_IN_A_ROW = 2
"""So many clean results on different days say that nothing is left to disinfect. From memory; owner's default."""

AFTER_NITRATE = Retest(7, 1, "have raw and treated water tested by a laboratory")
AFTER_METALS = Retest(30, 7, "sample first draw and flushed water again")
"""Owner's defaults, from memory."""


def retests(now: Situation) -> Iterator[Wanted]:
    """What the results in the log ask for: after germs, after nitrate over the limit, after lead or copper."""
    well = next((stage for stage in now.house.stages if isinstance(stage, Well)), None)
    if well is None:
        return
    for point, title in points_of(now.house):
        yield from _after_germs(now, well, point, title)
    for point in _drunk(now):
        yield from _after_level(now, well, "nitrate", point, NITRATE_LIMIT_MG_L_N, "nitrate_test", AFTER_NITRATE)
        for metal, limit in (("lead", LEAD_ACTION_MG_L), ("copper", COPPER_ACTION_MG_L)):
            yield from _after_level(now, well, metal, point, limit, "lead_copper_test", AFTER_METALS)


def _drunk(now: Situation) -> list[str]:
    """The points at which people drink."""
    return ["tap", *(ro_point(stage) for stage in now.house.stages if isinstance(stage, ReverseOsmosis))]


def _after_germs(now: Situation, well: Well, point: str, title: str) -> Iterator[Wanted]:
    results = sorted((one for name in GERMS for one in now.history.taken(name, point)), key=lambda one: one.on)
    bad = sorted({one.on for one in results if one.taken.value > 0})
    where = "in the raw water" if point == "source" else f"at: {title}"
    for on in bad:
        found = f"Germs found {where} on {day_in_words(on, now.today)}"
        for retest in AFTER_GERMS:
            if not _done(now, well, "coliform_test", results, on + timedelta(days=retest.counts_from)):
                text = f"{found}: {retest.what}. {meanwhile(now)}"
                yield Wanted(on + timedelta(days=retest.days), f"{well.id}.coliform_test", text)
        job = _disinfection(now, well, point)
        if job and not _disinfected(now, job, results, on):
            text = f"{found}: disinfect once the cause is known, and ask the health authority first."
            yield Wanted(on + timedelta(days=DISINFECT_DAYS), job, text)


def _after_level(
    now: Situation, well: Well, quantity: str, point: str, limit: float, job: str, retest: Retest
) -> Iterator[Wanted]:
    """A test again after each value at or over the limit that none has followed."""
    results = now.history.taken(quantity, point)
    for one in results:
        high = one.taken.qualifier != "<" and for_health(one.taken) >= limit
        if high and not _done(now, well, job, _of_lab(results), one.on + timedelta(days=retest.counts_from)):
            text = (
                f"{quantity.capitalize()} of {for_health(one.taken):.3g} mg/L at a drinking tap on "
                f"{day_in_words(one.on, now.today)}, limit {limit:g}: {retest.what}."
            )
            yield Wanted(one.on + timedelta(days=retest.days), f"{well.id}.{job}", text)


def _of_lab(results: list[Dated]) -> list[Dated]:
    return [one for one in results if one.from_lab]


def _done(now: Situation, well: Well, job: str, results: list[Dated], since: date) -> bool:
    """Whether the test was done on a day or later: recorded as a job, or by a result of the same point."""
    done = now.known.last_done(well, job)
    return (done is not None and done >= since) or any(one.on >= since for one in results)


def _disinfection(now: Situation, well: Well, point: str) -> str:
    """The job that kills germs found at a point: the well for raw water, the pipes after the UV for treated water."""
    if point in ("source", "hose"):
        return f"{well.id}.shock_chlorination"
    lamp = next((stage for stage in now.house.stages if isinstance(stage, Ultraviolet)), None)
    return f"{lamp.id}.sanitize_pipes" if lamp else f"{well.id}.shock_chlorination"


def _disinfected(now: Situation, job: str, results: list[Dated], found_on: date) -> bool:
    """Whether it was done since, or the last results in a row were clean on several days."""
    done = now.history.last_done(job)
    if done is not None and done >= found_on:
        return True
    by_day: dict[date, bool] = {}
    for one in results:
        if one.on > found_on:
            by_day[one.on] = by_day.get(one.on, True) and one.taken.value == 0
    last = [by_day[on] for on in sorted(by_day)][-CLEAN_IN_A_ROW:]
    return len(last) == CLEAN_IN_A_ROW and all(last)
