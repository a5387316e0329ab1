"""Windows of dates and of amounts in words, for the plots."""

from __future__ import annotations

from datetime import date, timedelta

from model.equipment.registry import AnyStage
from model.forecast.due import due_item
from model.forecast.situation import Situation
from model.plan_types import Due

FURTHEST_DAYS = 400
LASTS_DAYS = 3652


def three_words(now: Situation, three: tuple[float, float, float], dimension: str) -> str:
    """The middle with its 10 and 90 %, in the owner's units: "196 gal/day (171 to 226 gal/day)"."""
    low, middle, high = (now.known.show(one, dimension) for one in three)
    return f"{middle} ({low.partition(' ')[0]} to {high})"


def typed(now: Situation, us: str, metric: str) -> str:
    """What to type for a reading, with the owner's units."""
    return f"wellward read {us if now.house.units == 'us' else metric}"


def item_of(now: Situation, stage: AnyStage, job: str) -> Due | None:
    """What the plan says of a job."""
    found = next((one for one in now.jobs(stage) if one.id == job), None)
    return None if found is None else due_item(now, stage, found)


def window_of(now: Situation, stage: AnyStage, job: str) -> tuple[date, date] | None:
    """The 10 and 90 % dates of a job, None where only the calendar drives it or the window begins beyond a plot."""
    item = item_of(now, stage, job)
    if item is None or item.earliest is None:
        return None
    furthest = now.today + timedelta(days=FURTHEST_DAYS)
    if item.earliest > furthest:
        return None
    return item.earliest, min(item.latest or furthest, furthest)


def window_words(now: Situation, stage: AnyStage, job: str, what: str) -> str:
    """The window and the day to act in a sentence; "" without a date."""
    item = item_of(now, stage, job)
    if item is None:
        return ""
    if (item.act_on - now.today).days > LASTS_DAYS:
        return "At this pace it lasts for more than ten years."
    if item.earliest is None or item.latest is None:
        return f"Act by {now.known.day(item.act_on)}."
    if item.latest < now.today:
        return f"By reckoning {what} already, most likely by {now.known.day(item.middle or item.latest)}; do it now."
    earliest, latest = now.known.day(item.earliest), now.known.day(item.latest)
    return f"In 8 of 10 cases {what} between {earliest} and {latest}; act by {now.known.day(item.act_on)}."
