"""What the treated house uses, and how sure that is: a day, and the next thirty."""

from __future__ import annotations

from datetime import date, timedelta

from model.forecast.demand import Demand
from model.forecast.numbers.common import Numbers
from model.forecast.situation import Situation
from model.plan_types import Fact

PERIOD_DAYS = 30
WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def numbers(now: Situation) -> Numbers:
    """10, 50 and 90 % points of a day at home [L/day] and of the next thirty days [L], absences counted; `weekdays`:
    use of each over the mean, Monday first, where the meter is read day by day."""
    low, expected, high = _day(now.demand, now.today)
    least, coming, most = _period(now.demand, now.today)
    found: Numbers = {
        "l_per_day": {"expected": expected, "low": low, "high": high},
        "next_30_days_l": {"expected": coming, "low": least, "high": most},
    }
    if now.demand.weekday is not None:
        found["weekdays"] = list(now.demand.weekday)
    return found


def facts(now: Situation) -> list[Fact]:
    """The same in words."""
    show, demand = now.known.show, now.demand
    low, expected, high = _day(demand, now.today)
    day = f"{show(expected, 'volume')}; 8 days in 10 {show(low, 'volume')} to {show(high, 'volume')}"
    least, coming, most = _period(demand, now.today)
    period = f"{show(coming, 'volume')}; 8 times in 10 {show(least, 'volume')} to {show(most, 'volume')}"
    rows = [("A day at home", day, demand.basis()), (f"Next {PERIOD_DAYS} days", period, "absences counted")]
    if demand.weekday is not None:
        place = max(range(7), key=lambda k: demand.weekday[k] if demand.weekday else 0.0)
        text = f"{WEEKDAYS[place]}s take {demand.weekday[place] - 1.0:.0%} more than the mean day"
        rows.append(("By weekday", text, "the meter read day by day"))
    return [Fact(stage="use", label=label, text=text, basis=basis) for label, text, basis in rows]


def _day(demand: Demand, today: date) -> tuple[float, float, float]:
    """Least, expected and most of a day at home [L/day]: the mean with the spread of the day's own band."""
    low, middle, high = demand.day_range(today)
    expected = demand.per_day()
    return (expected * low / middle, expected, expected * high / middle) if middle > 0.0 else (low, expected, high)


def _period(demand: Demand, today: date) -> tuple[float, float, float]:
    """Least, expected and most of the next thirty days [L]."""
    return demand.period(today, today + timedelta(days=PERIOD_DAYS))
