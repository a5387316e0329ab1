"""The measures of the proof, and the command that tries other homes.

`python -m tests.benchmarks forecast [--homes DIR] [--json] [--quick]`: the whole table. DIR holds one CSV file for each
home, header `day,litres,peak_l_per_s,people,type`, one row a day, at least 365 days. `--quick`: one seed, and the first
four homes.
"""

from __future__ import annotations

import json
import sys
from argparse import ArgumentParser
from collections.abc import Sequence
from functools import cache
from pathlib import Path

from tests.benchmarks.forecast.every import SEEDS, SLOW_SEEDS, of_folder, run
from tests.benchmarks.forecast.homefile import HOMES, Misfit, read_homes
from tests.benchmarks.forecast.run import RULES
from tests.benchmarks.forecast.scores import windows_hold
from tests.benchmarks.forecast.table import FEWER_THAN_FIXED, Summary, as_json, lines
from tests.benchmarks.measure import Measure

QUICK_HOMES = 4


def salt_run_outs() -> Measure:
    """Run-outs of salt per refill of a monthly reminder over those of the plan, at no more refills."""
    told = _own()
    against = f"a reminder each 30 days, run-outs per refill; ours {told.total('wellward').run_outs}"
    value = told.times_fewer(RULES[0])
    holds = value >= FEWER_THAN_FIXED and told.no_more_refills(RULES[0])
    return Measure("salt_run_outs", value, FEWER_THAN_FIXED, against, at_least=True, judged=holds)


def windows() -> Measure:
    """Share of the true dates inside the 80 % windows."""
    found = _own().windows
    against = "share of true dates in the 80 % windows; 0.75 to 0.85, no class of 100 under 0.65"
    return Measure("windows", found[0].share, 0.8, against, at_least=True, unit="share", judged=windows_hold(found))


@cache
def _own() -> Summary:
    return Summary(of_folder())


def forecast(arguments: Sequence[str]) -> None:
    """Print the table of the homes of a folder."""
    parser = ArgumentParser(prog="python -m tests.benchmarks forecast", description="Forecasts against simulated homes")
    parser.add_argument("--homes", type=Path, default=HOMES, metavar="DIR", help="CSV files of daily use")
    parser.add_argument("--json", action="store_true")
    parser.add_argument("--quick", action="store_true", help="one seed, the first four homes")
    asked = parser.parse_args(arguments)
    try:
        homes = read_homes(asked.homes)
    except Misfit as problem:
        sys.exit(f"forecast: {problem}")
    told = Summary(run(homes[:QUICK_HOMES], 1, 1) if asked.quick else run(homes, SEEDS, SLOW_SEEDS))
    print(json.dumps(as_json(told)) if asked.json else "\n".join(lines(told)))
