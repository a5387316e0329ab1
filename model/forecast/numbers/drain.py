"""What goes to the drain in a week."""

from __future__ import annotations

from model.equipment.registry import AnyStage
from model.equipment.relations.drain import salt_kg_per_week, water_l_per_week
from model.equipment.reverse_osmosis import ReverseOsmosis
from model.equipment.softener import Softener
from model.forecast.numbers.common import Numbers, number
from model.forecast.numbers.softener import per_day
from model.forecast.points import ro_feed_l_per_day
from model.forecast.situation import Situation
from model.plan_types import Fact
from model.records.rules import current_rules, rule_in_words


def numbers(now: Situation) -> Numbers:
    """Water and salt sent to the drain in a week: regenerations, backwashes that are written down, RO reject."""
    water = salt = 0.0
    for stage in now.house.stages:
        if isinstance(stage, Softener):
            regenerations = 7.0 * sum(per_day(now, stage))
            water += water_l_per_week(regenerations, stage.regeneration_water_l)
            salt += salt_kg_per_week(regenerations, stage.salt_dose_kg)
        elif isinstance(stage, ReverseOsmosis):
            water += 7.0 * (ro_feed_l_per_day(now, stage) - now.demand.ro_product_l_per_day())
        else:
            water += _backwash_l_per_week(stage)
    return {"water_l_per_week": water, "salt_kg_per_week": salt} if water > 0 else {}


def _backwash_l_per_week(stage: AnyStage) -> float:
    """Backwash of a stage that has the two settings for it, 0 where they are not given."""
    litres, days = getattr(stage, "backwash_l", None), getattr(stage, "backwash_every_days", None)
    return 7.0 * float(litres) / float(days) if litres and days else 0.0


def facts(now: Situation, found: Numbers) -> list[Fact]:
    """The same in words."""
    if not found:
        return []
    water, salt = number(found, "water_l_per_week"), number(found, "salt_kg_per_week")
    text = f"{now.known.show(water, 'volume')} of water and {now.known.show(salt, 'mass')} of salt a week"
    return [Fact(stage="drain", label="To the drain", text=text, basis=_rule(now))]


def _rule(now: Situation) -> str:
    """The owner's own rules for brine and discharge, where written down."""
    known = current_rules(now.history)
    told = [
        f"your rule on {topic}: {rule_in_words(known[topic])}" for topic in ("brine", "discharge") if topic in known
    ]
    return "; ".join(told) or "check the local rule for septic fields"
