"""What the water may carry since something happened for which a playbook was begun."""

from __future__ import annotations

from collections.abc import Iterator

from model.forecast.exposed.house import about_boiling, instead
from model.forecast.exposed.line import INFANTS, Line, Rank, said
from model.forecast.playbooks import Running, running
from model.forecast.situation import Situation
from model.forecast.words import day_in_words
from model.plan_types import EventStep
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
    """Whether a step that ends it is open, or was done without a laboratory having found the water clean since.

    A step that was left out with a reason is the owner's word that it needs no more.
    """
    steps = list(_ending(one, exposed))
    if any(step.outcome == "open" for step in steps):
        return True
    done = any(step.outcome == "done" for step in steps)
    return done and bool(exposed.clean) and not _found_clean(now, one, exposed.clean)


def _ending(one: Running, exposed: Exposed) -> Iterator[EventStep]:
    """The steps that end it, of each stage that has them."""
    for step in one.steps:
        if any(step.step == key or step.step.startswith(f"{key}_") for key in exposed.until):
            yield step


def _found_clean(now: Situation, one: Running, quantity: str) -> bool:
    newest = now.history.newest(quantity, "tap")
    return newest is not None and newest.on > one.on and newest.taken.value <= 0
