"""The command that puts the coming jobs with the water off together, as plans for a day."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from model.forecast.situation import Situation
from model.forecast.visits import Visit, visits
from model.plan import plan_of
from tui.cli.home_file import print_json, repository
from tui.words import part_words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from model.units import System
    from tui.cli.parser import Asked


def visit(asked: Asked) -> int:
    """Show the visits of the days asked."""
    now = Situation(repository(asked).load(), asked.today)
    found = visits(now, plan_of(now, with_numbers=False), asked.days)
    if asked.json:
        print_json({"today": asked.today.isoformat(), "visits": [_document(one) for one in found]})
        return 0
    if not found:
        print(f"Nothing in the next {asked.days} days needs the water off, acid or bleach.")
    print("\n\n".join("\n".join(_lines(one, now.house.units)) for one in found))
    return 0


def _lines(one: Visit, units: System) -> Iterator[str]:
    waits = f", and {one.wait_minutes} min of waits" if one.wait_minutes else ""
    yield f"VISIT {one.on:%a} {one.on}: {one.minutes} min of work{waits}"
    yield from (f"  ! {line}" for line in one.off_first)
    for place, each in enumerate(one.jobs, 1):
        yield f"  {place}. {each.job.title}, {each.job.stage_title} [{each.job.task}] {each.job.minutes} min"
        yield f"      {each.why}"
        if each.flush:
            yield f"      Then: {each.flush}"
    yield from (f"  Part: {part_words(part, units)}" for part in one.supplies)
    if one.fetch:
        yield f"  Have ready: {'; '.join(one.fetch)}"
    yield from (f"  Not today: {apart.title}, but {apart.on}: {apart.why}" for apart in one.apart)
    yield from (f"  Afterwards, {later.on}: {later.text}" for later in one.afterwards)


def _document(one: Visit) -> dict[str, object]:
    return {
        "on": one.on.isoformat(),
        "minutes": one.minutes,
        "wait_minutes": one.wait_minutes,
        "off_first": list(one.off_first),
        "jobs": [
            {
                "task": each.job.task,
                "title": each.job.title,
                "stage": each.job.stage,
                "act_on": each.job.latest.isoformat(),
                "health": each.job.health,
                "chemistry": each.job.chemistry,
                "minutes": each.job.minutes,
                "why": each.why,
                "flush": each.flush,
            }
            for each in one.jobs
        ],
        "parts": [msgspec.to_builtins(part) | {"lacks": part.lacks} for part in one.supplies],
        "have_ready": list(one.fetch),
        "apart": msgspec.to_builtins(one.apart),
        "afterwards": msgspec.to_builtins(one.afterwards),
    }
