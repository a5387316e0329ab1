"""Answers about the acid neutralizer."""

from __future__ import annotations

from model.equipment.base import Stock
from model.equipment.neutralizer import Neutralizer, contact_bed
from model.equipment.relations.brine import cation_added_mg_l
from model.equipment.softener import Softener
from model.forecast.words import amount_in_words
from model.guide.answering import Answerer, of
from model.guide.own import Own
from model.guide.shape import Missing, Said
from model.records.history import Dated
from model.water.balance import hardness_mg_l_caco3
from model.water.limits import PH_LOW
from model.water.neutralizing import standing
from model.water.traces import COPPER_ACTION_MG_L, LEAD_ACTION_MG_L

CALCITE_FROM_PH = 6.0
"""Raw pH from which calcite alone is used. Common practice, no source."""

FED_UNDER_PH = 5.0
"""Raw pH below which a bed of calcite is not used and an alkali is fed instead. Common practice, no source."""


def _hardness(own: Own, stage: Neutralizer) -> tuple[float, float] | None:
    """Hardness before and after the bed [mg/L as CaCO3]."""
    fed, out = own.fed(stage), own.left(stage)
    return None if fed is None or out is None else (hardness_mg_l_caco3(fed), hardness_mg_l_caco3(out))


def _bed(own: Own, stage: Neutralizer) -> Stock | None:
    return next((one for one in own.now.stocks.get(stage.id, ()) if one.job == "top_up"), None)


@of(Neutralizer)
def bed_left(own: Own, stage: Neutralizer) -> Said:
    """What is reckoned left of the bed, and the rise in hardness that gives it away."""
    due, both = own.due(stage, "top_up"), _hardness(own, stage)
    missing = (*own.unread("bed_depth", stage.id), *own.unread("hardness", own.outlet(stage)))
    if due is None or due.remaining is None or both is None:
        return Said(own.unknown_water().text, (*own.raw_missing(), *missing))
    left = amount_in_words(due.remaining.value, due.remaining.unit, own.house.units)
    rise = f"from {own.show(both[0], 'hardness')} to {own.show(both[1], 'hardness')}"
    text = f"By your numbers {left} of media is left above the refill line; top-up {own.when(stage, 'top_up')}."
    return Said(f"{text} The bed lifts hardness {rise}: a smaller rise means a low bed.", missing)


@of(Neutralizer)
def how_much_media(own: Own, stage: Neutralizer) -> Said:
    """From the refill line to full, in this home's mix."""
    bed = _bed(own, stage)
    share = stage.magnesia_share
    mix = f"your mix has {share:.0%} magnesia by weight" if share > 0.0 else "yours is calcite alone"
    if bed is None or not bed.refills:
        return Said(f"How much it takes is not known yet; {mix}.", own.raw_missing())
    parts = [f"{own.show(kg, 'mass')} of {part}" for part, kg in bed.refills.items() if kg > 0.0]
    raw = own.water("source")
    acid = f" Raw pH {raw.sample.pH:.1f}: {_mix_words(raw.sample.pH)}." if raw and raw.sample else ""
    text = f"From the refill line to full: {' and '.join(parts) or 'nothing'}; {mix}.{acid}"
    return Said(text, own.unread("pH", "source"))


def _mix_words(raw_pH: float) -> str:
    if raw_pH >= CALCITE_FROM_PH:
        return "calcite alone is usual"
    if raw_pH >= FED_UNDER_PH:
        return "some magnesia is usual"
    return "too acid for a bed alone, ask a water treatment professional"


@of(Neutralizer)
def high_after_standing(own: Own, stage: Neutralizer) -> Said:
    """What standing does in this bed."""
    fed, point = own.fed(stage), own.outlet(stage)
    read, missing = own.read("pH", point, "tap"), own.unread("pH", point)
    last = f" Last read: pH {own.seen(read)}." if read else ""
    if fed is None:
        return Said(f"{own.unknown_water().text}{last}", (*own.raw_missing(), *missing))
    stood = standing(fed, contact_bed(stage, stage.full_bed_cm))
    if stage.magnesia_share > 0.0:
        said = f"Magnesia: your bed has {stage.magnesia_share:.0%}, and a first draw after a night may read pH "
        return Said(f"{said}{stood.low_pH:.1f} to {stood.high_pH:.1f} (a wide estimate).{last}", missing)
    said = f"Not from this bed: calcite alone stops near pH {stood.likely_pH:.1f} here. Doubt the meter first"
    return Said(f"{said}, then the media in the tank.{last}", missing)


@of(Neutralizer)
def makes_hard(own: Own, stage: Neutralizer) -> Said:
    """The rise in hardness, and the sodium that the softener gives for it."""
    both, softener = _hardness(own, stage), own.first(Softener)
    if both is None:
        return own.unknown_water()
    rise = max(both[1] - both[0], 0.0)
    text = f"Yes: it lifts hardness by {own.show(rise, 'hardness')}, to {own.show(both[1], 'hardness')}."
    if softener is not None:
        added = cation_added_mg_l(rise, softener.regenerant)
        ion = softener.regenerant.removesuffix("_chloride")
        text += f" It does not hurt the softener, which takes that out for {added:.0f} mg/L more {ion} and more salt."
    return Said(own.dated(text), own.unread("hardness", own.outlet(stage)))


def stains(own: Own) -> Said:
    """pH, copper and lead at the tap."""
    water, copper, lead = own.water("tap"), own.read("copper", "tap"), own.read("lead", "tap")
    told = [_against("copper", copper, COPPER_ACTION_MG_L, own), _against("lead", lead, LEAD_ACTION_MG_L, own)]
    pH = water.sample.pH if water and water.sample else None
    low = "" if pH is None else f"Your tap is at pH {pH:.1f}{', under 6.5' if pH < PH_LOW else ''}. "
    missing = [*own.unread("copper", "tap"), *own.unread("lead", "tap"), *own.unread("pH", "tap")]
    found = " ".join(one for one in told if one) or "Copper and lead were never tested at the tap."
    return Said(f"Most likely copper pipe is dissolving. {low}{found}", tuple(missing))


def _against(name: str, one: Dated | None, level_mg_l: float, own: Own) -> str:
    return "" if one is None else f"{name.capitalize()} {own.seen(one)} (action level {level_mg_l:g} mg/L)."


@of(Neutralizer)
def cloudy(own: Own, stage: Neutralizer) -> Said:
    """When the bed was last filled."""
    return Said(f"Fines of fresh media; they rinse out. Top-up: {own.last(stage, 'top_up')}.")


def which_pH(own: Own) -> Said:
    """The newest pH of the raw water from home and from the laboratory."""
    every = own.now.history.taken("pH", "source")
    home, lab = ([one for one in every if one.from_lab is wanted] for wanted in (False, True))
    told = [f"{who} {own.seen(rows[-1])}" for who, rows in (("you", home), ("laboratory", lab)) if rows]
    missing = () if home else (own.ask("pH", "source", "pH of the raw water, read on the spot"),)
    have = f" Raw water here: {', '.join(told)}." if told else " No pH of the raw water is on record."
    return Said(f"The one read fresh at the tap, if the kit is good; a sample changes on its way.{have}", missing)


def soda_ash(own: Own) -> Said:
    """By the raw pH."""
    raw = own.water("source")
    if raw is None or raw.sample is None:
        return own.unknown_water()
    pH = raw.sample.pH
    if pH >= CALCITE_FROM_PH:
        text = f"Not by your raw pH of {pH:.1f}: calcite is used from about 6 up."
        return Said(own.dated(text), own.unread("pH", "source"))
    verdict = "a bed with magnesia still serves" if pH >= FED_UNDER_PH else "then an alkali is usually fed by a pump"
    return Said(own.dated(f"Perhaps: raw pH is {pH:.1f}; {verdict}."), own.unread("pH", "source"))


@of(Neutralizer)
def backwash(own: Own, stage: Neutralizer) -> Said:
    """What is set."""
    days, litres = stage.backwash_every_days, stage.backwash_l
    if days is None or litres is None:
        return Said(
            "Every three days, or weekly, is common; yours is not written down.",
            (Missing(what="your backwash, days and water: House (7)"),),
        )
    weekly = own.show(7.0 * litres / days, "volume")
    return Said(f"Yours every {days:g} days with {own.show(litres, 'volume')}: {weekly} a week to the drain.")


ANSWERS: dict[str, Answerer] = {
    "bed_left": bed_left,
    "how_much_media": how_much_media,
    "high_after_standing": high_after_standing,
    "makes_hard": makes_hard,
    "stains": stains,
    "cloudy": cloudy,
    "which_pH": which_pH,
    "soda_ash": soda_ash,
    "backwash": backwash,
}
"""Question -> its answer."""
