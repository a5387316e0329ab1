"""What the numbers of all stages share."""

from __future__ import annotations

from datetime import date, timedelta

from model.equipment.registry import AnyStage
from model.forecast.situation import Situation
from model.records.bounds import for_health, for_mean
from model.records.history import Dated
from model.records.points import canonical_point, main_train

Numbers = dict[str, object]


def number(numbers: Numbers, name: str) -> float:
    """A number of a report, 0 where it is absent."""
    value = numbers.get(name, 0.0)
    return float(value) if isinstance(value, int | float) else 0.0


def outlet_of(now: Situation, stage: AnyStage) -> str:
    """The point after a stage of the main train."""
    return canonical_point(now.house, f"after_{stage.id}")


def inlet_of(now: Situation, stage: AnyStage) -> str:
    """The point before a stage of the main train; the source for the first."""
    train = main_train(now.house)
    place = next((k for k, one in enumerate(train) if one.id == stage.id), 0)
    return f"after_{train[place - 1].id}" if place > 0 else "source"


def newest(now: Situation, quantity: str, points: tuple[str, ...], since: date | None = None) -> Dated | None:
    """The newest value of a quantity at the first of the points that has one, not before `since`."""
    for point in points:
        found = now.history.newest(quantity, point)
        if found is not None and (since is None or found.on >= since):
            return found
    return None


def near(now: Situation, quantity: str, points: tuple[str, ...], on: date, days: int) -> Dated | None:
    """The value of a quantity nearest to a day, at any of the points, within so many days of it."""
    least, most = on - timedelta(days=days), on + timedelta(days=days)
    found = [one for point in points for one in now.history.taken(quantity, point) if least <= one.on <= most]
    return min(found, key=lambda one: abs((one.on - on).days), default=None)


def in_water(one: Dated) -> float:
    """A measured value, the upper end of a pad; half of the limit where only "less than" was seen: common practice."""
    return for_mean(one.taken) if one.taken.qualifier == "<" else for_health(one.taken)
