"""From a laboratory's or a water meter's CSV file to the events it adds to a home: all of it, or nothing."""

from __future__ import annotations

from datetime import date

import msgspec

from model.forecast.present import present
from model.home import Home, House
from model.records.csv_text import Refused
from model.records.events import AnyEvent, Reading
from model.records.history import History
from model.records.imported import missing_from, odd_results, reports_of
from model.records.lab_csv import LeftOut, read_lab_csv
from model.records.meter_csv import meter_column, read_meter_csv


class FromFile(msgspec.Struct, frozen=True):
    """What a file comes to: the events still missing, what they hold, what was left aside, and what is odd."""

    events: tuple[AnyEvent, ...] = ()
    taken: int = 0
    already: int = 0
    left_out: tuple[LeftOut, ...] = ()
    odd: tuple[tuple[int, str], ...] = ()
    problems: tuple[Refused, ...] = ()


def from_file(data: bytes, name: str, home: Home, today: date) -> FromFile:
    """What a file, of that name, adds to the home; where anything is wrong, the problems and no events."""
    house, column, note = present(home, today), meter_column(data), f"from {name}"
    history = History(home.events, today)
    return _meter(data, column, house, history, note) if column else _laboratory(data, home, house, history, note)


def _laboratory(data: bytes, home: Home, house: House, history: History, note: str) -> FromFile:
    read = read_lab_csv(data, house, history.today)
    if read.problems:
        return FromFile(problems=read.problems)
    missing = missing_from(home.events, read.results)
    return FromFile(
        events=reports_of(missing.results, printable(note)),
        taken=len(missing.results),
        already=missing.already,
        left_out=read.left_out,
        odd=tuple(odd_results(house, history, missing.results)),
    )


def _meter(data: bytes, column: str, house: House, history: History, note: str) -> FromFile:
    read = read_meter_csv(data, column, house, history)
    both = (*read.readings, *read.nights)
    events = tuple(Reading(on=on, taken=taken, note=printable(note)) for on, taken in both)
    return FromFile(events=events, taken=len(events), already=read.already, problems=read.problems)


def printable(note: str) -> str:
    """A file's name as it can be kept: without half characters and control signs."""
    return "".join(letter if letter.isprintable() else "?" for letter in note)[:120]
