"""The ranges in which a setting can be: a file or a form with another value is refused with the path of the field.

They only keep out what cannot be, or cannot be reckoned with; what is merely unlikely is the labels' business.
"""

from __future__ import annotations

from typing import Annotated

from msgspec import Meta

_MOST, _LEAST = 1e9, 1e-9

Positive = Annotated[float, Meta(ge=_LEAST, le=_MOST)]
NotNegative = Annotated[float, Meta(ge=0, le=_MOST)]
Share = Annotated[float, Meta(ge=0, le=1)]
PartShare = Annotated[float, Meta(ge=0, lt=1)]
SomeShare = Annotated[float, Meta(ge=_LEAST, le=1)]
HoursADay = Annotated[float, Meta(ge=0, le=24)]
Percent = Annotated[float, Meta(ge=_LEAST, le=100)]
Exponent = Annotated[float, Meta(ge=1, le=10)]
Months = Annotated[int, Meta(ge=1, le=1200)]
LifeDays = Annotated[float, Meta(ge=1, le=36_500)]
Risk = Annotated[float, Meta(gt=0, lt=1)]
People = Annotated[float, Meta(ge=0, le=1000)]
Elevation = Annotated[float, Meta(ge=-500, le=9000)]
Days = Annotated[int, Meta(ge=0, le=3660)]
Hour = Annotated[int, Meta(ge=0, le=23)]
MonthNumber = Annotated[int, Meta(ge=1, le=12)]


def rising(what: str, low: float, high: float) -> None:
    """Refuse two settings of which the first has to be below the second. Raises ValueError, which msgspec reports."""
    if not low < high:
        raise ValueError(f"{what}: {low:g} has to be below {high:g}")
