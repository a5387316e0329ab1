"""A home's daily use, read from a CSV file."""

from __future__ import annotations

import csv
from math import isfinite
from pathlib import Path
from statistics import fmean
from typing import NamedTuple

LEAST_DAYS = 365
HEADER = ("day", "litres", "peak_l_per_s", "people", "type")
HOMES = Path(__file__).parent / "homes"


class Misfit(Exception):
    """A file that cannot serve, and why, in one line."""


class HomeFile(NamedTuple):
    """Daily use [L] of a household of so many people; `kind` is the type of household."""

    name: str
    kind: str
    people: int
    litres: tuple[float, ...]

    @property
    def mean_l(self) -> float:
        """Mean use of a day [L]."""
        return fmean(self.litres)


def read_homes(folder: Path) -> list[HomeFile]:
    """Every CSV file of the folder, by name. Raises Misfit that names the file."""
    paths = sorted(folder.glob("*.csv"))
    if not paths:
        raise Misfit(f"{folder} holds no CSV file.")
    return [read_home(path) for path in paths]


def read_home(path: Path) -> HomeFile:
    """One home. Raises Misfit."""
    try:
        with path.open(encoding="utf-8-sig", newline="") as file:
            rows = list(csv.DictReader(file))
    except (OSError, UnicodeDecodeError, csv.Error) as error:
        raise Misfit(f"{path.name}: cannot be read as CSV ({error}).") from error
    if not rows or any(name not in rows[0] for name in HEADER):
        raise Misfit(f"{path.name}: the header must be {','.join(HEADER)}.")
    if len(rows) < LEAST_DAYS:
        raise Misfit(f"{path.name}: {len(rows)} days, at least {LEAST_DAYS} are needed.")
    litres = tuple(_number(path, line, row["litres"]) for line, row in enumerate(rows, start=2))
    people = _number(path, 2, rows[0]["people"])
    if not 1 <= people <= 50 or fmean(litres) <= 0:
        raise Misfit(f"{path.name}: needs 1 to 50 people and some use.")
    return HomeFile(path.stem, rows[0]["type"] or "unnamed", round(people), litres)


def _number(path: Path, line: int, text: str | None) -> float:
    try:
        value = float(text or "")
    except ValueError:
        value = -1.0
    if not isfinite(value) or value < 0:
        raise Misfit(f"{path.name}, line {line}: {text!r} is no amount of water or people.")
    return value
