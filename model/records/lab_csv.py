"""A laboratory's CSV file: header `date,point,analyte,value,unit`, one result a line. All of it is taken, or nothing.

A line with an analyte that is not kept is left out and named. Anything else that is wrong refuses the file; every
problem is found, with its line, not only the first.
"""

from __future__ import annotations

from datetime import date

import msgspec

from model.errors import BadInput
from model.home import House
from model.records.csv_text import CsvRow, Refused, csv_day, csv_rows
from model.records.events import Taken
from model.records.intake import check_date, measure
from model.records.place import place_of
from model.records.quantities import QUANTITIES, Quantity

COLUMNS = ("date", "point", "analyte", "value", "unit")

_NAMES = {
    "pH": "ph",
    "temperature": "temperature watertemperature",
    "alkalinity": "alkalinity totalalkalinity",
    "hardness": "hardness totalhardness",
    "calcium": "calcium",
    "magnesium": "magnesium",
    "sodium": "sodium",
    "potassium": "potassium",
    "iron": "iron",
    "manganese": "manganese",
    "chloride": "chloride",
    "sulfate": "sulfate sulphate",
    "nitrate": "nitrate",
    "nitrite": "nitrite",
    "fluoride": "fluoride",
    "silica": "silica",
    "tds": "totaldissolvedsolids tds dissolvedsolids",
    "conductivity": "conductivity electricalconductivity specificconductance",
    "turbidity": "turbidity",
    "uv_transmittance": "uvtransmittance uvt",
    "arsenic": "arsenic",
    "lead": "lead",
    "copper": "copper",
    "uranium": "uranium",
    "total_coliform": "totalcoliform totalcoliforms",
    "e_coli": "ecoli escherichiacoli",
}
_BY_NAME = {name: quantity for quantity, names in _NAMES.items() for name in names.split()}
_DROPPED = str.maketrans("", "", " .-_\t\u00a0")


class Result(msgspec.Struct, frozen=True):
    """One result of a file, with the line it stands on."""

    line: int
    on: date
    taken: Taken


class LeftOut(msgspec.Struct, frozen=True):
    """A line left out because its analyte is not one that is kept."""

    line: int
    analyte: str


class LabCsv(msgspec.Struct, frozen=True):
    """What a laboratory's file holds. Where there is any problem, the file is refused: no results."""

    results: tuple[Result, ...] = ()
    left_out: tuple[LeftOut, ...] = ()
    problems: tuple[Refused, ...] = ()


def analyte(name: str) -> Quantity | None:
    """The quantity that a laboratory's analyte is, None where it is not kept. Case, spaces and dots do not matter."""
    found = _BY_NAME.get(name.casefold().translate(_DROPPED))
    return None if found is None else QUANTITIES[found]


def read_lab_csv(data: bytes, house: House, today: date) -> LabCsv:
    """The results in a laboratory's file, or all that is wrong with it. Never fails, whatever the bytes.

    Args:
        data: the file: UTF-8, with or without a byte-order mark, up to `csv_text.MOST_BYTES`.
        house: the house as it stands; gives the points.
        today: no result can be of a later day.
    """
    rows = csv_rows(data, COLUMNS, optional=("unit",))
    if isinstance(rows, Refused):
        return LabCsv(problems=(rows,))
    results: list[Result] = []
    left_out: list[LeftOut] = []
    problems: list[Refused] = []
    for row in rows:
        if row.problem:
            problems.append(Refused(row.line, row.problem))
        elif (name := row["analyte"]) and (quantity := analyte(name)) is None:
            left_out.append(LeftOut(row.line, name))
        else:
            found, wrong = _result(row, quantity if name else None, house, today)
            results += found
            problems += wrong
    if not rows:
        problems.append(Refused(0, "The file holds no results."))
    return LabCsv(problems=tuple(problems)) if problems else LabCsv(tuple(results), tuple(left_out))


def _result(row: CsvRow, quantity: Quantity | None, house: House, today: date) -> tuple[list[Result], list[Refused]]:
    """The result on a line, or everything wrong with it."""
    wrong: list[Refused] = []
    on, point = date.min, "source"
    try:
        on = csv_day(row["date"])
        check_date(on, today)
    except BadInput as problem:
        wrong.append(Refused(row.line, str(problem)))
    try:
        point = _point(house, quantity, row["point"])
    except BadInput as problem:
        wrong.append(Refused(row.line, str(problem)))
    try:
        taken = _taken(quantity, row["value"], row["unit"], point)
    except BadInput as problem:
        return [], [*wrong, Refused(row.line, str(problem))]
    return ([], wrong) if wrong else ([Result(row.line, on, taken)], [])


def _point(house: House, quantity: Quantity | None, typed: str) -> str:
    if not typed:
        raise BadInput("The point is missing.", "Say where the sample was taken: source, tap, ro.")
    return place_of(house, quantity or QUANTITIES["pH"], typed)


def _taken(quantity: Quantity | None, value: str, unit: str, point: str) -> Taken:
    if quantity is None:
        raise BadInput("The analyte is missing.")
    if not value:
        raise BadInput(f"The value of {quantity.name} is missing.", "Leave the line out if it was not tested.")
    taken = measure(quantity, value, unit, point)
    if taken.high is not None:
        raise BadInput(
            f"{quantity.title} is given as an interval.", "A laboratory gives one number, or < and its limit."
        )
    return taken
