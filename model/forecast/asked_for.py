"""What the log asks for by a day of its own, from all that can ask."""

from __future__ import annotations

from model.forecast.exposed.dark import pipes_wanted
from model.forecast.follow_ups import follow_ups
from model.forecast.ran_out import recovery_wanted
from model.forecast.retests import retests
from model.forecast.situation import Situation
from model.forecast.wanted import Wanted, soonest
from model.forecast.watch import nitrate_watch


def wanted(now: Situation) -> dict[str, Wanted]:
    """What is asked for, by task ("stage.job"); worked out once for a situation."""
    return now.once(_soonest)


def _soonest(now: Situation) -> dict[str, Wanted]:
    asking = (follow_ups, retests, nitrate_watch, pipes_wanted, recovery_wanted)
    return soonest(one for ask in asking for one in ask(now))
