"""The ultraviolet unit."""

from __future__ import annotations

from datetime import timedelta

from model.equipment.ultraviolet import Ultraviolet
from model.findings.readings import after, near, newest, newest_first, newest_of_all, rests, said, since_renewed
from model.findings.rules.stocks import stock_of
from model.findings.shape import Raised
from model.forecast.exposed.sensor import LOW_PERCENT, VERY_LOW_PERCENT
from model.forecast.situation import Situation
from model.plan_types import Level, Rests
from model.records.events import Service
from model.records.history import Dated

CLEANED_DAYS = 60
"""A sleeve cleaned within these days is clean. From memory; owner's default."""

COUNTED_SHARE, COUNTED_DAYS = 0.75, 14
"""A counter that rose by less than this share of the lit hours, over so many days or more. From memory; owner's
default."""

WARMER_C, RAW_DAYS = 10.0, 60
"""So much warmer than raw water of these days [degC]: a lamp in standing water. From memory; owner's default."""

_CLEANINGS = ("clean_sleeve", "replace_sleeve")


def lamp_silent(now: Situation, stage: Ultraviolet) -> Raised | None:
    """A lamp past its hours by the calendar while the unit's own counter stands below them, or was never read."""
    stock, counter = stock_of(now, stage, "replace_lamp"), newest(now, "lamp_hours", stage.id)
    if stock is None or stock.left >= 0.0 or (counter is not None and _shown(now, stage, counter) >= stage.lamp_life_h):
        return None
    lit, life = f"{stock.full - stock.left:,.0f} h", f"{stock.full:,.0f} h"
    fitted = now.known.renewed(stage, "replace_lamp")
    told = f"its counter showed {said(now, counter)}" if counter else "its counter was never read"
    text = f"Lit {lit} since {now.known.day(fitted)}, past its {life}, yet {told}: no alarm will come. Dose unknown."
    lamp = Rests(fitted, "Lamp fitted", stage.id, f"{lit} lit", _fitting(now, stage))
    return Raised("warning", text, (*rests(now, counter), lamp), () if counter else ("counter",))


def _shown(now: Situation, stage: Ultraviolet, counter: Dated) -> float:
    """What the counter shows today [h], lit as always since it was read."""
    return counter.taken.value + stage.lit_hours_per_day * (now.today - counter.on).days


def _fitting(now: Situation, stage: Ultraviolet) -> int:
    done = now.history.services(f"{stage.id}.replace_lamp")
    return done[-1].id if done else 0


def counter_behind(now: Situation, stage: Ultraviolet) -> Raised | None:
    """The unit's counter rose less from one reading to the next than a lamp that is always lit."""
    stock, counts = stock_of(now, stage, "replace_lamp"), since_renewed(now, stage, "lamp_hours", "replace_lamp")[-2:]
    if len(counts) < 2 or stock is None or stock.left < 0.0:
        return None
    old, new = counts
    days = (new.on - old.on).days
    rose, lit = new.taken.value - old.taken.value, stage.lit_hours_per_day * days
    if days < COUNTED_DAYS or rose >= COUNTED_SHARE * lit:
        return None
    text = (
        f"Its counter showed {said(now, new)}, {said(now, old)}; lit all the time it would have counted {lit:,.0f} h. "
        "If it was dark, germs may be in the pipes after it."
    )
    return Raised("warning", text, rests(now, new, old), ("reset",) if rose < 0.0 else ())


def warm_water(now: Situation, stage: Ultraviolet) -> Raised | None:
    """Water after the lamp much warmer than the well's of those days."""
    read = next(iter(newest_of_all(now, "temperature", after(now, stage))), None)
    raw = near(now, "temperature", ("source",), read.on, RAW_DAYS) if read else None
    if read is None or raw is None or read.taken.value < raw.taken.value + WARMER_C:
        return None
    text = f"Temperature {said(now, read)} after the UV, {said(now, raw)} in the raw water."
    return Raised("note", text, rests(now, read, raw))


def low_light(now: Situation, stage: Ultraviolet) -> Raised | None:
    """A weak sensor reading: of a sleeve that was just cleaned it says the lamp, else the sleeve first."""
    read = newest(now, "uv_intensity", stage.id)
    if read is None or read.taken.value >= LOW_PERCENT:
        return None
    cleaned = _cleaned(now, stage, read)
    told = f" after the sleeve was cleaned on {now.known.day(cleaned.on)}: the lamp, not the sleeve" if cleaned else ""
    text = f"Sensor {said(now, read)}{told}; under {LOW_PERCENT:.0f} % the dose is not to be counted on."
    before = next((one for one in newest_first(now, "uv_intensity", (stage.id,)) if one is not read), None)
    level: Level = "danger" if read.taken.value < VERY_LOW_PERCENT else "warning"
    return Raised(level, text, rests(now, read, before), ("lamp", "water") if cleaned else ())


def _cleaned(now: Situation, stage: Ultraviolet, read: Dated) -> Service | None:
    """The cleaning that this reading was taken after, not long before."""
    done = [one for job in _CLEANINGS for one in now.history.services(f"{stage.id}.{job}")[-1:]]
    for one in done:
        later = (read.on, read.event) > (one.on, one.id) or (read.event == one.id and read.taken.moment != "before")
        if later and read.on <= one.on + timedelta(days=CLEANED_DAYS):
            return one
    return None
