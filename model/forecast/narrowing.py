"""Which reading would tell most about a date."""

from __future__ import annotations

from datetime import date
from math import sqrt
from typing import NamedTuple

import msgspec

from model.equipment.base import Probe, Stock
from model.forecast.chance import day_of_chance, likely_out, used_by
from model.forecast.demand import Demand
from model.forecast.level import interval_log_variance

LEAST_DAYS, LEAST_SHARE = 2, 0.1
"""A window that would shrink by less is not worth a walk [day; share of the window]. Owner's default."""

STALE_DAYS = 3
"""A meter read so lately tells nothing new [day]. Owner's default."""


class Narrower(NamedTuple):
    """What to do, and the width of the window before and after it [day]."""

    do: str
    days_now: int
    days_then: int


def best_reading(stock: Stock, demand: Demand, earliest: date | None, latest: date | None) -> Narrower | None:
    """The reading after which the window from `earliest` to `latest` would be narrowest, if what is expected is read;
    None where none is worth it."""
    if earliest is None or latest is None or stock.left <= 0.0:
        return None
    if used_by(stock, demand, demand.today).amount >= stock.left:
        return None
    now = (latest - earliest).days
    found = [(probe.do, _width(looked_at(stock, demand, probe), demand)) for probe in stock.probes]
    if stock.per_litre > 0.0 and (demand.today - demand.read_until).days > STALE_DAYS:
        found.append(("Read the water meter", _width(_metered(stock, demand), demand)))
    do, then = min(((do, width) for do, width in found if width is not None), key=lambda one: one[1], default=("", now))
    if now - then < max(LEAST_DAYS, LEAST_SHARE * now):
        return None
    return Narrower(do, now, then)


def looked_at(stock: Stock, demand: Demand, probe: Probe) -> Stock:
    """The stock after a look that finds what is expected today: level and draw known better.

    Source: update of a Kalman filter, e.g. Bar-Shalom, Li and Kirubarajan, 2001, ch. 5.
    """
    used = used_by(stock, demand, demand.today)
    drawn = stock.spread**2
    level = stock.left_sd**2 + (used.amount * used.spread) ** 2 - 2.0 * used.amount * stock.covariance
    lean = stock.covariance - used.amount * drawn
    whole = max(level, 0.0) + probe.seen_sd**2
    return msgspec.structs.replace(
        stock,
        since=demand.today,
        left=max(stock.left - used.amount, 0.0),
        left_sd=sqrt(max(level, 0.0) * probe.seen_sd**2 / whole),
        spread=sqrt(max(drawn - lean**2 / whole, 0.0)),
        covariance=lean * probe.seen_sd**2 / whole,
    )


def _metered(stock: Stock, demand: Demand) -> Stock:
    """The stock as if the meter had been read today and showed what is expected."""
    days = float((demand.today - demand.read_until).days)
    level = demand.level.log_sd(demand.today.timetuple().tm_yday) ** 2
    read = demand.level.noise**2 * interval_log_variance(days)
    return msgspec.structs.replace(stock, as_if_read=True, water_known=stock.water_known * sqrt(read / (level + read)))


def _width(stock: Stock, demand: Demand) -> int | None:
    low, high = (day_of_chance(stock, demand, chance, likely_out) for chance in (0.1, 0.9))
    return None if low is None or high is None else (high - low).days
