"""Whether a meter can show a count, given what it showed before and after."""

from __future__ import annotations

from datetime import date
from operator import itemgetter

from model.errors import BadInput
from model.home import House
from model.records.doubts import refuse_meter
from model.records.events import MeterReplaced, Taken
from model.records.history import History
from model.units import show

REPLACE_METER = "well.replace_meter"
"""The job by which a meter is replaced: its record holds the old meter's last count and the new one's first."""

Count = tuple[date, int, float, float | None]
"""Day, event, count from which the meter goes on [L], count up to which it ran (None where not known)."""


def check_meter(house: House, history: History, taken: Taken, on: date) -> None:
    """Refuse a count that the meter cannot have shown on that day.

    `history` is the whole log, also what was read after that day.

    Raises:
        BadInput: the meter showed more before, or less after, with no replacement or roll-over between.
    """
    if taken.quantity != "meter":
        return
    counts = meter_counts(history)
    before = [count for count in counts if count[0] <= on]
    after = [count for count in counts if count[0] > on]
    if before:
        refuse_meter(taken, before[-1][2], house.meter_rolls_over_at_l, house.units)
    ran_to = after[0][3] if after else None
    if ran_to is not None and taken.value > ran_to and not house.meter_rolls_over_at_l:
        later = show(ran_to, "volume", house.units)
        raise BadInput(
            f"The meter cannot have shown {show(taken.value, 'volume', house.units)} on {on}: it showed {later} on "
            f"{after[0][0]}.",
            "Check the day and the count; if the meter was replaced, record well.replace_meter first.",
        )


def meter_counts(history: History) -> list[Count]:
    """Readings and replacements of the meter, by day and event.

    A reading ends one count and begins the next at the same figure; one with a new meter is left to that. A meter is
    replaced by an entry of its own, or by a service with the old meter's last count and the new one's first.
    """
    renewed = {one.id for one in history.services(REPLACE_METER)}
    found: list[Count] = [
        (one.on, one.event, one.taken.value, one.taken.value)
        for one in history.taken("meter")
        if one.event not in renewed
    ]
    found += [(one.on, one.id, one.new_reading_l, one.old_reading_l) for one in history.of(MeterReplaced)]
    for service in history.services(REPLACE_METER):
        read = [one.value for one in service.taken if one.quantity == "meter"]
        found.append((service.on, service.id, read[-1] if read else 0.0, read[0] if len(read) > 1 else None))
    return sorted(found, key=itemgetter(0, 1))
