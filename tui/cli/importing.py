"""The command that takes in a laboratory's or a meter's CSV file, or a copy of the home: all of it, or nothing."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

import msgspec

from model.forecast.from_file import FromFile, from_file, printable
from model.records.log import describe
from model.records.names import Names, names_of
from model.store.files import true_path
from model.store.repository import Repository
from model.store.rescue import forget
from model.units import echo
from tui.cli.home_file import by_command, print_json, repository, warn
from tui.files import is_copy, read_bounded

if TYPE_CHECKING:
    from model.home import Home
    from model.records.events import AnyEvent
    from tui.cli.parser import Asked

_MOST_LINES = 20
"""Notes, and readings of a meter, that are written out; what is more is counted."""


def import_file(asked: Asked) -> int:
    """Take in a file; 1, with every problem on a line of its own, where it is refused."""
    store = repository(asked)
    home, data = store.load(), read_bounded(asked.source)
    if is_copy(data):
        return _take_in_copy(asked, store, home)
    found = from_file(data, asked.source.name, home, asked.today)
    if found.problems:
        for problem in found.problems:
            print(f"wellward: {echo(asked.source.name)}: {problem}", file=sys.stderr)
        return 1
    _warn_of(found.odd)
    events = [by_command(event) for event in found.events]
    after = store.append(*events) if events else home
    recorded = after.events[-len(events) :] if events else ()
    if asked.json:
        print_json(_document(asked.source, recorded, found))
    else:
        print("\n".join(_lines(recorded, found, names_of(after))))
    return 0


def _take_in_copy(asked: Asked, store: Repository, before: Home) -> int:
    """Take in what a copy of this home holds and its file does not."""
    after = store.take_in(Repository(asked.source).load())
    forget(true_path(asked.source))
    there = {one.id for one in before.events}
    recorded = tuple(one for one in after.events if one.id not in there)
    if asked.json:
        print_json({"file": printable(asked.source.name), "events": [msgspec.to_builtins(one) for one in recorded]})
    else:
        print("\n".join((*_recorded(recorded, names_of(after)), f"{len(recorded)} taken in from the copy.")))
    return 0


def _warn_of(odd: Iterable[tuple[int, str]]) -> None:
    lines = [f"line {line}: {text}" for line, text in sorted(odd)]
    for line in lines[:_MOST_LINES]:
        warn(line)
    if len(lines) > _MOST_LINES:
        warn(f"{len(lines) - _MOST_LINES} more results are unlike the usual.")


def _document(path: Path, recorded: Iterable[AnyEvent], found: FromFile) -> dict[str, object]:
    return {
        "file": printable(path.name),
        "events": [msgspec.to_builtins(event) for event in recorded],
        "taken": found.taken,
        "already": found.already,
        "left_out": msgspec.to_builtins(found.left_out),
        "notes": [{"line": line, "text": text} for line, text in sorted(found.odd)],
    }


def _recorded(recorded: tuple[AnyEvent, ...], names: Names) -> list[str]:
    shown = recorded[:_MOST_LINES]
    lines = [f"Recorded as {event.id}: {event.on} {': '.join(describe(event, names))}" for event in shown]
    if len(recorded) > _MOST_LINES:
        lines.append(f"... and {len(recorded) - _MOST_LINES} more, up to {recorded[-1].id}.")
    return lines


def _lines(recorded: tuple[AnyEvent, ...], found: FromFile, names: Names) -> list[str]:
    lines = _recorded(recorded, names)
    lines += [f"Left out, line {one.line}: {echo(one.analyte)} is not kept." for one in found.left_out]
    already = f" {found.already} recorded already or there twice." if found.already else ""
    return [*lines, f"{found.taken} taken in, {len(found.left_out)} left out.{already}"]
