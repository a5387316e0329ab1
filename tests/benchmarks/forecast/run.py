"""Lives through a home: the household renews by its own habit while forecasts are written down, or renews when told."""

from __future__ import annotations

from datetime import date
from math import inf
from random import Random
from typing import Literal, NamedTuple

from model.forecast.due import due_items
from model.forecast.situation import Situation
from model.plan_types import Due
from tests.benchmarks.forecast.keeping import Keeper
from tests.benchmarks.forecast.log import TASKS
from tests.benchmarks.forecast.notes import Habit
from tests.benchmarks.forecast.rules import MARGIN, Rule, Took, fixed, last_three
from tests.benchmarks.forecast.world import SaltWorld, SlowWorld, Thing

World = SaltWorld | SlowWorld
Stage = Literal["early", "settled"]
SETTLED_DAYS = 75
AHEAD_DAYS = (14, 45)
LATE_MOST = 0.3
"""A household that renews by habit does so on the very day in half the cases, else with up to this share left."""
RULES = ("fixed", "sized", "last three", "last three, fifth in hand")


class Score(NamedTuple):
    """One forecast against the truth, in days from the day it was made. `grid`: made on a day set beforehand, not one
    chosen by the true date. `low`, `middle`, `high` are None where there was no window; `rules` by the first three."""

    item: str
    habit: Habit
    kind: str
    stage: Stage
    grid: bool
    true: int
    low: float | None
    middle: float | None
    high: float | None
    rules: tuple[int, ...]


class Outcome(NamedTuple):
    """What came of a way to renew one stock."""

    item: str
    habit: Habit | None
    policy: str
    renewals: int
    run_outs: int
    days: int


def rules_of(thing: Thing) -> dict[str, Rule]:
    """The rules without a forecast, by name. A part replaced whole does not tell how much of it was left, so there is
    nothing to keep a fifth of."""
    found = {
        RULES[0]: fixed(thing.fixed_days),
        RULES[1]: fixed(thing.sized_days),
        RULES[2]: last_three(thing.sized_days),
    }
    return found | ({RULES[3]: last_three(thing.sized_days, MARGIN)} if thing.step else {})


def by_rule(world: World, thing: Thing, policy: str) -> Outcome:
    """Renew by a rule; while away, on coming back."""
    rule, past, run_outs = rules_of(thing)[policy], list[Took](), 0
    due = rule(past)
    for day in range(1, world.days):
        if day >= due and not world.house.away(day):
            run_outs += _failed(thing, day)
            lasted = day - thing.stock.since
            past.append(Took(lasted, thing.share(thing.stock.renew(day))))
            due = day + rule(past)
    return Outcome(thing.name, None, policy, thing.stock.count, run_outs + _failed(thing, world.days), world.days)


def _failed(thing: Thing, day: int) -> bool:
    """Whether the stock was missed before it was renewed on this day."""
    fails = thing.stock.fails_on
    return fails is not None and fails <= day


def by_plan(world: World, keeper: Keeper, habit: Habit, every_days: int) -> list[Outcome]:
    """Renew on the first day on which the plan says so. It is asked when something was recorded, each few days, and
    when a day it gave has come."""
    run_outs = dict.fromkeys(world.things, 0)
    asked, size, acts = -every_days, -1, dict[str, date]()
    for day in range(world.days):
        keeper.morning(day)
        today = world.house.on(day)
        if keeper.log.size != size or day - asked >= every_days or today in acts.values():
            asked, size = day, keeper.log.size
            acts = {name: one.act_on for name, one in ask(keeper, today).items()}
        for name in [] if day == 0 or world.house.away(day) else [one for one, on in acts.items() if on <= today]:
            run_outs[name] += _failed(world.things[name], day)
            _renew(world.things[name], keeper, day)
            del acts[name]
    return [
        Outcome(name, habit, "wellward", one.stock.count, run_outs[name] + _failed(one, world.days), world.days)
        for name, one in world.things.items()
    ]


def ask(keeper: Keeper, today: date) -> dict[str, Due]:
    """What the program says of each stock."""
    found = {one.task: one for one in due_items(Situation(keeper.log.home, today))}
    return {name: found[task] for name, task in TASKS.items() if task in found}


def _renew(thing: Thing, keeper: Keeper, day: int) -> float:
    left = thing.stock.left(day)
    added = thing.stock.renew(day)
    keeper.renewed(day, thing.name, left, added)
    return added


def by_habit(world: World, keeper: Keeper, habit: Habit, seed: int, every_days: int) -> list[Score]:
    """Forecasts each so many days, and when the true date is 14 or 45 days ahead, while the household renews by its
    own habit, whatever the plan says."""
    rng = Random(f"habit {world.house.name} {seed} {habit}")
    renew_at = {name: _level(one, rng) for name, one in world.things.items()}
    past: dict[str, list[Took]] = {name: [] for name in world.things}
    found: list[Score] = []
    for day in range(world.days):
        keeper.morning(day)
        for name, thing in world.things.items():
            if day > 0 and thing.stock.left(day) <= renew_at[name] and not world.house.away(day):
                since = thing.stock.since
                past[name].append(Took(day - since, thing.share(_renew(thing, keeper, day))))
                renew_at[name] = _level(thing, rng)
        found += _scores(world, keeper, habit, day, day % every_days == every_days // 2, past)
    return found


def _level(thing: Thing, rng: Random) -> float:
    """What is left in the stock when the household renews it this time."""
    early = rng.uniform(0.0, LATE_MOST) if rng.random() < 0.5 else 0.0
    return thing.stock.line + early * (thing.stock.held - thing.stock.line)


def _scores(
    world: World, keeper: Keeper, habit: Habit, day: int, grid: bool, past: dict[str, list[Took]]
) -> list[Score]:
    ahead = {name: out - day for name, one in world.things.items() if (out := one.stock.out_on) is not None}
    names = [name for name, days in ahead.items() if grid or days in AHEAD_DAYS]
    if not names:
        return []
    today, said = world.house.on(day), ask(keeper, world.house.on(day))
    found = []
    for name in names:
        thing, one = world.things[name], said.get(name)
        waits = [rule(past[name]) for rule in list(rules_of(thing).values())[:3]]
        found.append(
            Score(
                name,
                habit,
                world.house.kind,
                "early" if day < SETTLED_DAYS else "settled",
                grid,
                ahead[name],
                *_window(one, today),
                tuple(thing.stock.since + wait - day for wait in waits),
            )
        )
    return found


def _window(one: Due | None, today: date) -> tuple[float | None, float | None, float | None]:
    """The three dates in days from today; a later one beyond any date is infinite; None without a window."""
    if one is None or one.earliest is None:
        return None, None, None
    return (
        (one.earliest - today).days,
        inf if one.middle is None else (one.middle - today).days,
        inf if one.latest is None else (one.latest - today).days,
    )
