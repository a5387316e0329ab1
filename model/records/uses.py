"""Named uses of water as people type and read them: the pool, the garden, the trough."""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from model.errors import BadInput
from model.forecast.words import MONTHS
from model.home import ALL_MONTHS, House, Use
from model.records.points import points_of
from model.records.typed import parse_amount, split_unit
from model.units import System, display_unit, echo, show, to_si

USE_POINTS = ("tap", "ro", "hose")
_PLACES = {"tap": "at the taps", "ro": "at the RO tap", "hose": "at the hose"}
_LONGEST_TITLE = 60
_MOST_L_PER_WEEK = 1e6
"""More than this no household draws for one purpose [L/week]. Owner's default."""


def make_use(house: House, title: str, amount: str, unit: str, point: str, months: str) -> Use:
    """A named use from what was typed.

    Args:
        house: the house as it stands; gives the points there are, and the unit assumed.
        title: its name.
        amount: water a week, with or without its unit.
        unit: the unit where `amount` has none; empty for the house's own unit of volume.
        point: "tap", "ro" or "hose".
        months: as for `parse_months`.

    Raises:
        BadInput: an empty name, no amount above 0, a unit that is no volume, or a point that the house lacks.
    """
    name = tidy_title(title)
    number, written = split_unit(amount)
    meant = unit.strip() or written or display_unit("volume", house.units)
    litres = to_si(parse_amount(number), meant, "volume")
    if litres > _MOST_L_PER_WEEK:
        raise BadInput(f"{echo(f'{number} {meant}')} a week is too much for one use.", "Check number and unit.")
    there = [one for one in USE_POINTS if one in dict(points_of(house))]
    if point not in there:
        raise BadInput(f"This house has no {_PLACES[point].removeprefix('at the ')}.", f"Points: {', '.join(there)}.")
    return Use(title=name, litres_per_week=litres, point=point, months=parse_months(months))  # type: ignore[arg-type]


def tidy_title(title: str) -> str:
    """A name on one printable line, not empty and not long.

    Raises:
        BadInput: nothing printable is left.
    """
    name = " ".join("".join(mark if mark.isprintable() else " " for mark in title).split())[:_LONGEST_TITLE].strip()
    if not name:
        raise BadInput("The name of the use is empty.", "Say what it is, like Pool.")
    return name


def folded(title: object) -> str:
    """A name as names are compared: case and spaces do not matter."""
    return " ".join(str(title).casefold().split())


def find_use(uses: Iterable[Use], title: str) -> Use | None:
    """The use of that name, or None."""
    return next((use for use in uses if folded(use.title) == folded(title)), None)


def parse_months(text: str) -> tuple[int, ...]:
    """Months as typed: "5-9", "11-2" over the year's end, "5,6,9"; empty is the whole year.

    Raises:
        BadInput: anything else.
    """
    if not text.strip():
        return ALL_MONTHS
    found: set[int] = set()
    for piece in text.split(","):
        first, dash, last = piece.partition("-")
        low = _month(first, text)
        count = (_month(last, text) - low) % 12 if dash else 0
        found |= {(low - 1 + k) % 12 + 1 for k in range(count + 1)}
    return tuple(sorted(found))


def _month(text: str, all_: str) -> int:
    bare = text.strip()
    if bare.isascii() and bare.isdigit() and len(bare) <= 2 and 1 <= int(bare) <= 12:
        return int(bare)
    raise BadInput(f"{echo(all_)} does not name months.", "Write their numbers: 5-9, or 5,6,9.")


def months_in_words(months: tuple[int, ...]) -> str:
    """ "May-Sep", "Nov-Feb", "May, Jul"; "all year"."""
    there = sorted(set(months))
    if len(there) == 12:
        return "all year"
    runs: list[list[int]] = []
    for month in there:
        if runs and runs[-1][-1] == month - 1:
            runs[-1].append(month)
        else:
            runs.append([month])
    if len(runs) > 1 and runs[0][0] == 1 and runs[-1][-1] == 12:
        runs = [*runs[1:-1], [*runs[-1], *runs[0]]]
    return ", ".join("-".join(dict.fromkeys((MONTHS[run[0] - 1], MONTHS[run[-1] - 1]))) for run in runs)


def use_in_words(use: Use, system: System) -> str:
    """ "200 gal a week at the hose, May-Sep"."""
    months = "" if use.months == ALL_MONTHS else f", {months_in_words(use.months)}"
    return f"{show(use.litres_per_week, 'volume', system)} a week {place_in_words(use)}{months}"


def place_in_words(use: Use) -> str:
    """ "at the taps", "at the RO tap", "at the hose"."""
    return _PLACES[use.point]


def described_use(plain: dict[str, object]) -> Use | None:
    """The use that an event describes; None where it describes none, which only a file changed by hand can hold."""
    try:
        return msgspec.convert(plain, Use)
    except msgspec.ValidationError:
        return None
