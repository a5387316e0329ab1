"""How a quantity was read: the lines of the form, and which of them a quantity needs."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

from model.home import House
from model.records.how import AFTER_RESIN, HAS_STATE, METHODS, WITH_KIT, How, how
from model.records.points import passed_softener
from model.records.quantities import QUANTITIES
from tui.dialogs.form import Entry

if TYPE_CHECKING:
    from tui.view import View

_METHODS = (("", "not said"), *METHODS.items())
_STATES = (("", "not said"), ("flow", "flowing"), ("rest", "at rest, had stood"))
HOW_LINES = ("method", "kit", "kit_expires", "state", "since_regeneration")
"""The lines of the form on how it was read, as `how` names them."""


def how_entries(typed: Mapping[str, str]) -> tuple[Entry, ...]:
    """The lines, with what was typed before."""
    return (
        Entry(id="method", label="Read with", value=typed.get("method", ""), choices=_METHODS),
        Entry(id="kit", label="Lot of the kit", value=typed.get("kit", ""), hint="as printed, or empty"),
        Entry(id="kit_expires", label="Kit good until", value=typed.get("kit_expires", ""), hint="2027-03, or a day"),
        Entry(id="state", label="The water", value=typed.get("state", ""), choices=_STATES),
        Entry(
            id="since_regeneration",
            label="Run since regeneration",
            value=typed.get("since_regeneration", ""),
            hint="on the valve's screen, or empty",
        ),
    )


def how_asked(house: House, typed: Mapping[str, str]) -> frozenset[str]:
    """Which of the lines say something for what is chosen in the form."""
    quantity = QUANTITIES[typed["quantity"]]
    water = quantity.points == "water"
    wanted = {"method"} if water else set()
    if water and typed.get("method") in WITH_KIT:
        wanted |= {"kit", "kit_expires"}
    if quantity.id in HAS_STATE:
        wanted.add("state")
    if quantity.id in AFTER_RESIN and passed_softener(house, typed["point"]):
        wanted.add("since_regeneration")
    return frozenset(wanted)


def how_typed(view: View, typed: Mapping[str, str]) -> How:
    """How it was read; lines that are not shown say nothing. Raises BadInput."""
    wanted = how_asked(view.house, typed)
    said = {name: typed.get(name, "") if name in wanted else "" for name in HOW_LINES}
    return how(today=view.today, system=view.house.units, **said)
