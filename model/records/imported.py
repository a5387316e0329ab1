"""From the results of a file to the events that are still missing from the log."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from datetime import date

import msgspec

from model.home import House
from model.records.doubts import doubts
from model.records.events import AnyEvent, LabReport, Taken
from model.records.history import History, voided
from model.records.lab_csv import Result
from model.records.quantities import QUANTITIES

Key = tuple[date, str, str, str, str, str]


class Missing(msgspec.Struct, frozen=True):
    """The results that are not in the log yet, and how many are, or stand in the file twice."""

    results: tuple[Result, ...]
    already: int


def missing_from(events: Sequence[AnyEvent], results: Iterable[Result]) -> Missing:
    """The results that no standing laboratory report holds. Taking in the same file again gives none."""
    gone = voided(events)
    reports = (one for one in events if isinstance(one, LabReport) and one.id not in gone)
    seen = {_key(report.on, taken) for report in reports for taken in report.taken}
    new: list[Result] = []
    already = 0
    for result in results:
        key = _key(result.on, result.taken)
        if key in seen:
            already += 1
        else:
            seen.add(key)
            new.append(result)
    return Missing(tuple(new), already)


def reports_of(results: Iterable[Result], note: str = "") -> tuple[LabReport, ...]:
    """One report a day and point, the oldest first; within a report in the order of the file."""
    grouped: dict[tuple[date, str], list[Taken]] = {}
    for result in results:
        grouped.setdefault((result.on, result.taken.point), []).append(result.taken)
    return tuple(
        LabReport(on=on, point=point, taken=tuple(taken), note=note)
        for (on, point), taken in sorted(grouped.items(), key=lambda group: group[0][0])
    )


def odd_results(house: House, history: History, results: Sequence[Result]) -> list[tuple[int, str]]:
    """Line and sentence for each result that is possible but unlike the usual, or unlike the last one before it."""
    past = _past(history, results)
    found: list[tuple[int, str]] = []
    for result in results:
        days, same = past[result.taken.quantity, result.taken.point]
        before = bisect_right(days, result.on.toordinal() - 1)
        sentences = doubts(house, result.taken, same[max(before - 1, 0) : before], result.on)
        found += [(result.line, sentence) for sentence in sentences]
    return found + _disagreeing(results)


def _past(
    history: History, results: Sequence[Result]
) -> dict[tuple[str, str], tuple[list[int], list[tuple[date, Taken]]]]:
    """Quantity and point -> days and values of the log and the file together, oldest first."""
    every: dict[tuple[str, str], list[tuple[date, Taken]]] = {}
    for result in results:
        every.setdefault((result.taken.quantity, result.taken.point), []).append((result.on, result.taken))
    for (quantity, point), values in every.items():
        values += [(one.on, one.taken) for one in history.taken(quantity, point)]
        values.sort(key=lambda pair: pair[0])
    return {key: ([on.toordinal() for on, _ in values], values) for key, values in every.items()}


def _disagreeing(results: Sequence[Result]) -> list[tuple[int, str]]:
    """Lines that give another value for the day, point and quantity of an earlier line: both are kept."""
    first: dict[tuple[date, str, str], int] = {}
    found = []
    for result in results:
        key = (result.on, result.taken.point, result.taken.quantity)
        if first.setdefault(key, result.line) != result.line:
            what = f"Another {QUANTITIES[result.taken.quantity].name} of the same day and point"
            text = f"{what} stands on line {first[key]}; both are kept."
            found.append((result.line, text))
    return found


def _key(on: date, taken: Taken) -> Key:
    # Nine figures: the same result in other units differs in the last bits.
    value, high = f"{taken.value:.9g}", "" if taken.high is None else f"{taken.high:.9g}"
    return on, taken.point, taken.quantity, taken.qualifier, value, high
