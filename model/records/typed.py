"""Numbers, dates and amounts as people type them. Nothing that is not finite gets past here."""

from __future__ import annotations

from datetime import date, timedelta
from math import isfinite

from model.errors import BadInput
from model.units import echo, from_si, known_names, plain, to_si

EARLIEST = date(1970, 1, 1)
"""Before this no record is believed."""
MOST = 1e6
"""No household buys, uses or pays this much of anything at once."""

PACK_WORDS = frozenset({"pack", "packs", "bag", "bags", "box", "boxes"})
"""Units that mean a supply's own pack."""

_DIGITS = frozenset("0123456789")
_NUMBER = frozenset("0123456789.+-e")
_GAPS = "\u00a0\u202f\u2009"


def parse_number(text: str) -> float:
    """A finite number as typed: "14.2", "184,220", "184 220", "-3".

    Commas and spaces separate groups of three digits. A decimal comma is refused, never guessed.

    Raises:
        BadInput: not a number, not finite, or a comma that cannot be a thousands separator.
    """
    bare = text.strip().replace("−", "-").casefold()
    for gap in _GAPS:
        bare = bare.replace(gap, " ")
    if "," in bare or " " in bare:
        bare = _ungrouped(bare, text)
    if not bare or not set(bare) <= _NUMBER or not _DIGITS & set(bare):
        raise BadInput(f"{echo(text)} is not a number.", "Type digits, with a point for decimals.")
    try:
        value = float(bare)
    except ValueError:
        raise BadInput(f"{echo(text)} is not a number.", "Type digits, with a point for decimals.") from None
    if not isfinite(value):
        raise BadInput(f"{echo(text)} is too large a number.", "Type an ordinary number.")
    return value


def _ungrouped(bare: str, text: str) -> str:
    whole, point, decimals = bare.partition(".")
    separator = "," if "," in whole else " "
    first, *groups = whole.lstrip("+-").split(separator)
    fits = 1 <= len(first) <= 3 and all(len(group) == 3 for group in groups) and not first.startswith("0")
    if not (fits and set(first + "".join(groups)) <= _DIGITS and set(decimals) <= _DIGITS):
        now = "Write decimals with a point (6.5) and thousands as 184,220 or 184220."
        raise BadInput(f"{echo(text)} cannot be read as a number.", now)
    sign = "-" if whole.startswith("-") else ""
    return f"{sign}{first}{''.join(groups)}{point}{decimals}"


def split_unit(text: str) -> tuple[str, str]:
    """Number and unit of something typed in one piece: "14.2 in" -> ("14.2", "in"); the unit may be empty."""
    text = text.strip()
    for at, letter in enumerate(text):
        if _DIGITS & set(text[:at]) and not _numeric(text, at, letter):
            return text[:at].strip(), text[at:].strip()
    return text, ""


def _numeric(text: str, at: int, letter: str) -> bool:
    if letter in "eE":
        return text[at - 1].isdigit() and text[at + 1 : at + 2] != "" and text[at + 1] in "+-0123456789"
    return not letter.isalpha() and letter not in "°º%\"'″′/"


def parse_date(text: str, today: date) -> date:
    """A day as typed: YYYY-MM-DD, "today" or "yesterday".

    Raises:
        BadInput: anything else, or a day that the calendar does not have.
    """
    word = text.strip().casefold()
    if word == "today":
        return today
    if word == "yesterday":
        return today - timedelta(days=1)
    parts = word.split("-")
    if [len(part) for part in parts] != [4, 2, 2] or not set("".join(parts)) <= _DIGITS:
        raise BadInput(f"{echo(text)} is not a date.", "Write it as YYYY-MM-DD, today or yesterday.")
    try:
        return date(int(parts[0]), int(parts[1]), int(parts[2]))
    except ValueError:
        raise BadInput(f"There is no day {echo(text)} in the calendar.", "Check month and day.") from None


def check_date(on: date, today: date, started: date | None = None) -> None:
    """Refuse a day on which nothing can have been recorded.

    Args:
        on: the day given.
        today: the day it is.
        started: the day the home was written down, where nothing before it can count (shelf counts, purchases).

    Raises:
        BadInput: `on` is after today, before 1970, or before `started`.
    """
    if on > today:
        raise BadInput(f"{on} lies in the future (today is {today}).", "Record what has already happened.")
    if on < EARLIEST:
        raise BadInput(f"{on} is too long ago.", f"The earliest day taken is {EARLIEST}.")
    if started is not None and on < started:
        raise BadInput(f"{on} is before this home's record starts ({started}).", "Give a later day.")


def parse_amount(text: str, unit_hint: str = "", *, zero_ok: bool = False) -> float:
    """An amount of a supply as typed, in the unit `unit_hint`: "2", "40 kg", or "40 lb" where the hint is kg.

    Raises:
        BadInput: not a number, not above 0 (with `zero_ok`: below 0), 1,000,000 or more, or a unit that does not fit.
    """
    number, unit = split_unit(text)
    amount = _in_hint(parse_number(number), unit, unit_hint)
    if amount < 0 or (amount == 0 and not zero_ok):
        least = "0 or more" if zero_ok else "more than 0"
        raise BadInput(f"The amount {echo(text)} must be {least}.", "Check the number.")
    if not amount < MOST:
        raise BadInput(f"The amount {echo(text)} is too large.", "It must be below 1,000,000.")
    return amount + 0.0


def _in_hint(value: float, unit: str, hint: str) -> float:
    if not unit or plain(unit) == plain(hint):
        return value
    for dimension in ("mass", "volume", "length", "count"):
        if {plain(unit), plain(hint)} <= known_names(dimension):
            return from_si(to_si(value, unit, dimension), hint, dimension)
    now = f"Give it in {hint}." if hint not in ("", "each") else "Leave the unit out."
    raise BadInput(f"{echo(unit)} is not how this is counted.", now)


def parse_price(text: str, currency: str = "USD") -> float:
    """A price as typed, 0 or more: "12.50", "$12.50", "12.50 EUR". Errors as for `parse_amount`."""
    bare = text.strip()
    for sign in (currency, currency.casefold(), "$" if currency == "USD" else ""):
        bare = bare.removeprefix(sign).removesuffix(sign).strip()
    value = parse_number(bare)
    if value < 0:
        raise BadInput(f"The price {echo(text)} is below 0.", "Give what was paid in all.")
    if not value < MOST:
        raise BadInput(f"The price {echo(text)} is too large.", "It must be below 1,000,000.")
    return value + 0.0
