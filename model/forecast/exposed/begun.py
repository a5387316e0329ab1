"""What the water may carry since something happened for which a playbook was begun."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import TYPE_CHECKING

from model.forecast.exposed.house import about_boiling, instead
from model.forecast.exposed.line import INFANTS, Line, Rank, said
from model.forecast.playbooks import Running, running
from model.forecast.situation import Situation
from model.forecast.words import day_in_words
from model.plan_types import EventStep
from model.records.bounds import for_health

if TYPE_CHECKING:
    from model.upkeep.playbook import Exposed

_RANKS = {"germs": Rank.GERMS_PASS, "nitrate": Rank.NITRATE_PASSES, "alkaline": Rank.NOT_WORKING}


def begun_lines(now: Situation) -> list[Line]:
    """One line for each playbook begun whose steps that would end it are still open."""
    return [
        _line(now, one, one.exposed)
        for one in running(now)
        if one.exposed is not None and one.on <= now.today and _holds(now, one, one.exposed)
    ]


def _line(now: Situation, one: Running, exposed: Exposed) -> Line:
    words = {"day": day_in_words(one.on, now.today), "instead": instead(now)}
    boiling = about_boiling(now) if exposed.about == "germs" else ""
    return Line(_RANKS[exposed.about], exposed.lead.format(**words), said(exposed.more, boiling, INFANTS))


def _holds(now: Situation, one: Running, exposed: Exposed) -> bool:
    """Whether a step that ends it, and whose day has come, is open; or no reading has proved it over since."""
    steps = list(_ending(one, exposed))
    first = min((step.on for step in steps), default=now.today)
    if any(step.outcome == "open" and step.on <= max(first, now.today) for step in steps):
        return True
    closed = [step.closed_on for step in steps if step.closed_on is not None]
    return bool(exposed.proof and steps) and not _proved(now, exposed, min(closed, default=one.on))


def _ending(one: Running, exposed: Exposed) -> Iterator[EventStep]:
    """The steps that end it, of each stage that has them."""
    for step in one.steps:
        if any(step.step == key or step.step.startswith(f"{key}_") for key in exposed.until):
            yield step


def _proved(now: Situation, exposed: Exposed, since: date) -> bool:
    read = [one for one in now.history.taken(exposed.proof) if one.taken.point in exposed.at and one.on >= since]
    return bool(read) and read[-1].taken.qualifier != ">" and for_health(read[-1].taken) <= exposed.most
