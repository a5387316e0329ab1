"""What rules ask of the log: the newest readings, pairs of them, and how they stand in a finding."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date, timedelta
from itertools import islice

from model.equipment.registry import AnyStage, kind_of
from model.forecast.numbers.common import outlet_of
from model.forecast.situation import Situation
from model.plan_types import Rests
from model.records.events import Reading
from model.records.history import Dated
from model.records.points import main_train
from model.records.quantities import QUANTITIES, show_taken

RECENT_DAYS = 400
"""Older readings raise nothing: what they showed was seen to, or a newer one is due. From memory; owner's default."""

PAIR_DAYS = 7
"""Raw and treated water taken within these days count as one pair. From memory; owner's default."""


def newest_first(now: Situation, quantity: str, points: tuple[str, ...]) -> Iterator[Dated]:
    """The readings of a quantity at any of the points, not older than `RECENT_DAYS`, the newest first."""
    since = now.today - timedelta(days=RECENT_DAYS)
    for one in reversed(now.history.taken(quantity)):
        if one.on < since:
            return
        if one.taken.point in points:
            yield one


def newest_of_all(now: Situation, quantity: str, points: tuple[str, ...]) -> list[Dated]:
    """As `newest_first`, with the readings of water that had stood."""
    since = now.today - timedelta(days=RECENT_DAYS)
    still = [one for point in points for one in now.history.standing(quantity, point) if one.on >= since]
    return sorted([*newest_first(now, quantity, points), *still], key=lambda one: (one.on, one.event), reverse=True)


def newest(now: Situation, quantity: str, *points: str) -> Dated | None:
    """The newest of them, or None."""
    return next(newest_first(now, quantity, points), None)


def newest_end(now: Situation, quantity: str, points: tuple[str, ...], *, at_rest: bool = False) -> Dated | None:
    """The newest that was read only as "less" or "more than", where nothing exact was read there since, in running
    water or in water at rest."""
    ends = [one for point in points for one in now.history.ends(quantity, point)]
    like = [one for one in ends if (one.taken.state == "at_rest") is at_rest]
    found = max(like, key=lambda one: (one.on, one.event), default=None)
    if found is None or found.on < now.today - timedelta(days=RECENT_DAYS):
        return None
    still = (one for point in points for one in now.history.standing(quantity, point))
    exact = still if at_rest else newest_first(now, quantity, points)
    return None if any((one.on, one.event) > (found.on, found.event) for one in exact) else found


def last(now: Situation, quantity: str, points: tuple[str, ...], count: int) -> list[Dated]:
    """The last few of them, the newest first."""
    return list(islice(newest_first(now, quantity, points), count))


def earlier(now: Situation, read: Dated, count: int = 5) -> list[Dated]:
    """What was read before it of the same at the same place, the newest first, however old: what was usual."""
    every = (
        one
        for one in reversed(now.history.taken(read.taken.quantity))
        if one.taken.point == read.taken.point and (one.on, one.event) < (read.on, read.event)
    )
    return [one for one in islice(every, count) if one.taken.qualifier == "="]


def near(now: Situation, quantity: str, points: tuple[str, ...], on: date, days: int = PAIR_DAYS) -> Dated | None:
    """The reading nearest to a day, within so many days of it; of two as near the newer one."""
    found: Dated | None = None
    for one in newest_first(now, quantity, points):
        if one.on < on - timedelta(days=days):
            break
        if one.on <= on + timedelta(days=days) and (found is None or abs(one.on - on) < abs(found.on - on)):
            found = one
    return found


def since_renewed(now: Situation, stage: AnyStage, quantity: str, *jobs: str) -> list[Dated]:
    """Recent readings of a stage's quantity since the last of these jobs was done, the oldest first."""
    done = {now.known.last_done(stage, job): job for job in jobs}
    days = [day for day in done if day is not None]
    job = done[max(days)] if days else jobs[0]
    start = now.today - timedelta(days=RECENT_DAYS)
    return [one for one in now.known.read(stage, quantity, job) if one.on >= start]


def after(now: Situation, stage: AnyStage) -> tuple[str, ...]:
    """The points whose water left this stage of the main train and met no other of its kind since."""
    train, found = main_train(now.house), []
    for one in train[next((k for k, one in enumerate(train) if one.id == stage.id), len(train)) :]:
        if one.id != stage.id and kind_of(one) == kind_of(stage):
            break
        found.append(outlet_of(now, one))
    return tuple(found)


def rests(now: Situation, *readings: Dated | None) -> tuple[Rests, ...]:
    """The readings as a finding tells them, without those that are not there."""
    return tuple(
        Rests(one.on, _title(one), one.taken.point, show_taken(one.taken, now.house.units), one.event)
        for one in readings
        if one is not None
    )


def _title(one: Dated) -> str:
    known = QUANTITIES.get(one.taken.quantity)
    return known.title if known else one.taken.quantity


def said(now: Situation, one: Dated) -> str:
    """A reading in a sentence: "12 mg/L as N on 3 Nov"."""
    return f"{show_taken(one.taken, now.house.units)} on {now.known.day(one.on)}"


def noted(now: Situation, one: Dated, words: Iterable[str]) -> bool:
    """Whether method or note of a reading holds one of these words."""
    text = one.taken.method
    if not one.from_lab:
        text += next((f" {event.note}" for event in reversed(now.history.of(Reading)) if event.id == one.event), "")
    return any(word in text.casefold() for word in words)
