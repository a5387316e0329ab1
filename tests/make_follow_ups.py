"""Writes model/upkeep/later_table.py from the checklists. Run: python -m tests.make_follow_ups

The plan needs the follow-ups of every job at once, and reading all the TOML files would double its time.
"""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from model.upkeep.checklist import all_checklist_ids, load_checklist

TARGET = Path(__file__).parent.parent / "model" / "upkeep" / "later_table.py"
HEAD = '''# ruff: noqa: E501
"""What the jobs bring with them later, by "kind.job". Written by `python -m tests.make_follow_ups`."""

from __future__ import annotations

from typing import NamedTuple


class Later(NamedTuple):
    """A job wanted `days` after the work; it counts from `counts_from` days after it. `task` is "kind.job"."""

    days: int
    counts_from: int
    task: str
    text: str


'''


def rows() -> dict[str, tuple[tuple[int, int, str, str], ...]]:
    """The follow-ups that hang on nothing, of every checklist that has one."""
    found = {}
    for kind, job in all_checklist_ids():
        every = load_checklist(kind, job).follow_ups
        kept = tuple(
            (one.days, one.counts_after_days, one.task, one.text) for one in every if one.task and not one.only_if
        )
        if kept:
            found[f"{kind}.{job}"] = kept
    return found


def main() -> None:
    """Write the table, formatted as the rest."""
    lines = [f"    {task!r}: ({' '.join(f'Later{row!r},' for row in every)})," for task, every in rows().items()]
    table = "\n".join(["LATER: dict[str, tuple[Later, ...]] = {", *lines, "}"])
    TARGET.write_text(f'{HEAD}{table}\n"""Task -> its follow-ups that hang on nothing."""\n', encoding="utf-8")
    subprocess.run([sys.executable, "-m", "ruff", "format", str(TARGET)], check=True)


if __name__ == "__main__":
    main()
