"""Water at the tap that is far from neutral."""

from __future__ import annotations

from model.forecast.exposed.house import for_fish, for_ro
from model.forecast.exposed.line import Line, Rank, said
from model.forecast.situation import Situation
from model.forecast.words import day_in_words

ACID_BELOW, ALKALINE_ABOVE = 6.0, 9.5
"""pH below which water eats pipes fast, and above which it is flushed before drinking. From memory; owner's default;
the secondary limits are 6.5 and 8.5 (40 CFR 143.3)."""


def ph_lines(now: Situation) -> list[Line]:
    """A line where the newest pH of running water at the tap is far out."""
    newest = now.history.newest("pH", "tap")
    if newest is None:
        return []
    at = f"pH {newest.taken.value:.1f} at the tap on {day_in_words(newest.on, now.today)}"
    fish = for_fish(now, "Fish: no water change from the tap.")
    if newest.taken.value < ACID_BELOW:
        more = said("Drink only cold water, after the tap has run a minute.", for_ro(now, "The RO unit gets it too."))
        return [Line(Rank.METALS, f"{at}: it takes lead and copper out of pipes.", said(more, fish))]
    if newest.taken.value > ALKALINE_ABOVE:
        return [Line(Rank.METALS, f"{at}: strongly alkaline, do not drink it.", said("Flush, and read again.", fish))]
    return []
