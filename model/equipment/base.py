"""What every stage of the train has in common: its description, its jobs, its consumables."""

from __future__ import annotations

from datetime import date
from typing import Literal

import msgspec

from model.equipment.wear import Unlike

Driver = Literal["volume", "regenerations", "hours", "calendar", "condition"]
Sure = Literal["measured", "forecast", "guess"]


class Stage(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind"):
    """One piece of equipment as it stands in the house.

    `id` is the kind, with _2, _3 for a second or third. `supplies` names, for each part the stage's jobs use
    ("salt", "lamp"), the supply on the shelf that serves it.
    """

    id: str
    title: str = ""
    installed_on: date | None = None
    supplies: dict[str, str] = msgspec.field(default_factory=dict)

    def __post_init__(self) -> None:
        if self.installed_on is not None and not 1900 <= self.installed_on.year <= 2200:
            raise ValueError(f"installed_on: {self.installed_on} is no day on which it can have been put in")


class Job(msgspec.Struct, frozen=True, kw_only=True):
    """One job of one kind of stage. Its checklist is the data file of the same name.

    `months` or `days`: calendar interval, or calendar cap where a consumable drives the job. `season`: the month
    (1-12) in which a yearly look belongs. `health`: protects health, so readings may only bring it forward, and it gets
    the careful risk limit; `careful`: gets that limit alone.
    `on_event`: no date of its own; done when something happens. `parts`: part role -> quantity in the supply's unit.
    `basis`: where the interval comes from.
    `life_years`: of a slow part that the job replaces, the ages by which 10 and 90 % of such parts are done [year],
    and `life_basis` where these come from.
    """

    id: str
    title: str
    months: int = 0
    days: int = 0
    season: int = 0
    health: bool = False
    careful: bool = False
    on_event: bool = False
    parts: dict[str, float] = msgspec.field(default_factory=dict)
    basis: str = "common practice, no source"
    life_years: tuple[float, float] | None = None
    life_basis: str = "from memory; owner's default"


class Draw(msgspec.Struct, frozen=True, kw_only=True):
    """How a stock goes from a day on, as in `Stock`."""

    on: date
    per_litre: float = 0.0
    per_day: float = 0.0
    least_l_per_day: float = 0.0


class Probe(msgspec.Struct, frozen=True, kw_only=True):
    """A reading that would tell more: what to do, and how well it would see what is left [the stock's unit]."""

    do: str
    seen_sd: float


class Stock(msgspec.Struct, frozen=True, kw_only=True):
    """What is left of a consumable and how fast it goes.

    `left` is the amount above the threshold on the day `since`, with standard deviation `left_sd`, both in `unit`;
    it goes by `per_litre` of house water, each day counted as at least `least_l_per_day` [L/day], and by `per_day`.
    `spread` is the standard deviation of the draw in natural logs, without the water use. `full` is the amount above
    the threshold after the job is done. `refills` says, for a stock that is topped up, how much of each part (in the
    supply's unit) it takes from the threshold to full; it is empty where a part is replaced whole.

    `covariance`: of the level error with that of the draw [unit]. `step`: how much goes at once. `water_known`: how
    much of the error of the water's level is left by the stock's own readings, 0-1. `later`: changes of the draw
    already written down, soonest first. `shown_left`: what to show as left today where that is not in `unit`.
    `finding`: evidence that does not agree, in words, `unlike`: in numbers. `probes`: readings that would narrow the
    window. `as_if_read`: as if the meter had been read today. `short_on`: the days on which a refill found too little
    for the draws before it. `under_since`: since when the level is under the threshold, where it was so on `since`.
    """

    job: str
    driver: Driver
    unit: str
    since: date
    left: float
    left_sd: float
    full: float
    per_litre: float = 0.0
    per_day: float = 0.0
    least_l_per_day: float = 0.0
    spread: float = 0.1
    refills: dict[str, float] = msgspec.field(default_factory=dict)
    sure: Sure = "forecast"
    why: tuple[str, ...] = ()
    covariance: float = 0.0
    step: float = 0.0
    water_known: float = 1.0
    later: tuple[Draw, ...] = ()
    shown_left: float | None = None
    finding: str = ""
    unlike: Unlike | None = None
    probes: tuple[Probe, ...] = ()
    as_if_read: bool = False
    short_on: tuple[date, ...] = ()
    under_since: date | None = None


def with_interval(jobs: tuple[Job, ...], job: str, *, months: int) -> tuple[Job, ...]:
    """The jobs with another calendar interval for one of them [months]."""
    return tuple(msgspec.structs.replace(one, months=months) if one.id == job else one for one in jobs)


def with_parts(jobs: tuple[Job, ...], job: str, **parts: float) -> tuple[Job, ...]:
    """The jobs with other quantities of parts for one of them, in the supplies' units."""
    return tuple(msgspec.structs.replace(one, parts=one.parts | parts) if one.id == job else one for one in jobs)


def without(jobs: tuple[Job, ...], *left_out: str) -> tuple[Job, ...]:
    """The jobs less those named."""
    return tuple(one for one in jobs if one.id not in left_out)
