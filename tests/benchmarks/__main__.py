"""Prints the table of measures, or one JSON list of them; or answers cases that others bring in files.

python -m tests.benchmarks [NAME ...] [--json]
python -m tests.benchmarks doses FILE [--json]      pH of dosed waters, see tests/benchmarks/doses.py
python -m tests.benchmarks columns FILE [--json]    nitrate columns, see tests/benchmarks/columns.py
python -m tests.benchmarks forecast [--homes DIR] [--json] [--quick]    due dates, see tests/benchmarks/forecast
python -m tests.benchmarks kills [N]    programs killed while they save (2,000), see tests/benchmarks/kills.py
python -m tests.benchmarks mangled [N [SEED]]    spoilt files (100,000), see tests/benchmarks/mangled.py
python -m tests.benchmarks printed [FOLDER]    sheets of paper, see tests/benchmarks/printed.py
"""

from __future__ import annotations

import argparse
import json
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from model.errors import BadInput
from tests.benchmarks import columns, doses, valve
from tests.benchmarks.commands import due_command
from tests.benchmarks.durable import record_50000
from tests.benchmarks.forecast import command
from tests.benchmarks.kills import kills
from tests.benchmarks.mangled import mangled
from tests.benchmarks.measure import Measure
from tests.benchmarks.planning import plan_5000, plan_growth
from tests.benchmarks.printed import printed
from tests.benchmarks.recording import record_key
from tests.benchmarks.screens import first_screen, memory
from tests.benchmarks.switching import log_20000, switch_again, switch_first

MEASURES: dict[str, Callable[[], Measure]] = {
    "first_screen": first_screen,
    "due_command": due_command,
    "plan_5000": plan_5000,
    "plan_growth": plan_growth,
    "record_key": record_key,
    "record_50000": record_50000,
    "memory": memory,
    "switch_first": switch_first,
    "switch_again": switch_again,
    "log_20000": log_20000,
    "ph_dose": doses.ph_dose,
    "nitrate_column": columns.nitrate_column,
    "valve_move": valve.valve_move,
    "salt_run_outs": command.salt_run_outs,
    "windows": command.windows,
}
ANSWERS: dict[str, Callable[[Path], Sequence[object]]] = {"doses": doses.answers, "columns": columns.answers}

WITH_WORDS: dict[str, Callable[[list[str]], None]] = {
    "forecast": command.forecast,
    "kills": kills,
    "mangled": mangled,
    "printed": printed,
}


def main() -> None:
    """Run the measures named, or all; or answer a file; or try forecasts on a folder of homes."""
    if sys.argv[1:2] and sys.argv[1] in WITH_WORDS:
        WITH_WORDS[sys.argv[1]](sys.argv[2:])
        return
    parser = argparse.ArgumentParser(
        prog="python -m tests.benchmarks", description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("names", nargs="*", metavar="NAME", help=", ".join(MEASURES))
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args()
    if asked.names and asked.names[0] in ANSWERS:
        _answer(parser, asked.names, as_json=asked.json)
        return
    unknown = [name for name in asked.names if name not in MEASURES]
    if unknown:
        parser.error(f"no measure {unknown[0]!r}; there are {', '.join(MEASURES)}")
    # An installed program has its bytecode; without this, each run would compile anew what is not installed.
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    _show([MEASURES[name]() for name in asked.names or MEASURES], as_json=asked.json)


def _show(found: list[Measure], *, as_json: bool) -> None:
    if as_json:
        print(json.dumps([one.as_json() for one in found]))
        return
    print(f"{'measure':<16}{'value':>10}{'aim':>10}  holds")
    for one in found:
        sign = "x" if one.unit == "x" else " "
        aim = f"{'>=' if one.at_least else '<='}{one.aim:g}{sign}"
        print(f"{one.name:<16}{one.value:>9.2f}{sign}{aim:>10}  {'yes' if one.holds else 'NO'}   {one.against}")


def _answer(parser: argparse.ArgumentParser, names: list[str], *, as_json: bool) -> None:
    if len(names) != 2:
        parser.error(f"{names[0]} takes one file")
    try:
        answers = ANSWERS[names[0]](Path(names[1]))
    except BadInput as problem:
        sys.exit(f"{names[0]}: {problem}")
    print(json.dumps(answers, indent=None if as_json else 1))


if __name__ == "__main__":
    main()
