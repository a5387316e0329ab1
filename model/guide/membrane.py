"""Answers about the reverse-osmosis unit."""

from __future__ import annotations

from model.equipment.reverse_osmosis import ReverseOsmosis, rejections
from model.forecast.numbers.common import number
from model.forecast.numbers.reverse_osmosis import FLOW_FALL_SHARE, coldest_c, flows
from model.guide.answering import Answerer, of
from model.guide.own import Own
from model.guide.shape import Missing, Said
from model.records.bounds import for_health
from model.records.points import ro_point


def _nitrate_after(own: Own, stage: ReverseOsmosis) -> tuple[Missing, ...]:
    return own.unread("nitrate", ro_point(stage), "nitrate at the RO tap")


@of(ReverseOsmosis)
def membrane_or_cold(own: Own, stage: ReverseOsmosis) -> Said:
    """Flow corrected for cold and pressure, where it was read with both."""
    seen, found = flows(own.now, stage), own.numbers(stage)
    makes = f"At today's water it should make {own.show(number(found, 'permeate_l_per_day'), 'volume')} a day"
    needed = ("ro_flow", "feed_pressure")
    missing = [one for quantity in needed for one in own.unread(quantity, stage.id)]
    missing += own.unread("temperature", "source")
    if not seen:
        missing = missing or [own.ask("ro_flow", stage.id, "RO flow, with temperature and pressure on one day")]
        return Said(f"{makes}; what it makes was not read with temperature and pressure.", tuple(missing))
    ratio, day = seen[-1].ratio, own.day(seen[-1].on)
    text = f"Corrected for both it made {ratio:.0%} of its rating on {day}"
    if len(seen) > 1 and ratio < (1.0 - FLOW_FALL_SHARE) * seen[0].ratio:
        return Said(
            f"Not only the cold: {text[0].lower()}{text[1:]}, against {seen[0].ratio:.0%} at first.", tuple(missing)
        )
    return Said(f"{text}: what is missing now is the cold, then. {makes}.", tuple(missing))


@of(ReverseOsmosis)
def which_tds(own: Own, stage: ReverseOsmosis) -> Said:
    """Rejection by the newest pair, and when the membrane is done."""
    pairs = rejections(stage, own.now.history)
    line = f"change it under {stage.replace_below_rejection:.0%}"
    if not pairs:
        missing = (own.ask("ro_feed_tds", stage.id), own.ask("ro_product_tds", stage.id))
        return Said(
            f"What counts is the share kept back, and no pair was read; new {stage.rejection:.0%}, {line}.", missing
        )
    on, kept = pairs[-1]
    text = f"Yours kept back {kept:.0%} on {own.day(on)}; {line}. The change is {own.when(stage, 'replace_membrane')}."
    return Said(text)


@of(ReverseOsmosis)
def waste(own: Own, stage: ReverseOsmosis) -> Said:
    """Reject for each litre, and in a week."""
    each = (1.0 - stage.recovery) / stage.recovery
    weekly = number(own.numbers(stage), "reject_l_per_week")
    drawn = own.house.uses and any(use.point == "ro" for use in own.house.uses)
    missing = (
        () if drawn else (Missing(what="what you draw at the RO tap", command="wellward use Drinking VALUE --at ro"),)
    )
    text = f"Yours sends {each:.1f} parts to the drain for each one it makes (recovery {stage.recovery:.0%})"
    return Said(f"{text}: {own.show(weekly, 'volume')} a week.", missing)


@of(ReverseOsmosis)
def all_nitrate(own: Own, stage: ReverseOsmosis) -> Said:
    """Nitrate before and after."""
    after, before = own.read("nitrate", ro_point(stage)), own.read("nitrate", "tap")
    if after is None:
        return Said("No, and yours was never tested: a part always passes.", _nitrate_after(own, stage))
    text = f"No, a part always passes: {own.seen(after)} at the RO tap"
    over = own.over(after)
    if before is None or for_health(before.taken) <= 0.0:
        return Said(f"{text}.{over}", own.unread("nitrate", "tap"))
    return Said(f"{text}, {own.seen(before)} at the tap that feeds it.{over}")


@of(ReverseOsmosis)
def chlorine(own: Own, stage: ReverseOsmosis) -> Said:
    """The membrane at stake."""
    age = own.done(stage, "replace_membrane") or stage.installed_on
    since = f", in place since {own.day(age)}," if age else ""
    return Said(f"No: shut its feed and bypass it. The membrane{since} would be ruined in one night.")


@of(ReverseOsmosis)
def reservoir(own: Own, stage: ReverseOsmosis) -> Said:
    """Hours to fill in the cold, and the air charge."""
    hours = number(own.numbers(stage), "reservoir_fill_h_in_winter")
    cold = own.show(coldest_c(own.now, stage), "temperature")
    slow = (
        f"In your coldest water ({cold}) it fills in {hours:.0f} h" if hours > 0.0 else "How fast it fills is not known"
    )
    air = f"air belongs at {own.show(stage.reservoir_precharge_bar, 'pressure')}, empty"
    checked = f"Its air: {own.last(stage, 'reservoir_air')}."
    text = f"{slow}; {air}. A tank that is empty after one cup lost its air. {checked}"
    return Said(text, own.unread("ro_flow", stage.id))


def baby(own: Own) -> Said:
    """No, whatever the numbers."""
    raw, after = own.now.planned_nitrate_mg_l_n, own.read("nitrate", "ro")
    worst = f"Raw nitrate has reached {raw:.1f} mg/L as N (limit 10). " if raw is not None else ""
    last = f"The RO tap had {own.seen(after)}: one day's number." if after else "The RO tap was never tested."
    missing = (*own.unread("nitrate", "source"), *(() if after or not _has_ro(own) else (own.ask("nitrate", "ro"),)))
    return Said(f"No: tested bottled water for infant formula. {worst}{last if _has_ro(own) else ''}".strip(), missing)


def _has_ro(own: Own) -> bool:
    stage = own.first(ReverseOsmosis)
    return stage is not None and ro_point(stage) == "ro"


ANSWERS: dict[str, Answerer] = {
    "membrane_or_cold": membrane_or_cold,
    "which_tds": which_tds,
    "waste": waste,
    "all_nitrate": all_nitrate,
    "chlorine": chlorine,
    "reservoir": reservoir,
    "baby": baby,
}
"""Question -> its answer."""
