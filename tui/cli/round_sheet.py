"""The command that prints the monthly round."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from model.forecast.present import present
from model.records.history import History
from model.upkeep.monthly_round import round_stops
from model.upkeep.round_sheet import sheet
from tui.cli.home_file import print_json, repository

if TYPE_CHECKING:
    from tui.cli.parser import Asked


def print_round(asked: Asked) -> int:
    """What to read this month, as a page to fill in."""
    home = repository(asked).load()
    house = present(home, asked.today)
    stops = round_stops(house, History(home.events, asked.today))
    if asked.json:
        print_json({"today": str(asked.today), "stops": msgspec.to_builtins(stops)})
    else:
        print("\n".join(sheet(house.name, asked.today, stops)))
    return 0
