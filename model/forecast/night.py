"""The least that runs at night: a house that sleeps draws nothing for an hour, unless something leaks."""

from __future__ import annotations

from datetime import date

from model.forecast.words import day_in_words
from model.records.history import History
from model.records.night_csv import NIGHT_FLOW
from model.units import System, show

STILL_L_PER_HOUR = 2.0
"""Above this in its stillest hour [L/h], a sleeping house does not sleep. From memory; owner's default."""
NIGHTS, LEAST_NIGHTS = 7, 5
"""How many nights are looked at, and how many of them must be on record. From memory; owner's default."""

_HOURS_A_DAY, _DAYS_A_MONTH = 24.0, 30.0


def night_flows(history: History) -> list[tuple[date, float]]:
    """The least hourly use of each night on record [L/h], by the day on which it ended, oldest first.

    Of several values for one night the one recorded last counts.
    """
    last: dict[date, tuple[int, float]] = {}
    for one in history.taken(NIGHT_FLOW):
        if one.on not in last or one.event >= last[one.on][0]:
            last[one.on] = (one.event, one.taken.value)
    return [(on, last[on][1]) for on in sorted(last)]


def leaks_by_night(history: History, today: date, system: System = "metric") -> str | None:
    """One sentence where water ran through every hour of each night of the last week, as from a leak; else None.

    Args:
        history: the log.
        today: the last night looked at ended on this day; at least five of the last seven must be on record.
        system: the owner's units, for the sentence.
    """
    nights = [(on, flow) for on, flow in night_flows(history) if 0 <= (today - on).days < NIGHTS]
    if len(nights) < LEAST_NIGHTS or any(flow <= STILL_L_PER_HOUR for _, flow in nights):
        return None
    on, least = min(nights, key=lambda night: night[1])
    a_day = least * _HOURS_A_DAY
    daily, monthly = show(a_day, "volume", system), show(a_day * _DAYS_A_MONTH, "volume", system)
    return (
        f"Water never stood still for an hour in any of the last {NIGHTS} nights ({len(nights)} on record): at least "
        f"{show(least, 'hourly_flow', system)} ran, on {day_in_words(on, today)}, which makes {daily} a day and "
        f"{monthly} a month: look for a toilet that runs, a dripping tap or a drain valve that leaks."
    )
