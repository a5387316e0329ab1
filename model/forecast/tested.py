"""Which laboratory tests the results in the log amount to, and which results are missing."""

from __future__ import annotations

from datetime import date

from model.forecast.words import day_in_words
from model.plan_types import Alert
from model.records.events import LabReport
from model.records.history import History

RAW, HOSE = "source", "hose"

_GERMS = frozenset({"total_coliform", "e_coli"})
_PAIRED: dict[str, tuple[frozenset[str], str]] = {
    "coliform_test": (_GERMS, "Coliform"),
    "nitrate_test": (frozenset({"nitrate"}), "Nitrate"),
}
"""Tests of raw and treated water on one day: what any of which is measured, and how it is called."""

_WAIT_DAYS = {"coliform_test": 10, "nitrate_test": 10, "lead_copper_test": 21, "mineral_test": 21}
"""Days after which a laboratory's result should be there. From memory; owner's default."""

_GIVEN_UP_DAYS = 365
"""After so long nobody waits for the result any more; the next test is due by then."""

_NAMED = {
    "coliform_test": "Coliform",
    "nitrate_test": "Nitrate",
    "lead_copper_test": "Lead and copper",
    "mineral_test": "The minerals",
}
_TELLS = {
    "coliform_test": _GERMS,
    "nitrate_test": frozenset({"nitrate"}),
    "lead_copper_test": frozenset({"lead", "copper"}),
    "mineral_test": frozenset({"hardness", "alkalinity", "sodium", "sulfate", "iron", "calcium"}),
}
"""Test -> the quantities of which at least one is in its report."""


def tested_on(history: History, job: str) -> date | None:
    """The last day whose reports amount to a laboratory test that nobody recorded as a job; None for other jobs.

    Coliform and nitrate count only where raw and treated water were tested on one day.
    """
    if job in _PAIRED:
        where = _where(history, _PAIRED[job][0])
        return max((on for on, points in where.items() if RAW in points and points - {RAW, HOSE}), default=None)
    if job == "lead_copper_test":
        return max((on for on, points in _where(history, _TELLS[job]).items() if points - {RAW, HOSE}), default=None)
    return None


def lab_alerts(history: History) -> list[Alert]:
    """Notes on a test of which only one side was done, or whose result nobody wrote down."""
    return [*_one_sided(history), *_awaited(history)]


def _where(history: History, quantities: frozenset[str]) -> dict[date, set[str]]:
    """Day -> the points at which a laboratory measured any of these quantities."""
    found: dict[date, set[str]] = {}
    for report in history.of(LabReport):
        points = {one.point for one in report.taken if one.quantity in quantities}
        if points:
            found.setdefault(report.on, set()).update(points)
    return found


def _one_sided(history: History) -> list[Alert]:
    """The newest sample of germs and of nitrate, where it has no other half of the same day."""
    found: list[Alert] = []
    for quantities, name in _PAIRED.values():
        where = _where(history, quantities)
        last = max(where, default=None)
        treated = where[last] - {RAW, HOSE} if last else set()
        if last is None or (RAW in where[last] and treated):
            continue
        only, missing, point = ("treated", "raw", "tap") if treated else ("raw", "treated", "source")
        text = (
            f"{name} on {day_in_words(last, history.today)}: only the {only} water was tested. Have the {missing} "
            "water sampled on the same day as well next time: only the pair tells the well from the equipment."
        )
        found.append(Alert(level="note", point=point, text=text))
    return found


def _awaited(history: History) -> list[Alert]:
    """Samples taken, by the jobs recorded, of which no result was written down in the usual time."""
    found: list[Alert] = []
    for job, days in _WAIT_DAYS.items():
        sampled = history.last_done(f"well.{job}")
        waited = (history.today - sampled).days if sampled else 0
        if sampled is None or not days <= waited <= _GIVEN_UP_DAYS or _told(history, job, sampled):
            continue
        text = (
            f"{_NAMED[job]}: sampled on {day_in_words(sampled, history.today)}, and no result is written down. Ask "
            "the laboratory and enter it; until then the test has shown nothing."
        )
        found.append(Alert(level="note", point="", text=text))
    return found


def _told(history: History, job: str, sampled: date) -> bool:
    """Whether anything that the test tells was written down since the day of the sample."""
    return any(one.on >= sampled for quantity in _TELLS[job] for one in history.taken(quantity) if one.taken.point)
