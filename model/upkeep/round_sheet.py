"""The monthly round on one page of paper: blanks to fill in, in walking order."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date

from model.upkeep.monthly_round import RoundRow, RoundStop

WIDE, HIGH = 80, 60
"""A page of a line printer [columns, lines]."""
_LABEL, _BLANK, _UNIT = 26, 10, 13
_NEAR_DAYS = 300


def sheet(home: str, today: date, stops: Sequence[RoundStop]) -> list[str]:
    """The page, at most 80 columns wide. Where all would not fit on 60 lines, the whys go first, then what to have in
    hand; no value is ever left out.

    Args:
        home: the home's name.
        today: the day it is printed.
        stops: the walk, as `round_stops` gives it.
    """
    pages = (_page(home, today, stops, told) for told in (2, 1, 0))
    tried = next(pages)
    for page in pages:
        if len(tried) <= HIGH:
            break
        tried = page
    return tried


def _page(home: str, today: date, stops: Sequence[RoundStop], told: int) -> list[str]:
    lines = [
        _cut(f"Monthly round, {home}"),
        f"printed {today}    read on ___________    by __________    (right: the last)",
        "",
    ]
    for stop in stops:
        lines.append(_cut(f"{stop.title}: {stop.takes}" if told else stop.title))
        if told > 1:
            lines.append(_cut(f"  ({stop.why})"))
        lines += [_line(row, today) for row in stop.rows]
    return [*lines, *_END]


def _line(row: RoundRow, today: date) -> str:
    last = f"{row.last}, {_day(row.last_on, today)}" if row.last_on else ""
    return _cut(f"  {row.label:<{_LABEL}.{_LABEL}} {'_' * _BLANK} {row.unit_words:<{_UNIT}.{_UNIT}} {last}")


def _day(day: date, today: date) -> str:
    return f"{day.day} {day:%b}" if (today - day).days < _NEAR_DAYS else f"{day:%b %Y}"


def _cut(line: str) -> str:
    return (line if len(line) <= WIDE else f"{line[: WIDE - 3]}...").rstrip()


_END = (
    "Handles: all in service [ ]   moved: __________________________________________",
    "Kits (lot, good until): _______________________________________________________",
    "Guests, weather, manure, power cut: ___________________________________________",
)


def rows_of(stops: Sequence[RoundStop]) -> Iterator[RoundRow]:
    """Every row of a walk, in order."""
    for stop in stops:
        yield from stop.rows
