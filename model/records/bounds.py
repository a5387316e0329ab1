"""What a bound or an interval counts as: one number for a mean, another for planning what protects health."""

from __future__ import annotations

from model.records.events import Taken


def is_pad(taken: Taken) -> bool:
    """Whether the value was read as an interval, from a colour pad."""
    return taken.high is not None and taken.high > taken.value


def top(taken: Taken) -> float:
    """The upper end of an interval, else the value itself, in the quantity's unit."""
    return taken.value if taken.high is None else max(taken.value, taken.high)


def for_mean(taken: Taken) -> float:
    """The value to reckon a composition with, in the quantity's unit.

    Half of the limit for a "less than", the middle of an interval, the number itself for a "more than".
    Common practice, no source.
    """
    if taken.qualifier == "<":
        return taken.value / 2.0
    return (taken.value + top(taken)) / 2.0


def for_health(taken: Taken) -> float:
    """The value to plan on where too little protects nobody, in the quantity's unit.

    The limit itself for a "less than", the upper end of an interval (a strip is rounded up one pad: in a study of 102
    homes the laboratory was higher than the strip in 81 % of the samples with nitrate), the number itself for a
    "more than", of which it is only the least. Common practice, no source.
    """
    return top(taken)
