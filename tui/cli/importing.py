"""The command that takes in a laboratory's or a water meter's CSV file: all of it, or nothing."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

import msgspec

from model.errors import BadInput
from model.forecast.present import present
from model.records.csv_text import MOST_BYTES, Refused
from model.records.events import AnyEvent, Reading
from model.records.history import History
from model.records.imported import missing_from, odd_results, reports_of
from model.records.lab_csv import LeftOut, read_lab_csv
from model.records.log import describe
from model.records.meter_csv import meter_column, read_meter_csv
from model.records.names import Names, names_of
from model.units import echo
from tui.cli.home_file import by_command, print_json, repository, warn

if TYPE_CHECKING:
    from model.home import Home, House
    from tui.cli.parser import Asked

_MOST_LINES = 20
"""Notes, and readings of a meter, that are written out; what is more is counted."""


class _Found(msgspec.Struct, frozen=True):
    """What a file comes to: the events still missing, what they hold, what was left aside, and what is odd."""

    events: tuple[AnyEvent, ...] = ()
    taken: int = 0
    already: int = 0
    left_out: tuple[LeftOut, ...] = ()
    odd: tuple[tuple[int, str], ...] = ()
    problems: tuple[Refused, ...] = ()


def import_file(asked: Asked) -> int:
    """Take in a file; 1, with every problem on a line of its own, where it is refused."""
    store = repository(asked)
    home, data = store.load(), _bytes(asked.source)
    house, column, note = present(home, asked.today), meter_column(data), f"from {asked.source.name}"
    history = History(home.events, asked.today)
    found = _meter(data, column, house, history, note) if column else _laboratory(data, home, house, history, note)
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


def _bytes(path: Path) -> bytes:
    """The file, and a little more than may be, so that a larger one is seen to be too large."""
    try:
        with path.open("rb") as file:
            return file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        why = (error.strerror if isinstance(error, OSError) else None) or str(error)
        raise BadInput(f"{echo(str(path))} cannot be read: {why}.", "Name a CSV file.") from error


def _laboratory(data: bytes, home: Home, house: House, history: History, note: str) -> _Found:
    read = read_lab_csv(data, house, history.today)
    if read.problems:
        return _Found(problems=read.problems)
    missing = missing_from(home.events, read.results)
    return _Found(
        events=reports_of(missing.results, _printable(note)),
        taken=len(missing.results),
        already=missing.already,
        left_out=read.left_out,
        odd=tuple(odd_results(house, history, missing.results)),
    )


def _meter(data: bytes, column: str, house: House, history: History, note: str) -> _Found:
    read = read_meter_csv(data, column, house, history)
    both = (*read.readings, *read.nights)
    events = tuple(Reading(on=on, taken=taken, note=_printable(note)) for on, taken in both)
    return _Found(events=events, taken=len(events), already=read.already, problems=read.problems)


def _printable(note: str) -> str:
    """A file's name as it can be kept: without half characters and control signs."""
    return "".join(letter if letter.isprintable() else "?" for letter in note)[:120]


def _warn_of(odd: Iterable[tuple[int, str]]) -> None:
    lines = [f"line {line}: {text}" for line, text in sorted(odd)]
    for line in lines[:_MOST_LINES]:
        warn(line)
    if len(lines) > _MOST_LINES:
        warn(f"{len(lines) - _MOST_LINES} more results are unlike the usual.")


def _document(path: Path, recorded: Iterable[AnyEvent], found: _Found) -> dict[str, object]:
    return {
        "file": _printable(path.name),
        "events": [msgspec.to_builtins(event) for event in recorded],
        "taken": found.taken,
        "already": found.already,
        "left_out": msgspec.to_builtins(found.left_out),
        "notes": [{"line": line, "text": text} for line, text in sorted(found.odd)],
    }


def _lines(recorded: tuple[AnyEvent, ...], found: _Found, names: Names) -> list[str]:
    shown = recorded[:_MOST_LINES]
    lines = [f"Recorded as {event.id}: {event.on} {': '.join(describe(event, names))}" for event in shown]
    if len(recorded) > _MOST_LINES:
        lines.append(f"... and {len(recorded) - _MOST_LINES} more, up to {recorded[-1].id}.")
    lines += [f"Left out, line {one.line}: {echo(one.analyte)} is not kept." for one in found.left_out]
    already = f" {found.already} recorded already or there twice." if found.already else ""
    return [*lines, f"{found.taken} taken in, {len(found.left_out)} left out.{already}"]
