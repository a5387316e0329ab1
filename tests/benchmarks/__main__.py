"""Prints the table of measures, or one JSON list of them."""

from __future__ import annotations

import argparse
import json
import os
from collections.abc import Callable

from tests.benchmarks.commands import due_command
from tests.benchmarks.measure import Measure
from tests.benchmarks.planning import plan_5000
from tests.benchmarks.screens import first_screen, memory

MEASURES: dict[str, Callable[[], Measure]] = {
    "first_screen": first_screen,
    "due_command": due_command,
    "plan_5000": plan_5000,
    "memory": memory,
}


def main() -> None:
    """Run the measures named, or all."""
    parser = argparse.ArgumentParser(prog="python -m tests.benchmarks", description=__doc__)
    parser.add_argument("names", nargs="*", choices=[*MEASURES, []], metavar="NAME", help=", ".join(MEASURES))
    parser.add_argument("--json", action="store_true")
    asked = parser.parse_args()
    # An installed program has its bytecode; without this, each run would compile anew what is not installed.
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    found = [MEASURES[name]() for name in asked.names or MEASURES]
    if asked.json:
        print(json.dumps([one.as_json() for one in found]))
        return
    print(f"{'measure':<16}{'value':>8}{'aim':>8}  holds")
    for one in found:
        print(f"{one.name:<16}{one.value:>7.2f}x{one.aim:>7.2f}x  {'yes' if one.holds else 'NO'}   {one.against}")


if __name__ == "__main__":
    main()
