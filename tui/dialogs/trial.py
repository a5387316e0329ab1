"""Changes of the house tried before they are recorded: does the house stand as meant afterwards?"""

from __future__ import annotations

from datetime import date

import msgspec

from model.errors import BadInput
from model.forecast.present import Change, changed, check_ahead, present
from model.home import Home, House


def tried(home: Home, today: date, *events: Change) -> House:
    """The house as it will stand once the events are recorded, on the later of today and their day.

    Raises:
        BadInput: a change does not fit the house, or lies more than two years ahead.
    """
    house = present(home, today)
    for event in events:
        check_ahead(event.on, today)
        house = changed(house, event)
    last = max((event.id for event in home.events), default=0)
    numbered = tuple(msgspec.structs.replace(event, id=last + place) for place, event in enumerate(events, start=1))
    return present(Home(home.house, (*home.events, *numbered)), max(today, *(event.on for event in events)))


def value_at(house: House, path: str) -> object:
    """The value of a setting, None where its stage or supply is not there."""
    *way, name = path.split(".")
    if not way:
        return getattr(house, name)
    rows = house.stages if way[0] == "stages" else house.supplies
    return next((getattr(row, name) for row in rows if row.id == way[1]), None)


def refuse_unless(holds: bool, on: date) -> None:
    """Refuse a change that would have no effect because of its day."""
    if not holds:
        raise BadInput(
            f"From {on} this has no effect.", "Something recorded for a later day counts instead: give a later day."
        )
