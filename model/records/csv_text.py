"""A CSV file from outside as rows by column name: bounded in size, strict in form, each row with its line."""

from __future__ import annotations

import csv
import re
from collections.abc import Sequence
from datetime import date, datetime
from io import StringIO

import msgspec

from model.errors import BadInput
from model.records.typed import parse_date
from model.units import echo, one_of

MOST_BYTES = 2_000_000
MOST_ROWS = 20_000
"""No household's laboratory or meter file is larger. Owner's default."""

_DIGITS = frozenset("0123456789")


class Refused(msgspec.Struct, frozen=True):
    """Why a file is refused: the line, 0 for the file as a whole, and what is wrong there."""

    line: int
    what: str

    def __str__(self) -> str:
        return f"line {self.line}: {self.what}" if self.line else self.what


class CsvRow(msgspec.Struct, frozen=True):
    """One row: its first line in the file, its fields by column, and what is wrong with its form, if anything."""

    line: int
    fields: dict[str, str]
    problem: str = ""

    def __getitem__(self, column: str) -> str:
        return self.fields[column]


def csv_rows(data: bytes, columns: Sequence[str], optional: Sequence[str] = ()) -> list[CsvRow] | Refused:
    """The rows of a file, empty ones passed over, or why it cannot be read.

    Args:
        data: the file's bytes.
        columns: names that the header must have, in any order and case, and no others.
        optional: the columns at the end of a row that may be left off.
    """
    text = _text(data)
    if isinstance(text, Refused):
        return text
    found: list[CsvRow] = []
    names: list[str] = []
    between = separator_of(text)
    reader, line = csv.reader(StringIO(text, newline=""), strict=True, delimiter=between), 1
    try:
        for cells in reader:
            start, line = line, reader.line_num + 1
            trimmed = [cell.strip() for cell in cells]
            if names and between == ";":
                trimmed = _with_points(trimmed, names)
            if not any(trimmed):
                continue
            if not names:
                names = header_names(trimmed)
                if wrong := _header_problem(names, columns):
                    return Refused(start, wrong)
            elif len(found) >= MOST_ROWS:
                return Refused(0, f"The file has more than {MOST_ROWS:,} lines. Split it.")
            else:
                found.append(_row(start, trimmed, names, optional))
    except csv.Error as error:
        return Refused(line, f"This is not CSV: {error}.")
    return found if names else Refused(0, f"The file is empty. Its first line must be {','.join(columns)}.")


def header_of(data: bytes) -> list[str]:
    """The column names of a file's first line that is not empty, as far as it can be read; empty where it cannot."""
    text = _text(data)
    if isinstance(text, Refused):
        return []
    line = next((one for one in text.splitlines() if one.strip(" ,;\t")), "")
    return header_names(line.replace('"', "").split(separator_of(text)))


def separator_of(text: str) -> str:
    """What stands between the columns: a semicolon where the first line has one and no comma, else a comma."""
    first = next((one for one in text.splitlines() if one.strip(" ,;\t")), "")
    return ";" if ";" in first and "," not in first else ","


_NUMBERS = frozenset({"value", "reading", "use"})
_GROUPED = re.compile(r"[<>]?\s*[+-]?\d{1,3}(\.\d{3})+(,\d+)?")
_DECIMAL = re.compile(r"[<>]?\s*[+-]?\d+,\d+")


def _with_points(cells: list[str], names: Sequence[str]) -> list[str]:
    """The numbers of a file with semicolons with a decimal point, where a comma says plainly that it was one.

    "1.234" alone could be either: it is left as no number, so that its line is refused and nothing is guessed.
    """
    found = list(cells)
    for place, name in enumerate(names[: len(cells)]):
        if name in _NUMBERS:
            found[place] = _with_point(cells[place])
    return found


def _with_point(cell: str) -> str:
    if _DECIMAL.fullmatch(cell):
        return cell.replace(",", ".")
    if _GROUPED.fullmatch(cell):
        return cell.replace(".", "").replace(",", ".") if "," in cell else f"{cell} (group or decimals?)"
    return cell


def header_names(cells: Sequence[str]) -> list[str]:
    """Column names without case and spaces; empty ones at the end are dropped."""
    names = ["".join(cell.casefold().split()) for cell in cells]
    while names and not names[-1]:
        names.pop()
    return names


def _text(data: bytes) -> str | Refused:
    if len(data) > MOST_BYTES:
        return Refused(0, f"The file is larger than {MOST_BYTES // 1_000_000} MB. Split it.")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        return Refused(line, "The file is not UTF-8 text. Save it as CSV with UTF-8.")
    if "\0" in text:
        return Refused(text.count("\n", 0, text.index("\0")) + 1, "The file holds NUL characters: it is not text.")
    return text


def _header_problem(names: Sequence[str], columns: Sequence[str]) -> str:
    wanted = f"The first line must be {','.join(columns)}"
    if sorted(names) == sorted(columns):
        return ""
    if any(";" in name or "\t" in name for name in names):
        return f"{wanted}, with commas or semicolons between."
    twice = [name for name in columns if names.count(name) > 1]
    missing = [name for name in columns if name not in names]
    extra = [name for name in names if name not in columns]
    if len(missing) == len(columns):
        return f"{wanted} for a laboratory, or date,reading,unit or date,use,unit for a meter."
    if twice:
        return f"{wanted}; {echo(twice[0])} is there more than once."
    if missing:
        return f"{wanted}; {one_of(missing).replace(' or ', ' and ')} missing."
    return f"{wanted}; the column {echo(extra[0])} would go unread: take it out."


def _row(line: int, cells: list[str], names: list[str], optional: Sequence[str]) -> CsvRow:
    while len(cells) > len(names) and not cells[-1]:
        cells.pop()
    if len(cells) < len(names) and set(names[len(cells) :]) <= set(optional):
        cells += [""] * (len(names) - len(cells))
    if len(cells) != len(names):
        return CsvRow(line, {}, f"It has {len(cells)} fields instead of {len(names)}. A number has no comma here.")
    return CsvRow(line, dict(zip(names, cells, strict=True)))


def csv_day(text: str) -> date:
    """A day in ISO form, with or without a time: "2026-03-31", "2026-03-31T09:30", "2026-03-31 09:30:00Z".

    Raises:
        BadInput: anything else; "today" says something else tomorrow, so it is refused too.
    """
    day, rest = text[:10], text[10:]
    if not day:
        raise BadInput("The date is missing.", "Write it as YYYY-MM-DD.")
    if not set(day) & _DIGITS:
        raise BadInput(f"{echo(text)} is not a date.", "Write it as YYYY-MM-DD.")
    on = parse_date(day if not rest or rest[0] in "Tt " else text, date.min)
    if rest:
        _check_time(text)
    return on


def _check_time(text: str) -> None:
    try:
        datetime.fromisoformat(text)
    except ValueError:
        raise BadInput(f"{echo(text)} has no time of day after its date.", "Write 2026-03-31T09:30.") from None
