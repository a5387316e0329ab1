"""How a quantity was read: with what, at rest or flowing, from which kit, how long after a regeneration."""

from __future__ import annotations

from datetime import date
from math import isfinite

import msgspec

from model.errors import BadInput
from model.records.bounds import is_pad
from model.records.events import State, Taken
from model.records.typed import parse_date, parse_number, split_unit
from model.units import System, display_unit, echo, to_si

METHODS: dict[str, str] = {
    "strip": "strip",
    "drop_count": "drop count",
    "liquid_kit": "liquid kit",
    "meter": "meter",
    "display": "display",
    "tape": "tape or stick",
    "lab": "laboratory",
}
"""Id -> words. A strip's pad says between which two values the water lies, and a drop count is as fine as one drop."""

STATES: dict[str, State] = {"rest": "at_rest", "at_rest": "at_rest", "flow": "flowing", "flowing": "flowing"}
"""As typed -> as kept."""
STATE_WORDS: dict[State, str] = {"": "", "at_rest": "at rest", "flowing": "flowing"}

HAS_STATE = frozenset({"pH", "pressure_in", "pressure_out", "iron", "lead", "copper", "hardness", "temperature"})
"""Quantities that standing in the pipes, or the flow, changes."""
WITH_KIT = frozenset({"strip", "drop_count", "liquid_kit"})
"""Methods that use a kit up, which has a lot and a last day."""
AFTER_RESIN = frozenset({"hardness", "nitrate", "alkalinity", "pH", "chloride", "sodium"})
"""Quantities of treated water that differ between the beginning and the end of a softener's run."""

_LONGEST = 40
_ENDS = "exp"
_LOT = "lot"


class How(msgspec.Struct, frozen=True, kw_only=True):
    """How something was read, as in `Taken`."""

    method: str = ""
    state: State = ""
    kit: str = ""
    kit_expires: date | None = None
    since_regeneration_l: float | None = None


def how(
    *,
    today: date,
    system: System,
    method: str = "",
    state: str = "",
    kit: str = "",
    kit_expires: str = "",
    since_regeneration: str = "",
) -> How:
    """How something was read, from what was typed; what is empty was not said.

    Args:
        today: for "today" and "yesterday".
        system: the house's units, for litres or gallons without a unit.
        method: a key of `METHODS`.
        state: a key of `STATES`.
        kit: the lot on the kit.
        kit_expires: a day, or a month as 2027-03, which is good to its end.
        since_regeneration: an amount of water, with a unit or in the house's own.

    Raises:
        BadInput: none of these.
    """
    if method and method not in METHODS:
        raise BadInput(f"{echo(method)} is no way of reading.", f"Say one of {', '.join(METHODS)}.")
    if state and state not in STATES:
        raise BadInput(f"{echo(state)} is no state of water.", "Say rest or flow.")
    lot = " ".join(kit.split())
    if len(lot) > _LONGEST or not lot.isprintable():
        raise BadInput(f"The lot {echo(kit)} is not one.", f"Give at most {_LONGEST} letters and digits.")
    return How(
        method=method,
        state=STATES[state] if state else "",
        kit=lot,
        kit_expires=last_day(kit_expires, today) if kit_expires.strip() else None,
        since_regeneration_l=_litres(since_regeneration, system) if since_regeneration.strip() else None,
    )


def last_day(text: str, today: date) -> date:
    """The last day a kit is good for: a day, or the last of a month written as 2027-03. Raises BadInput."""
    parts = text.strip().split("-")
    if len(parts) == 2:
        year, month = parse_date(f"{text.strip()}-01", today).timetuple()[:2]
        following = date(year + month // 12, month % 12 + 1, 1)
        return date.fromordinal(following.toordinal() - 1)
    return parse_date(text, today)


def _litres(text: str, system: System) -> float:
    number, unit = split_unit(text)
    litres = to_si(parse_number(number), unit or display_unit("volume", system), "volume") + 0.0
    if not (isfinite(litres) and 0.0 <= litres <= 1e6):
        raise BadInput(f"{echo(text)} cannot have run since a regeneration.", "Check the number and its unit.")
    return litres


def with_how(taken: Taken, said: How) -> Taken:
    """The quantity with how it was read; what was not said stays as it was."""
    found = {name: value for name, value in msgspec.structs.asdict(said).items() if value not in ("", None)}
    return msgspec.structs.replace(taken, **found) if found else taken


def split_how(text: str) -> tuple[str, dict[str, str]]:
    """What was typed without the words on how it was read at its end, and these by their name in `how`.

    "5-10 mg/L as NO3 strip lot A12 exp 2027-03" -> "5-10 mg/L as NO3", method, kit and kit_expires.
    """
    words, found = text.split(), dict[str, str]()
    while len(words) > 1:
        if words[-2].casefold() in (_LOT, _ENDS) and len(words) > 2:
            found["kit" if words[-2].casefold() == _LOT else "kit_expires"] = words[-1]
            words = words[:-2]
        elif (method := _WORDS.get(words[-1].casefold())) is not None:
            found["method"] = method
            words = words[:-1]
        else:
            break
    return (" ".join(words), found) if found else (text, found)


_WORDS = {one: one for one in METHODS} | {"drops": "drop_count", "kit": "liquid_kit", "laboratory": "lab"}


def how_in_words(taken: Taken) -> str:
    """How something was read: "at rest, strip, lot A12"; empty where nobody said."""
    parts = (STATE_WORDS[taken.state], METHODS.get(taken.method, ""), f"lot {taken.kit}" if taken.kit else "")
    return ", ".join(part for part in parts if part)


def doubts_of_how(taken: Taken, on: date) -> tuple[str, ...]:
    """Sentences about the way of reading: a kit past its day, a colour pad taken for a number."""
    found = []
    if taken.kit_expires is not None and taken.kit_expires < on:
        found.append(f"The kit was good until {taken.kit_expires}: a fresh one may show something else.")
    if taken.method == "strip" and taken.qualifier == "=" and not is_pad(taken):
        found.append("A strip's pad is no single number: better write what it lies between, as 5-10 or <1.")
    return tuple(found)
