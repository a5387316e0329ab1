"""Jobs that need the water off, put together into visits: on which day, in which order, and what is kept apart.

The rules: stage order from well to tap, a flush before the next stage is opened, sanitizing last; acid and bleach never
on one day; nothing later than its day. Source: common practice, no source; acid with bleach: from memory.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta

import msgspec

from model.upkeep.checklist import Chemistry, FollowUp
from model.upkeep.checklist import Visit as WaterState

MOST_MINUTES = 360
"""More hands-on time than this [min] is not offered for one day, unless it is due that day. Owner's default."""
FOLLOWED_DAYS = 30
"""What a job brings with it is told up to so many days after the visit. Owner's default."""
OPPOSED: dict[Chemistry, Chemistry] = {"acid": "bleach", "bleach": "acid"}
CHEMISTRY: dict[str, Chemistry] = {
    "ultraviolet.clean_sleeve": "acid",
    "softener.resin_cleaner": "acid",
    "ultraviolet.sanitize_pipes": "bleach",
    "reverse_osmosis.sanitize": "bleach",
    "well.shock_chlorination": "bleach",
}
"""The jobs done with acid or bleach, as kind and job: so that what follows a job need not be loaded."""

_DAY = timedelta(days=1)


class Candidate(msgspec.Struct, frozen=True, kw_only=True):
    """A job that may join a visit. `place`: of its stage on the way from well to tap, branches last. `latest`: its day
    to act, which may be past. `minutes` hands-on and `waits` [min]."""

    task: str
    title: str
    stage: str
    stage_title: str
    place: int
    latest: date
    health: bool
    water: WaterState
    chemistry: Chemistry
    minutes: int
    waits: int = 0
    off: tuple[str, ...] = ()
    parts: tuple[str, ...] = ()
    follow_ups: tuple[FollowUp, ...] = ()


class VisitJob(msgspec.Struct, frozen=True, kw_only=True):
    """One job of a visit in its place: why it stands there, and what is flushed before the next stage is opened."""

    job: Candidate
    why: str
    flush: str


class KeptApart(msgspec.Struct, frozen=True, kw_only=True):
    """A job that is done on another day than the visit, and why."""

    task: str
    title: str
    on: date
    why: str


class Afterwards(msgspec.Struct, frozen=True, kw_only=True):
    """Something that a visit brings with it later; `task` is empty where no checklist belongs to it."""

    on: date
    text: str
    task: str


class Arranged(msgspec.Struct, frozen=True, kw_only=True):
    """One day's jobs in order, with what must be off first, what is kept apart, and what follows."""

    on: date
    jobs: tuple[VisitJob, ...]
    off_first: tuple[str, ...]
    apart: tuple[KeptApart, ...]
    afterwards: tuple[Afterwards, ...]

    @property
    def minutes(self) -> int:
        """Hands-on time of all jobs [min]."""
        return sum(one.job.minutes for one in self.jobs)

    @property
    def wait_minutes(self) -> int:
        """Waits within the jobs [min]."""
        return sum(one.job.waits for one in self.jobs)


def arranged(
    jobs: Iterable[Candidate], today: date, *, membrane: bool, used_today: frozenset[str] = frozenset()
) -> tuple[Arranged, ...]:
    """The visits for these jobs, soonest first. Each job is in exactly one of them.

    No job is later than its day to act, or than today where that is past. The one exception: where acid and bleach work
    are both due by today, one of them has to wait a day: the acid where only the bleach protects health, else the
    bleach, as sanitizing before the lamp's chamber is opened again would count for nothing.

    Args:
        jobs: those that need the water off, or acid or bleach.
        today: no visit is before it.
        membrane: whether the home has an RO unit, whose feed is then closed first.
        used_today: "acid" or "bleach" where a job that was done today used it: the other waits for tomorrow.
    """
    days = _shared_out(list(jobs), today, used_today)
    return tuple(_visit(on, days, today, membrane) for on in sorted(days))


def _due(job: Candidate, today: date) -> date:
    return max(job.latest, today)


Days = dict[date, list[Candidate]]


def _shared_out(jobs: list[Candidate], today: date, used: frozenset[str]) -> Days:
    """The jobs by day: those with acid or bleach apart, the rest with the first of them, not too much on one day."""
    days: Days = {}
    for on, own in _by_chemistry(jobs, today, used):
        kept, rest = _not_too_much(own, on, today)
        days.setdefault(on, []).extend(kept)
        while rest:
            later = min(_due(job, today) for job in rest)
            kept, rest = _not_too_much(rest, later, today)
            days.setdefault(later, []).extend(kept)
    return days


def _by_chemistry(jobs: list[Candidate], today: date, used: frozenset[str]) -> list[tuple[date, list[Candidate]]]:
    acid, bleach = ([job for job in jobs if job.chemistry == kind] for kind in ("acid", "bleach"))
    if not ((acid and bleach) or (acid and "bleach" in used) or (bleach and "acid" in used)):
        return [(min(_due(job, today) for job in jobs), jobs)] if jobs else []
    others = [job for job in jobs if job.chemistry == "none"]
    if "bleach" in used or ("acid" not in used and _bleach_first(acid, bleach, today)):
        first, second, second_on = bleach, acid, max(min(_due(job, today) for job in acid), today + _DAY)
    else:
        first, second, second_on = acid, bleach, max(min(_due(job, today) for job in bleach), today + _DAY)
    own = {job.stage for job in second} - {job.stage for job in first}
    joining = [job for job in others if job.stage in own and _due(job, today) >= second_on]
    first = [*first, *(job for job in others if job not in joining)]
    first_on = min([second_on - _DAY, *(_due(job, today) for job in first)])
    return [(first_on, first), (second_on, [*second, *joining])] if first else [(second_on, [*second, *joining])]


def _bleach_first(acid: list[Candidate], bleach: list[Candidate], today: date) -> bool:
    """Whether bleach has to be today while acid need not. Else acid comes first, as sanitizing comes last."""
    if not any(_due(job, today) == today for job in bleach):
        return False
    pressing_acid = [job for job in acid if _due(job, today) == today]
    pressing_bleach = [job for job in bleach if _due(job, today) == today]
    if not pressing_acid:
        return True
    return any(job.health for job in pressing_bleach) and not any(job.health for job in pressing_acid)


def _not_too_much(jobs: list[Candidate], on: date, today: date) -> tuple[list[Candidate], list[Candidate]]:
    """What one day takes, and what is left for a later one: only plain jobs that are not due yet can wait."""
    kept = [job for job in jobs if job.chemistry != "none" or _due(job, today) <= on]
    rest: list[Candidate] = []
    free = MOST_MINUTES - sum(job.minutes for job in kept)
    for job in sorted((job for job in jobs if job not in kept), key=lambda job: (job.latest, job.task)):
        if job.minutes <= free and not rest:
            kept.append(job)
            free -= job.minutes
        else:
            rest.append(job)
    return kept, rest


def in_order(jobs: Iterable[Candidate]) -> list[Candidate]:
    """Jobs of one day in the order of doing: well to tap with the water off, what needs it on, sanitizing last."""
    return sorted(
        jobs, key=lambda job: (job.chemistry == "bleach", job.water != "water_off", job.place, job.latest, job.task)
    )


def _visit(on: date, days: Days, today: date, membrane: bool) -> Arranged:
    row = in_order(days[on])
    return Arranged(
        on=on,
        jobs=tuple(
            VisitJob(job=job, why=_why(row, place), flush=_flush(job, row[place + 1] if place + 1 < len(row) else None))
            for place, job in enumerate(row)
        ),
        off_first=_off_first(row, membrane),
        apart=_apart(on, days, today),
        afterwards=_afterwards(on, row, days),
    )


def _why(row: Sequence[Candidate], place: int) -> str:
    """Why a job stands where it stands."""
    job = row[place]
    before = row[place - 1] if place else None
    if job.chemistry == "bleach":
        if before is not None and before.chemistry == "bleach":
            return f"After {before.title}: bleach work goes from well to tap, the RO unit last."
        return "Sanitizing comes last, after all that was opened." if before else "Sanitizing, on a day of its own."
    if before is None:
        return "First: nearest to the well." if len(row) > 1 else "The only one."
    if job.water != "water_off":
        return "After the work with the water off: it needs the water on."
    if before.stage == job.stage:
        return f"With the one before: {job.stage_title} is open already."
    return f"After {before.stage_title}, from well to tap: what that flush carries must not run into what was cleaned."


def _flush(job: Candidate, following: Candidate | None) -> str:
    """What is flushed after a job; nothing between two jobs at the same open stage."""
    if following is None:
        proof = "Flush until a strip reads 0 chlorine at every tap, twice" if job.chemistry == "bleach" else _ALL_TAPS
        return f"{proof}; fish taps and RO feed open last."
    if following.chemistry == "bleach":
        return f"Flush to waste until clear, before bleach goes in for: {following.title}."
    if following.stage == job.stage and "acid" not in (job.chemistry, following.chemistry):
        return ""
    acid = "Rinse every trace of acid off, and flush" if job.chemistry == "acid" else "Flush"
    return f"{acid} to waste until clear, before {following.stage_title} is opened."


_ALL_TAPS = "Flush each tap, cold first, then hot"
_MEMBRANE = "First: RO feed and reservoir valves closed, ice maker off."
_FISH = "No aquarium is filled and no fish tap used until the last flush runs clear."
_BLEACH = (
    "Before bleach goes in: nothing of it reaches neutralizer media, resin, carbon or membrane. Bypass them or take "
    "them out as the checklist says, and no acid on this day."
)
_ACID = "Acid on this day: no bleach in the house's water, and neither one in the other's bucket."


def _off_first(row: Sequence[Candidate], membrane: bool) -> tuple[str, ...]:
    chemistries = {job.chemistry for job in row}
    lines = [_MEMBRANE] if membrane else []
    lines += [_FISH, *([_BLEACH] if "bleach" in chemistries else []), *([_ACID] if "acid" in chemistries else [])]
    lines += [f"{job.title}: {line}." for job in row for line in job.off if not line.startswith("Nothing off")]
    return tuple(dict.fromkeys(lines))


def _apart(on: date, days: Days, today: date) -> tuple[KeptApart, ...]:
    here = {OPPOSED[job.chemistry] for job in days[on] if job.chemistry in OPPOSED}
    found = []
    for other in sorted(days):
        for job in days[other] if other != on else []:
            if job.chemistry in here:
                found.append(KeptApart(task=job.task, title=job.title, on=other, why=_chemistry_why(job, other, today)))
            elif other > on and job.chemistry == "none" and _due(job, today) >= other:
                why = f"It can wait: with it there would be more than {MOST_MINUTES} minutes of work on one day."
                found.append(KeptApart(task=job.task, title=job.title, on=other, why=why))
    return tuple(found)


def _chemistry_why(job: Candidate, on: date, today: date) -> str:
    late = " That makes it a day late, as both are due." if on > _due(job, today) else ""
    return f"Acid and bleach never share a day: together they give off poison gas.{late}"


def _afterwards(on: date, row: Sequence[Candidate], days: Days) -> tuple[Afterwards, ...]:
    """What the jobs bring with them; acid or bleach work that follows never falls on a day with the other."""
    taken = {(day, job.chemistry) for day, jobs in days.items() for job in jobs}
    found: dict[str, Afterwards] = {}
    for follow in (one for job in row for one in job.follow_ups if one.days <= FOLLOWED_DAYS):
        day = on + timedelta(days=follow.days)
        while (day, OPPOSED.get(CHEMISTRY.get(follow.task, "none"))) in taken:
            day += _DAY
        key = follow.task or follow.text
        if key not in found or day < found[key].on:
            found[key] = Afterwards(on=day, text=follow.text, task=follow.task)
    return tuple(sorted(found.values(), key=lambda one: one.on))
