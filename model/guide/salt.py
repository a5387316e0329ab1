"""Answers about the brine tank, its salt and the regeneration."""

from __future__ import annotations

from datetime import date

from model.equipment.relations.brine import POTASSIUM_CHLORIDE, dissolved_kg
from model.equipment.relations.resin import thriftiest
from model.equipment.softener import Softener, has_anion_resin
from model.forecast.numbers.common import number
from model.forecast.numbers.softener import DOCTOR, WEAK_DOSE_SHARE, options
from model.forecast.words import amount_in_words
from model.guide.answering import Answerer, of
from model.guide.own import Own, plain
from model.guide.shape import Missing, Said
from model.records.rules import current_rules
from model.water.balance import hardness_mg_l_caco3

HUNG_DAYS, HUNG_CM = 14, 1.0
"""Salt that stood still for so many days [day] within so much [cm] may hang. Common practice, no source."""


@of(Softener)
def bridge(own: Own, stage: Softener) -> Said:
    """Whether the salt went on falling between the last two readings."""
    read = own.now.known.read(stage, "salt_depth", "refill_salt")
    missing = own.unread("salt_depth", stage.id) or ((own.ask("salt_depth", stage.id, "salt depth now"),))
    missing += own.unread("hardness", own.outlet(stage))
    if not read:
        return Said("Probe for it; no salt depth was read since the last refill.", missing)
    last = read[-1]
    text = f"Salt stood at {own.seen(last)}"
    before = next((one for one in reversed(read) if (last.on - one.on).days >= HUNG_DAYS), None)
    if before is not None and last.taken.value > before.taken.value - HUNG_CM:
        return Said(f"Perhaps a bridge: {text[0].lower()}{text[1:]}, no lower than on {own.day(before.on)}.", missing)
    due = own.due(stage, "refill_salt")
    if due is not None and due.remaining is not None:
        left = amount_in_words(due.remaining.value, due.remaining.unit, own.house.units)
        text += f", and by now {left} should be left above your refill line"
    return Said(f"{text}. If it has not sunk since, it hangs.", missing)


@of(Softener)
def how_much_salt(own: Own, stage: Softener) -> Said:
    """Salt a year as set, a month for each person, and with the thriftiest dose."""
    salt = number(own.numbers(stage), "salt_kg_per_year")
    if salt <= 0.0:
        return own.unknown_water()
    each = salt / 12.0 / own.house.people if own.house.people > 0 else 0.0
    text = f"Yours takes {own.show(salt, 'mass')} a year as it is set, {own.show(each, 'mass')} a month for each person"
    best = thriftiest(options(own.now, stage))
    if best is None:
        return Said(f"{text}.", own.raw_missing())
    dose, year = own.show(best.salt_kg, "mass"), own.show(best.salt_kg_per_year, "mass")
    return Said(f"{text}; regenerated with {dose} only when its water asks for it, about {year} would do.")


@of(Softener)
def which_salt(own: Own, stage: Softener) -> Said:
    """What the tank is set for."""
    salt = "potassium" if stage.regenerant == POTASSIUM_CHLORIDE else "sodium"
    text = f"Clean pellets or solar crystals of {salt} chloride, which yours is set for"
    supply = next((one for one in own.house.supplies if one.id == stage.supplies.get("salt")), None)
    text += f"; your list has {plain(supply.title)}" if supply is not None else ""
    potassium = f" {DOCTOR}" if salt == "potassium" else " Potassium only with a higher salt setting."
    return Said(f"{text}.{potassium}", () if supply else (Missing(what="the salt you buy: Shelf (4), then n"),))


@of(Softener)
def ran_out(own: Own, stage: Softener) -> Said:
    """When the salt runs out by these numbers, and what comes through when."""
    out = own.numbers(stage).get("if_salt_runs_out")
    cure = "Seldom ruined: fill, let the brine stand overnight, regenerate"
    cure += " twice, then have nitrate tested." if has_anion_resin(stage) else " once or twice."
    if not isinstance(out, dict):
        return Said(cure, (*own.raw_missing(), *own.unread("salt_depth", stage.id)))
    shows = [(name, out.get(f"{key}_shows")) for name, key in (("hardness", "hardness"), ("nitrate", "nitrate"))]
    then = ", ".join(f"{name} from {_day(own, on)}" for name, on in shows if on)
    return Said(
        f"{cure} By your numbers salt is out on {_day(own, out['salt_out'])}{f'; then {then}' if then else ''}."
    )


def _day(own: Own, iso: object) -> str:
    return own.day(date.fromisoformat(str(iso)))


@of(Softener)
def during_regeneration(own: Own, stage: Softener) -> Said:
    """The water that goes by while the valve regenerates."""
    fed, days = own.fed(stage), number(own.numbers(stage), "days_between_regenerations")
    often = f", every {days:.0f} days here" if days > 0.0 else ""
    if fed is None:
        return Said(f"Yes, but most valves then pass untreated water{often}.", own.raw_missing("nitrate"))
    hard, nitrate = own.show(hardness_mg_l_caco3(fed), "hardness"), f"{fed.nitrate_mg_l_n:.1f} mg/L as N of nitrate"
    text = f"Yes, but most valves then pass untreated water{often}: {hard} of hardness and {nitrate}."
    return Said(
        f"{text} Nobody should mix an infant's bottle or fill a fish tank then.", own.unread("nitrate", "source")
    )


@of(Softener)
def on_vacation(own: Own, stage: Softener) -> Said:
    """The override, and the next absence."""
    days, away = stage.regenerate_every_days, own.absence
    turns = f"Yours regenerates every {days:g} days even unused" if days else "Yours regenerates by use alone"
    gone = f"away from {own.day(away.on)} to {own.day(away.until)}" if away else "no absence is written down"
    missing = () if away else (Missing(what="days away, with the dates", command="wellward away FROM TO"),)
    return Said(f"Leave it in service, with salt in it, and regenerate just before you go. {turns}; {gone}.", missing)


@of(Softener)
def brine_level(own: Own, stage: Softener) -> Said:
    """Whether the fill water holds the dose."""
    fill, fed = stage.brine_fill_l, own.fed(stage)
    stands = f"Yours is written down as standing {own.show(stage.water_depth_cm, 'length')} high between cycles"
    dose = own.show(stage.salt_dose_kg, "mass")
    if fill is None or fed is None:
        missing = () if fill else (Missing(what="fill water of the brine tank for one regeneration: House (7)"),)
        return Said(f"{stands}; the dose is {dose}.", (*missing, *(own.raw_missing() if fed is None else ())))
    holds = dissolved_kg(fill, stage.regenerant, fed.temperature_c)
    enough = "enough for" if holds >= WEAK_DOSE_SHARE * stage.salt_dose_kg else "too little for"
    water = own.show(fill, "volume")
    return Said(f"{stands}. {water} of fill dissolves {own.show(holds, 'mass')}, {enough} your dose of {dose}.")


def septic(own: Own) -> Said:
    """What goes to the drain in a week."""
    sent = own.numbers("drain")
    if not sent:
        what = Missing(what="a softener, RO unit or backwash with its water: House (7)")
        return Said("Which rule holds here only your health authority can say; nothing is reckoned to drain.", (what,))
    missing = own.raw_missing() if own.now.source is None else ()
    water, salt = (own.show(number(sent, name), kind) for name, kind in _DRAINED)
    rule = current_rules(own.now.history).get("brine")
    decides = "whether it may, your local code decides"
    if rule is not None:
        decides = f"the rule you wrote down: {rule.text} ({rule.said_by}, asked {rule.checked_on})"
    return Said(f"Yours sends {water} of water and {salt} of salt a week; {decides}.", missing)


_DRAINED = (("water_l_per_week", "volume"), ("salt_kg_per_week", "mass"))

ANSWERS: dict[str, Answerer] = {
    "bridge": bridge,
    "how_much_salt": how_much_salt,
    "which_salt": which_salt,
    "ran_out": ran_out,
    "during_regeneration": during_regeneration,
    "on_vacation": on_vacation,
    "brine_level": brine_level,
    "septic": septic,
}
"""Question -> its answer."""
