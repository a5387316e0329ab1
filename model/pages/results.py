"""The laboratory's results, as rows of a table."""

from __future__ import annotations

from model.forecast.situation import Situation
from model.records.events import LabReport
from model.records.names import Names
from model.records.quantities import QUANTITIES, show_taken


def result_rows(now: Situation, names: Names, year: int | None = None) -> tuple[tuple[str, str, str, str], ...]:
    """Day, place, quantity and result of each, the newest first; of one year alone where it is given."""
    reports = [one for one in now.history.of(LabReport) if year is None or one.on.year == year]
    return tuple(
        (
            str(report.on),
            names.place(report.point).removeprefix(" at ").strip(),
            QUANTITIES[one.quantity].name if one.quantity in QUANTITIES else one.quantity.replace("_", " "),
            show_taken(one, now.house.units),
        )
        for report in reversed(reports)
        for one in report.taken
    )
