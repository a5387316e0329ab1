"""The house as a whole: water by night, and a pH that cannot well be."""

from __future__ import annotations

from datetime import timedelta

from model.findings.readings import newest, rests, said
from model.findings.shape import Raised
from model.forecast.night import NIGHTS, leaks_by_night
from model.forecast.situation import Situation
from model.records.night_csv import NIGHT_FLOW
from model.records.points import points_of

ODD_PH = (4.5, 10.5)
"""Outside of this a well's or a neutralizer's pH is a slip of meter or finger. From memory; owner's default."""


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


def odd_pH(now: Situation) -> Raised | None:
    """A newest pH at some point outside of what well water has."""
    low, high = ODD_PH
    for point, _ in points_of(now.house):
        read = newest(now, "pH", point)
        if read is not None and not low <= read.taken.value <= high:
            text = f"pH {said(now, read)}: kept as recorded, but seldom true of well water."
            return Raised("note", text, rests(now, read), place=point, read="pH", at=point)
    return None
