"""What the treated house uses, and how sure that is: a day, and the next thirty."""

from __future__ import annotations

from datetime import timedelta

from model.forecast.numbers.common import Numbers
from model.forecast.situation import Situation
from model.plan_types import Fact

PERIOD_DAYS = 30
WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def numbers(now: Situation) -> Numbers:
    """10, 50 and 90 % points of a day at home [L/day] and of the next thirty days [L], absences counted; `weekdays`:
    use of each over the mean, Monday first, where the meter is read day by day."""
    low, middle, high = now.demand.day_range(now.today)
    expected = now.demand.per_day()
    if middle > 0.0:
        low, high = expected * low / middle, expected * high / middle
    least, coming, most = now.demand.period(now.today, now.today + timedelta(days=PERIOD_DAYS))
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
    low, middle, high = demand.day_range(now.today)
    share_low, share_high = (low / middle, high / middle) if middle > 0.0 else (1.0, 1.0)
    expected = demand.per_day()
    day = f"{show(expected, 'volume')}; 8 days in 10 {show(expected * share_low, 'volume')} to "
    day += show(expected * share_high, "volume")
    least, coming, most = demand.period(now.today, now.today + timedelta(days=PERIOD_DAYS))
    period = f"{show(coming, 'volume')}; 8 times in 10 {show(least, 'volume')} to {show(most, 'volume')}"
    rows = [("A day at home", day, demand.basis()), (f"Next {PERIOD_DAYS} days", period, "absences counted")]
    if demand.weekday is not None:
        place = max(range(7), key=lambda k: demand.weekday[k] if demand.weekday else 0.0)
        text = f"{WEEKDAYS[place]}s take {demand.weekday[place] - 1.0:.0%} more than the mean day"
        rows.append(("By weekday", text, "the meter read day by day"))
    return [Fact(stage="use", label=label, text=text, basis=basis) for label, text, basis in rows]
