"""The house as a whole: water by night, a meter that stands still, and a pH that cannot well be."""

from __future__ import annotations

from datetime import timedelta
from itertools import islice

from model.findings.readings import newest, newest_first, rests, said
from model.findings.shape import Raised
from model.forecast.night import NIGHTS, leaks_by_night
from model.forecast.situation import Situation
from model.records.events import Absence
from model.records.history import Dated
from model.records.night_csv import NIGHT_FLOW
from model.records.points import points_of

ODD_PH = (4.5, 10.5)
"""Outside of this a well's or a neutralizer's pH is a slip of meter or finger. From memory; owner's default."""

STILL_SHARE, STILL_DAYS = 0.02, 5
"""Less than this share of what the house uses, over so many days or more: the meter does not count. From memory;
owner's default."""


def night_leak(now: Situation) -> Raised | None:
    """Water that ran through every hour of the last nights."""
    told = leaks_by_night(now.history, now.today, now.house.units)
    if told is None:
        return None
    since = now.today - timedelta(days=NIGHTS)
    nights = [one for one in now.history.taken(NIGHT_FLOW) if one.on > since]
    risen = now.demand.risen_since()
    more = f" By the meter more is used since {now.known.day(risen)}." if risen else ""
    return Raised("warning", f"{told}{more}", rests(now, *reversed(nights)))


def meter_still(now: Situation) -> Raised | None:
    """A meter that hardly moved from one reading to the next, though somebody was at home."""
    counts = list(islice(newest_first(now, "meter", ("house",)), 2))
    if len(counts) < 2:
        return None
    new, old = counts
    days, used = (new.on - old.on).days, new.taken.value - old.taken.value
    if days < STILL_DAYS or not 0.0 <= used < STILL_SHARE * now.demand.per_day() * days or _away(now, old, new):
        return None
    text = (
        f"The meter showed {said(now, old)} and {said(now, new)}: hardly a day's water, with no absence written down."
    )
    return Raised("warning", text, rests(now, new, old))


def _away(now: Situation, old: Dated, new: Dated) -> bool:
    return any(one.on <= new.on and one.until >= old.on for one in now.history.of(Absence))


def odd_pH(now: Situation) -> Raised | None:
    """A newest pH at some point outside of what well water has."""
    low, high = ODD_PH
    for point, _ in points_of(now.house):
        read = newest(now, "pH", point)
        if read is not None and not low <= read.taken.value <= high:
            text = f"pH {said(now, read)}: kept as recorded, but seldom true of well water."
            return Raised("note", text, rests(now, read), place=point, read="pH", at=point)
    return None
