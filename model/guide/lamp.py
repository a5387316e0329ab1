"""Answers about the ultraviolet unit."""

from __future__ import annotations

from model.equipment.relations.lamp import HARDNESS_LIMIT_MG_L_CACO3, IRON_LIMIT_MG_L
from model.equipment.ultraviolet import Ultraviolet
from model.forecast.numbers.ultraviolet import feed, light
from model.guide.answering import Answerer, of
from model.guide.own import Own
from model.guide.shape import Missing, Said
from model.records.history import Dated

_GERMS = ("e_coli", "total_coliform")
_FOUND = "coliform, present or absent"


@of(Ultraviolet)
def lamp_year(own: Own, stage: Ultraviolet) -> Said:
    """Lit hours of the lamp, and the day of its change."""
    seen = light(own.now, stage)
    text = f"Yes, glow or no glow: yours has {seen.lit_h:,.0f} of {stage.lamp_life_h:,.0f} hours"
    missing = own.unread("lamp_hours", stage.id)
    if own.done(stage, "replace_lamp") is None:
        missing = (
            *missing,
            Missing(what="the day of the last lamp", command=f"wellward done {stage.id}.replace_lamp --on DATE"),
        )
    return Said(f"{text}, and its change is {own.when(stage, 'replace_lamp')}.", missing)


@of(Ultraviolet)
def low_dose(own: Own, stage: Ultraviolet) -> Said:
    """What is left of the light, by cause."""
    seen = light(own.now, stage)
    left = f"sleeve {seen.sleeve:.0%}, lamp {seen.lamp:.0%}, water {seen.water:.0%}"
    outside = f" Now outside its rating: {'; '.join(seen.outside)}." if seen.outside else ""
    read = own.read("uv_intensity", stage.id)
    last = f" Sensor {own.seen(read)}." if read else ""
    missing = (*own.unread("uv_intensity", stage.id), *own.unread("iron", "source"))
    text = f"First {own.instead()}. Sleeve, then lamp, water, sensor, ballast, flow; light reckoned left: {left}."
    return Said(f"{text}{outside}{last}", missing)


def power_was_off(own: Own) -> Said:
    """Whether germs were ever found in the raw water."""
    germs = _newest(own, "source")
    what = (
        f"the raw water's newest result is {own.seen(germs)}" if germs else "the raw water was never tested for germs"
    )
    if own.first(Ultraviolet) is None:
        text = f"No lamp is written down here, so the power cut took none away; {what}."
        return Said(text, () if germs else (own.ask("total_coliform", "source", _FOUND),))
    text = f"Water has passed a dark lamp, so {own.instead()} until the pipes are seen to; {what}."
    return Said(text, () if germs else (own.ask("total_coliform", "source", _FOUND),))


def _newest(own: Own, *points: str) -> Dated | None:
    """The newest result of either organism at these points; of one day, the one that found something."""
    every = [one for name in _GERMS for one in own.now.history.taken(name) if one.taken.point in points]
    return max(every, key=lambda one: (one.on, one.taken.value), default=None)


def found_after(own: Own) -> Said:
    """The newest result at the taps."""
    tap, raw = _newest(own, "tap", "ro"), _newest(own, "source")
    told = [f"{where} {own.seen(one)}" for where, one in (("tap", tap), ("raw water", raw)) if one is not None]
    have = f"On record: {', '.join(told)}." if told else "No result is on record here."
    points = (("tap", tap), ("source", raw))
    missing = tuple(own.ask("total_coliform", at, f"{_FOUND}, at {at}") for at, one in points if one is None)
    return Said(f"Most often the pipes after the lamp; {own.instead()}. {have}", missing)


@of(Ultraviolet)
def clean_sleeve(own: Own, stage: Ultraviolet) -> Said:
    """When it was last cleaned, and whether this water fouls it."""
    fed = feed(own.now, stage)
    limits = (("hardness", HARDNESS_LIMIT_MG_L_CACO3), ("iron", IRON_LIMIT_MG_L))
    over = [name for name, most in limits if fed.get(name, 0.0) > most]
    fouls = f"; {' and '.join(over)} of the water it gets is over what a lamp may be fed" if over else ""
    text = f"Yes: {own.last(stage, 'clean_sleeve')}, {own.when(stage, 'clean_sleeve')}{fouls}."
    missing = () if fed else own.raw_missing("iron")
    return Said(f"{text} Vinegar or citric acid, a soft cloth, clean gloves.", missing)


@of(Ultraviolet)
def lamp_on_holidays(own: Own, stage: Ultraviolet) -> Said:
    """The next absence."""
    away = own.absence
    gone = f"You are away from {own.day(away.on)} to {own.day(away.until)}. " if away else ""
    missing = () if away else (Missing(what="days away, with the dates", command="wellward away FROM TO"),)
    lit = f"yours is written down as lit {stage.lit_hours_per_day:g} hours a day"
    return Said(f"{gone}As its manual says, for makers disagree; {lit}.", missing)


@of(Ultraviolet)
def broken_lamp(own: Own, stage: Ultraviolet) -> Said:
    """When the next old lamp comes."""
    text = "To a household hazardous waste or lamp collection, never the bin"
    return Said(f"{text}. Your next old lamp: change {own.when(stage, 'replace_lamp')}.")


ANSWERS: dict[str, Answerer] = {
    "lamp_year": lamp_year,
    "low_dose": low_dose,
    "power_was_off": power_was_off,
    "found_after": found_after,
    "clean_sleeve": clean_sleeve,
    "lamp_on_holidays": lamp_on_holidays,
    "broken_lamp": broken_lamp,
}
"""Question -> its answer."""
