"""Stretches of water use that only the owner can explain, and what may be a leak."""

from __future__ import annotations

from model.forecast.demand import Unusual
from model.forecast.night import leaks_by_night
from model.forecast.situation import Situation
from model.plan_types import Alert, Question

ASKED_DAYS = 90
"""How long after it ended a stretch is still asked about. Owner's default."""


def questions(now: Situation) -> tuple[Question, ...]:
    """Stretches with far more water than expected that nobody has explained, the newest first."""
    found = [one for one in now.demand.unusual() if one.goes_on or (now.today - one.end).days <= ASKED_DAYS]
    return tuple(_question(now, one) for one in reversed(found))


def _question(now: Situation, one: Unusual) -> Question:
    show, more = now.known.show, one.litres - one.expected_litres
    text = (
        f"From {now.known.day(one.start)} to {now.known.day(one.end)} the house took {show(one.litres, 'volume')}, "
        f"{show(more, 'volume')} more than expected: a leak, guests, watering?"
    )
    text += " It counts as going on." if one.goes_on else " It has ended since."
    return Question(start=one.start, end=one.end, litres=one.litres, expected_litres=one.expected_litres, text=text)


def use_alerts(now: Situation) -> list[Alert]:
    """Water that runs through every hour of the night, and use that has stayed up for no known reason."""
    found = []
    by_night = leaks_by_night(now.history, now.today, now.house.units)
    if by_night:
        found.append(Alert(level="warning", point="source", text=by_night))
    risen = now.demand.risen_since()
    if risen is not None:
        text = (
            f"The house has taken far more water than before since {now.known.day(risen)}. If nothing in the household "
            "changed, look for a leak: a toilet that runs, a drain valve, a hose. Then say what it was (Explain)."
        )
        found.append(Alert(level="warning", point="source", text=text))
    return found


def disagreements(now: Situation) -> list[Alert]:
    """Readings of a consumable that do not agree with what was reckoned, where no finding tells it; the earlier date
    stands until it is settled."""
    return [
        Alert(level="warning", point=f"after_{stage}", text=stock.finding)
        for stage, stocks in now.stocks.items()
        for stock in stocks
        if stock.finding and stock.unlike is None
    ]
