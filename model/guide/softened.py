"""Answers about softened water: sodium, nitrate, hardness, feel, plants, smell."""

from __future__ import annotations

from model.equipment.relations.brine import POTASSIUM_CHLORIDE
from model.equipment.softener import Softener, has_anion_resin
from model.forecast.numbers.common import number
from model.forecast.numbers.softener import DOCTOR, run_of
from model.guide.answering import Answerer, of
from model.guide.own import Own
from model.guide.shape import Missing, Said
from model.water.balance import hardness_mg_l_caco3
from model.water.limits import PH_HIGH, sodium_mg_per_day, sodium_mg_per_glass

SOFT_MG_L_CACO3 = 17.1
"""Water under a grain a gallon is soft [mg/L as CaCO3]. Common practice, no source."""


@of(Softener)
def sodium(own: Own, stage: Softener) -> Said:
    """What softening adds, in a litre, in a glass and in a day."""
    found = own.numbers(stage)
    if "sodium_added_mg_l" not in found:
        return own.unknown_water("sodium")
    if stage.regenerant == POTASSIUM_CHLORIDE:
        added = number(found, "potassium_added_mg_l")
        glass = f"{sodium_mg_per_glass(added):.0f} mg a glass of 250 mL"
        return Said(f"None: it runs on potassium chloride and adds {added:.0f} mg/L of potassium, {glass}. {DOCTOR}")
    added, tap, ro = number(found, "sodium_added_mg_l"), own.water("tap"), own.water("ro")
    text = f"Your softener adds {added:.0f} mg/L of sodium: {sodium_mg_per_glass(added):.0f} mg a glass of 250 mL"
    if tap is not None and tap.sample is not None:
        there = tap.sample.sodium_mg_l
        text += f". The tap has {there:.0f} mg/L in all, {sodium_mg_per_day(there):.0f} mg in 2 L a day"
    text += f"; the RO tap {ro.sample.sodium_mg_l:.0f} mg/L" if ro is not None and ro.sample is not None else ""
    return Said(own.dated(f"{text}."), own.unread("sodium", "source", "sodium of the raw water, which is assumed"))


@of(Softener)
def takes_nitrate(own: Own, stage: Softener) -> Said:
    """What is in the tank, and what was measured before and after."""
    before, after = own.read("nitrate", "source"), own.read("nitrate", own.outlet(stage), "tap")
    told = [f"{name} {own.seen(one)}" for name, one in (("before it", before), ("after it", after)) if one]
    measured = f" Nitrate {', '.join(told)}.{own.over(after) if after else ''}" if told else ""
    missing = (*own.unread("nitrate", "source"), *(() if after else (own.ask("nitrate", own.outlet(stage)),)))
    if not has_anion_resin(stage):
        return Said(
            f"No: softening resin lets it by, and yours is written down without nitrate resin.{measured}", missing
        )
    resin = f"{own.show(stage.anion_resin_l, 'volume')} of {stage.anion_type.replace('_', '-')} anion resin"
    return Said(f"Softening resin does not; the {resin} in your tank does.{measured}", missing)


@of(Softener)
def resin_working(own: Own, stage: Softener) -> Said:
    """The newest nitrate after the resin, and how long a run nitrate allows."""
    if not has_anion_resin(stage):
        what = Missing(what="nitrate resin, its litres and type, if there is any: House (7)")
        return Said("No nitrate resin is written down here, so nothing in the softener holds nitrate.", (what,))
    run, point = run_of(own.now, stage), own.outlet(stage)
    after = own.read("nitrate", point, "tap")
    read = "Only a test tells, and none is on record."
    if after:
        read = f"Only a test tells: {own.seen(after)} after the resin.{own.over(after)}"
    missing = (*(() if after else (own.ask("nitrate", point, "nitrate just before a regeneration"),)),)
    missing += own.unread("nitrate", "source")
    if run.by_nitrate_l is None:
        return Said(
            f"{read} How long a run nitrate allows cannot be reckoned.", (*missing, *own.raw_missing("sulfate"))
        )
    allowed = f"nitrate allows {own.show(run.by_nitrate_l, 'volume')} between regenerations"
    basis = "by your own profile" if stage.profile_l else "reckoned"
    valve = f"; the valve is set to {own.show(run.set_l, 'volume')}" if run.set_l else ""
    return Said(f"{read} Here {allowed} ({basis}){valve}.", missing)


@of(Softener)
def hardness_to_set(own: Own, stage: Softener) -> Said:
    """The number for the valve."""
    found, fed = own.numbers(stage), own.fed(stage)
    if fed is None or "hardness_setting_gpg" not in found:
        return own.unknown_water()
    hard, grains = hardness_mg_l_caco3(fed), number(found, "hardness_setting_gpg")
    run = run_of(own.now, stage)
    first = run.by_nitrate_l is not None and run.by_hardness_l is not None and run.by_nitrate_l < run.by_hardness_l
    why = "raised because nitrate ends the run first" if first else "with the allowance for iron and manganese"
    text = f"{grains:.0f} gpg: {own.show(hard, 'hardness')} after all that stands before it, {why}."
    return Said(own.dated(text), own.unread("hardness", own.inlet(stage)))


def slippery(own: Own) -> Said:
    """Hardness and pH at the tap."""
    tap = own.water("tap")
    if tap is None or tap.sample is None:
        return own.unknown_water()
    hard, pH = tap.hardness_mg_l_caco3 or 0.0, tap.sample.pH
    now = f"Your tap has {own.show(hard, 'hardness')} at pH {pH:.1f}"
    missing = (*own.unread("hardness", "tap"), *own.unread("pH", "tap"))
    if pH > PH_HIGH:
        return Said(f"{now}: over 8.5, so it may be alkaline and not only soft.", missing)
    soft = (
        "soft water, which leaves no soap scum on the skin" if hard < SOFT_MG_L_CACO3 else "not soft, so look further"
    )
    return Said(own.dated(f"{now}: {soft}."), missing)


def plants(own: Own) -> Said:
    """Sodium at the tap against that of the hose or the raw water."""
    tap, raw = own.water("tap"), own.water("source")
    if tap is None or raw is None or tap.sample is None or raw.sample is None:
        return own.unknown_water("sodium")
    salty, plain_ = tap.sample.sodium_mg_l, raw.sample.sodium_mg_l
    where = "take the hose, which is untreated" if own.house.hose else "water before the train would be better"
    text = f"Now and then, not always: the tap has {salty:.0f} mg/L of sodium, the raw water {plain_:.0f}; {where}."
    return Said(own.dated(text), own.unread("sodium", "source", "sodium of the raw water, which is assumed"))


@of(Softener)
def fishy(own: Own, stage: Softener) -> Said:
    """The age of the anion resin."""
    if not has_anion_resin(stage):
        return Said("New nitrate resin smells so; none is written down here, so look for another cause.")
    new = own.done(stage, "replace_anion_resin") or stage.installed_on
    after = own.read("nitrate", own.outlet(stage), "tap")
    read = f" Nitrate after it: {own.seen(after)}." if after else ""
    missing = () if after else (own.ask("nitrate", own.outlet(stage)),)
    if new is None:
        return Said(
            f"When your resin was new is not on record.{read}",
            (*missing, Missing(what="the day it was put in: House (7)")),
        )
    years = (own.today - new).days / 365.25
    cause = "fresh resin gives off amines" if years < 1.0 else "not new any more, so it may be spent: test nitrate"
    return Said(f"Your nitrate resin is {years:.1f} years old: {cause}.{read}", missing)


ANSWERS: dict[str, Answerer] = {
    "sodium": sodium,
    "takes_nitrate": takes_nitrate,
    "resin_working": resin_working,
    "hardness_to_set": hardness_to_set,
    "slippery": slippery,
    "plants": plants,
    "fishy": fishy,
}
"""Question -> its answer."""
