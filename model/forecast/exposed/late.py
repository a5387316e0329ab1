"""What is not known because a job that protects health is late."""

from __future__ import annotations

from model.equipment.registry import AnyStage
from model.forecast.exposed.house import much_nitrate, short_name
from model.forecast.exposed.line import Line, Rank
from model.forecast.situation import Situation
from model.forecast.words import day_in_words
from model.plan_types import Due

_MEANS: dict[str, tuple[str, str]] = {
    "coliform_test": ("Coliform test", "germs may be there unseen"),
    "nitrate_test": ("Nitrate test", "nitrate may have risen unseen"),
    "nitrate_check": ("Nitrate reading", "nitrate may pass unseen"),
    "clean_sleeve": ("UV sleeve cleaning", "the dose is not known"),
    "replace_sleeve": ("UV sleeve change", "the dose is not known"),
    "glance": ("Look at the UV lamp", "it may be dark unseen"),
    "breakthrough_profile": ("Nitrate profile", "nitrate may pass unseen"),
    "lead_copper_test": ("Lead and copper test", "metals may be there unseen"),
}
"""Job -> its short name, and what is not known while it is late; the gravest first."""


def lamp_lines(now: Situation, due: tuple[Due, ...]) -> list[Line]:
    """A lamp past its date; where much nitrate comes in, an RO membrane past its date too."""
    return [
        *(
            Line(Rank.DOSE_UNKNOWN, f"{name} lamp is past its date ({day}): dose unknown, even if it glows.")
            for name, day in _late(now, due, "replace_lamp")
        ),
        *(
            Line(Rank.NITRATE_PASSES, f"{name} membrane is past its date ({day}): test nitrate at its tap.")
            for name, day in _late(now, due, "replace_membrane")
            if much_nitrate(now)
        ),
    ]


def _late(now: Situation, due: tuple[Due, ...], job: str) -> list[tuple[str, str]]:
    stages: dict[str, AnyStage] = {stage.id: stage for stage in now.house.stages}
    return [
        (short_name(stages[item.stage]), day_in_words(item.act_on, now.today))
        for item in due
        if item.task == f"{item.stage}.{job}" and item.state == "overdue"
    ]


def late_lines(now: Situation, due: tuple[Due, ...]) -> list[Line]:
    """One line for all other late jobs that protect health, the gravest first."""
    order = list(_MEANS)
    late = [one for one in due if one.health and one.state == "overdue" and not one.task.endswith(".replace_lamp")]
    late.sort(key=lambda one: order.index(_job(one)) if _job(one) in order else len(order))
    if not late:
        return []
    first, *others = late
    name, means = _MEANS.get(_job(first), (first.title[:30], "what it guards is not known"))
    lead = f"{name} overdue since {day_in_words(first.act_on, now.today)}: {means}."
    names = dict.fromkeys(_MEANS.get(_job(one), (one.title, ""))[0] for one in others)
    more = f"Also overdue: {', '.join(name[:1].lower() + name[1:] for name in names)}." if names else ""
    return [Line(Rank.LATE, lead, more.replace("uV ", "UV "))]


def _job(item: Due) -> str:
    return item.task.partition(".")[2]
