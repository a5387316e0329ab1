"""A water meter's CSV file: header `date,reading,unit` (what it shows) or `date,use,unit` (since the row before).

One reading a day is kept, the last; where the rows of a night lie an hour apart or closer, also the least that ran in
an hour of it. Anything wrong refuses the file; every problem is found, with its line.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, datetime
from itertools import pairwise

import msgspec

from model.errors import BadInput
from model.home import House
from model.records.csv_text import CsvRow, Refused, csv_day, csv_rows, header_of
from model.records.doubts import refuse_meter
from model.records.events import MeterReplaced, Taken
from model.records.history import Dated, History
from model.records.intake import check_date, measure
from model.records.meter_check import REPLACE_METER
from model.records.night_csv import Counted, new_nights, night_readings
from model.records.quantities import QUANTITIES

KINDS = ("reading", "use")
"""The middle column: a meter's own count, or the water used since the row before."""

_LONGEST_GAP = 2.0  # in rows: what may lie between the last reading and the first row of a file of uses
_LONGEST_GAP_DAYS = 31  # the same for a file of one row; common practice, no source


class Shown(msgspec.Struct, frozen=True):
    """A meter reading of a file, with its line and moment; `litres` is its count [L], or the use of its row.

    `house_time`: the moment is by the clocks in the house, as far as can be seen, and not by universal time.
    """

    line: int
    at: datetime
    litres: float
    entered: str
    house_time: bool = True

    @property
    def on(self) -> date:
        """The day of the reading."""
        return self.at.date()


class MeterCsv(msgspec.Struct, frozen=True):
    """What a meter's file adds to the log. `already`: readings and nights that stand there. Refused: no readings."""

    readings: tuple[tuple[date, Taken], ...] = ()
    nights: tuple[tuple[date, Taken], ...] = ()
    rows: int = 0
    already: int = 0
    problems: tuple[Refused, ...] = ()


def meter_column(data: bytes) -> str:
    """ "reading" or "use" where the first line is that of a meter's file, else ""."""
    names = header_of(data)
    found = {"date", "unit"} <= set(names) and "analyte" not in names
    return next((kind for kind in KINDS if found and kind in names), "")


def read_meter_csv(data: bytes, column: str, house: House, history: History) -> MeterCsv:
    """The readings in a meter's file that the log lacks, or all that is wrong with it. Never fails.

    Args:
        data: the file: UTF-8, with or without a byte-order mark.
        column: "reading" or "use", as `meter_column` gives it.
        house: the house as it stands.
        history: the log as of today; no reading can be later.
    """
    rows = csv_rows(data, ("date", column, "unit"))
    if isinstance(rows, Refused):
        return MeterCsv(problems=(rows,))
    shown: list[Shown] = []
    problems: list[Refused] = [] if rows else [Refused(0, "The file holds no readings.")]
    for row in rows:
        found, wrong = _row(row, column, history.today)
        shown += found
        problems += wrong
    if not problems:
        shown, problems = _summed(shown, house, history) if column == "use" else (_in_order(shown), [])
    days = list({one.on: one for one in shown}.values())
    problems = problems or _backwards(days, house, history)
    if problems:
        return MeterCsv(problems=tuple(problems))
    nights = night_readings(Counted(one.at, one.litres) for one in shown if one.house_time)
    return _new(days, nights, len(rows), history)


def _row(row: CsvRow, column: str, today: date) -> tuple[list[Shown], list[Refused]]:
    if row.problem:
        return [], [Refused(row.line, row.problem)]
    wrong: list[Refused] = []
    at = None
    try:
        on = csv_day(row["date"])
        check_date(on, today)
        at = datetime.fromisoformat(row["date"])
    except BadInput as problem:
        wrong.append(Refused(row.line, str(problem)))
    try:
        if not row[column]:
            raise BadInput(f"The {column} is missing.", "Leave the line out if it was not read.")
        taken = measure(QUANTITIES["meter"], row[column], row["unit"], "house")
    except BadInput as problem:
        return [], [*wrong, Refused(row.line, str(problem))]
    if at is None:
        return [], wrong
    return [Shown(row.line, at.replace(tzinfo=None), taken.value, taken.entered, not _universal(at))], []


def _universal(at: datetime) -> bool:
    """Whether a moment is given in universal time, which says nothing of when the house sleeps."""
    return at.tzinfo is not None and not at.utcoffset()


def _in_order(shown: Iterable[Shown]) -> list[Shown]:
    return sorted(shown, key=lambda one: one.at)


def _summed(shown: list[Shown], house: House, history: History) -> tuple[list[Shown], list[Refused]]:
    """Uses added up, from the last reading before them or from nought."""
    problems = [
        Refused(after.line, f"{after.on} lies before the row above, of {before.on}. Put the oldest first.")
        for before, after in pairwise(shown)
        if after.at < before.at
    ]
    earlier = [one for one in history.taken("meter") if one.on < shown[0].on]
    if not problems:
        problems = _gap(shown, earlier)
    count, found = earlier[-1].taken.value if earlier else 0.0, []
    for one in shown:
        count += one.litres
        if house.meter_rolls_over_at_l is not None:
            count %= house.meter_rolls_over_at_l
        found.append(msgspec.structs.replace(one, litres=count, entered=f"{count:.0f} L, added up"))
    return found, problems or _own_readings(found, history)


def _gap(shown: Sequence[Shown], earlier: Sequence[Dated]) -> list[Refused]:
    """The first use counts from the reading before it, which must not lie further back than one row reaches."""
    if not earlier:
        return []
    spacing = max(((after.at - before.at).days for before, after in pairwise(shown)), default=_LONGEST_GAP_DAYS)
    if (shown[0].on - earlier[-1].on).days <= max(_LONGEST_GAP * spacing, 1.0):
        return []
    what = f"The last meter reading is of {earlier[-1].on}; what was used from then to {shown[0].on} is not known."
    return [Refused(shown[0].line, f"{what} Give readings (date,reading,unit), or the uses in between too.")]


def _own_readings(summed: Sequence[Shown], history: History) -> list[Refused]:
    """Uses are not laid over readings of the meter itself: the two counts would not join."""
    last = {one.on: one.litres for one in summed}
    others = [
        one
        for one in history.taken("meter")
        if one.on >= summed[0].on and not _same(one.taken.value, last.get(one.on, -1.0))
    ]
    if not others:
        return []
    what = f"The meter itself was read on {others[0].on}, within or after the days of this file."
    return [Refused(summed[0].line, f"{what} Give readings (date,reading,unit) instead of uses.")]


def _backwards(days: Sequence[Shown], house: House, history: History) -> list[Refused]:
    """Readings of a meter that would run backwards between one day and the next, in the file and the log together."""
    lines = {one.on: one.line for one in days}
    counts = {one.on: one.taken.value for one in history.taken("meter")} | {one.on: one.litres for one in days}
    replaced = [one.on for one in (*history.of(MeterReplaced), *history.services(REPLACE_METER))]
    problems = []
    for before, after in pairwise(sorted(counts)):
        line = lines.get(after) or lines.get(before)
        if line is None or any(before < on <= after for on in replaced):
            continue
        now = Taken(quantity="meter", value=counts[after], point="house")
        try:
            refuse_meter(now, counts[before], house.meter_rolls_over_at_l, house.units)
        except BadInput as problem:
            problems.append(Refused(line, f"From {before} to {after}: {problem}"))
    return problems


def _new(days: Sequence[Shown], nights: Sequence[tuple[date, Taken]], rows: int, history: History) -> MeterCsv:
    there: dict[date, list[float]] = {}
    for one in history.taken("meter"):
        there.setdefault(one.on, []).append(one.taken.value)
    new = [one for one in days if not any(_same(one.litres, value) for value in there.get(one.on, ()))]
    readings = tuple(
        (one.on, Taken(quantity="meter", value=one.litres, point="house", entered=one.entered)) for one in new
    )
    asleep = tuple(new_nights(nights, history))
    return MeterCsv(readings, asleep, rows, len(days) - len(new) + len(nights) - len(asleep))


def _same(one: float, other: float) -> bool:
    return abs(one - other) <= 1e-9 * max(abs(one), abs(other), 1.0)
