"""What was seen of a stock, and what was done to it."""

from __future__ import annotations

from datetime import date
from typing import NamedTuple


class Mark(NamedTuple):
    """A level of a stock that someone saw (`level`), an amount put in (`added`), both in the stock's unit, or how often
    the valve had regenerated (`counted`). `refilled`: it belongs to a refill, whatever was put in.

    With none of them it only parts the time before from the time after.
    """

    on: date
    level: float | None
    added: float
    counted: float | None = None
    refilled: bool = False
