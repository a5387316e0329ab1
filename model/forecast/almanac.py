"""The month and the day of the year of many days in a row, by table: asking each date is slow."""

from __future__ import annotations

from datetime import date

_LENGTHS = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
_MONTHS = [month for month, length in enumerate(_LENGTHS, start=1) for _ in range(length)]
_LEAP_MONTHS = [*_MONTHS[:59], 2, *_MONTHS[59:]]


def almanac(first: date, count: int) -> tuple[list[int], list[int]]:
    """Months (1-12) and days of the year (1-366) of `count` days from `first` on."""
    start = first.timetuple().tm_yday - 1
    months: list[int] = []
    days: list[int] = []
    year = first.year
    while len(months) < start + count:
        leap = year % 4 == 0 and (year % 100 != 0 or year % 400 == 0)
        months += _LEAP_MONTHS if leap else _MONTHS
        days += range(1, 367 if leap else 366)
        year += 1
    return months[start : start + count], days[start : start + count]
