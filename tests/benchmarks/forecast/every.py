"""Every home, habit and seed: the work shared out over processes, and what came of it."""

from __future__ import annotations

import os
from collections.abc import Callable
from functools import cache
from multiprocessing import get_context
from pathlib import Path
from typing import NamedTuple

from tests.benchmarks.forecast.homefile import HOMES, HomeFile, read_homes
from tests.benchmarks.forecast.keeping import SaltKeeper, SlowKeeper
from tests.benchmarks.forecast.notes import HABITS, Habit
from tests.benchmarks.forecast.run import RULES, Outcome, Score, by_habit, by_plan, by_rule, rules_of
from tests.benchmarks.forecast.world import median_kg_per_day, salt_world, slow_world

SEEDS, SLOW_SEEDS = 5, 2
SALT_SCORED_EVERY, SLOW_SCORED_EVERY = 16, 21
SALT_ASKED_EVERY, SLOW_ASKED_EVERY = 4, 14
WORKERS = 2


class Found(NamedTuple):
    """All forecasts and all outcomes."""

    homes: int
    seeds: int
    scores: list[Score]
    outcomes: list[Outcome]


class Task(NamedTuple):
    """One home of one seed with one habit: its softener (`median_kg`: salt of the median home [kg/day]) or its slow
    parts."""

    home: HomeFile
    seed: int
    habit: Habit
    median_kg: float | None


Part = tuple[list[Score], list[Outcome]]


def live(task: Task) -> Part:
    """Both runs of one task; the rules, which know no habit, with the first habit only."""
    home, seed, habit, median_kg = task
    ruled: list[Outcome] = []
    if median_kg is not None:
        made = salt_world(home, seed, median_kg)
        scores = by_habit(made, SaltKeeper(made, habit, seed), habit, seed, SALT_SCORED_EVERY)
        made = salt_world(home, seed, median_kg)
        told = by_plan(made, SaltKeeper(made, habit, seed), habit, SALT_ASKED_EVERY)
    else:
        slow = slow_world(home, seed)
        scores = by_habit(slow, SlowKeeper(slow, habit, seed), habit, seed, SLOW_SCORED_EVERY)
        slow = slow_world(home, seed)
        told = by_plan(slow, SlowKeeper(slow, habit, seed), habit, SLOW_ASKED_EVERY)
    if habit == HABITS[0]:
        ruled = _ruled(task)
    return scores, told + ruled


def _ruled(task: Task) -> list[Outcome]:
    found = []
    for policy in RULES:
        world = (
            slow_world(task.home, task.seed)
            if task.median_kg is None
            else salt_world(task.home, task.seed, task.median_kg)
        )
        found += [by_rule(world, thing, policy) for thing in world.things.values() if policy in rules_of(thing)]
    return found


def tasks(homes: list[HomeFile], seeds: int, slow_seeds: int) -> list[Task]:
    """The slow parts first: they take longest."""
    tanks = {seed: median_kg_per_day(homes, seed) for seed in range(1, seeds + 1)}
    salt = [Task(home, seed, habit, tanks[seed]) for seed in tanks for home in homes for habit in HABITS]
    slow = [Task(home, seed, habit, None) for seed in range(1, slow_seeds + 1) for home in homes for habit in HABITS]
    return slow + salt


def run(homes: list[HomeFile], seeds: int = SEEDS, slow_seeds: int = SLOW_SEEDS, workers: int = WORKERS) -> Found:
    """Everything."""
    work = tasks(homes, seeds, slow_seeds)
    parts = _shared(live, work, workers) if workers > 1 else [live(task) for task in work]
    scores = [one for part in parts for one in part[0]]
    return Found(len(homes), seeds, scores, [one for part in parts for one in part[1]])


def _shared(work: Callable[[Task], Part], over: list[Task], workers: int) -> list[Part]:
    with get_context("spawn").Pool(min(workers, os.cpu_count() or 1)) as pool:
        return pool.map(work, over, chunksize=1)


@cache
def of_folder(folder: Path = HOMES, seeds: int = SEEDS, slow_seeds: int = SLOW_SEEDS) -> Found:
    """Everything for the homes of a folder, worked out once. Raises Misfit."""
    return run(read_homes(folder), seeds, slow_seeds)
