"""The numbers of each kind of stage: for scripts, and in words for the screen."""

from __future__ import annotations

from model.equipment.neutralizer import Neutralizer, media_g_per_m3
from model.equipment.pressure_tank import PressureTank
from model.equipment.registry import AnyStage
from model.equipment.relations.pressure_tank import drawdown_l, starts_per_day
from model.equipment.reverse_osmosis import ReverseOsmosis, latest_rejection
from model.equipment.softener import Softener, regenerations_per_litre, run_length
from model.forecast.points import ro_feed_l_per_day
from model.forecast.situation import Situation
from model.plan_types import Fact

Numbers = dict[str, object]


def reports(now: Situation) -> dict[str, Numbers]:
    """Numbers by stage id, and "drain" for what goes to the drain. A number that cannot be known is absent."""
    found: dict[str, Numbers] = {}
    for stage in now.house.stages:
        numbers = _numbers(now, stage)
        if numbers:
            found[stage.id] = numbers
    drain = _drain(now)
    return {**found, "drain": drain} if drain else found


def _numbers(now: Situation, stage: AnyStage) -> Numbers:
    if isinstance(stage, Neutralizer):
        return _neutralizer(now, stage)
    if isinstance(stage, Softener):
        return _softener(now, stage)
    if isinstance(stage, ReverseOsmosis):
        return {
            "permeate_l_per_day": now.demand.ro_product_l_per_day(),
            "recovery": stage.recovery,
            "rejection": latest_rejection(stage, now.history),
        }
    if isinstance(stage, PressureTank):
        draw = drawdown_l(
            stage.volume_l, stage.precharge_bar, stage.cut_in_bar, stage.cut_out_bar, now.house.elevation_m
        )
        return {"drawdown_l": draw, "starts_per_day": starts_per_day(now.demand.per_day(), draw)}
    return {}


def _neutralizer(now: Situation, stage: Neutralizer) -> Numbers:
    fed, out = now.carried.fed[stage.id], now.carried.treated[stage.id]
    if fed is None or out is None:
        return {"bypass_share": stage.bypass_share}
    calcite, magnesia = media_g_per_m3(stage, fed, out)
    return {"media_g_per_m3": {"calcite": calcite, "magnesia": magnesia}, "bypass_share": stage.bypass_share}


def _softener(now: Situation, stage: Softener) -> Numbers:
    per_day = now.demand.per_day()
    per_litre, timed = regenerations_per_litre(stage, now.known.fed(stage), per_day)
    rate = per_litre * per_day + timed
    found: Numbers = {}
    if rate > 0:
        yearly = per_litre * now.demand.year_litres() + timed * 365.0
        found = {"days_between_regenerations": 1.0 / rate, "salt_kg_per_year": yearly * stage.salt_dose_kg}
    fed, out = now.carried.fed[stage.id], now.carried.treated[stage.id]
    if fed is not None and out is not None:
        found["sodium_added_mg_l"] = out.sodium_mg_l - fed.sodium_mg_l
    return found


def _drain(now: Situation) -> Numbers:
    """Water and salt sent to the drain in a week: regenerations and RO reject."""
    water = salt = 0.0
    per_day = now.demand.per_day()
    for stage in now.house.stages:
        if isinstance(stage, Softener):
            per_litre, timed = regenerations_per_litre(stage, now.known.fed(stage), per_day)
            weekly = 7.0 * (per_litre * per_day + timed)
            water, salt = water + weekly * stage.regeneration_water_l, salt + weekly * stage.salt_dose_kg
        elif isinstance(stage, ReverseOsmosis):
            water += 7.0 * (ro_feed_l_per_day(now, stage) - now.demand.ro_product_l_per_day())
    return {"water_l_per_week": water, "salt_kg_per_week": salt} if water > 0 else {}


def facts(now: Situation, numbers: dict[str, Numbers]) -> tuple[Fact, ...]:
    """The same numbers for people, in the owner's units, with what they rest on."""
    found: list[Fact] = []
    for stage in now.house.stages:
        found += _facts(now, stage, numbers.get(stage.id, {}))
    if drain := numbers.get("drain"):
        water, salt = _number(drain, "water_l_per_week"), _number(drain, "salt_kg_per_week")
        text = f"{now.known.show(water, 'volume')} of water and {now.known.show(salt, 'mass')} of salt a week"
        found.append(
            Fact(stage="drain", label="To the drain", text=text, basis="check the local rule for septic fields")
        )
    return tuple(found)


def _facts(now: Situation, stage: AnyStage, numbers: Numbers) -> list[Fact]:
    show = now.known.show
    if isinstance(stage, Neutralizer) and (media := numbers.get("media_g_per_m3")):
        assert isinstance(media, dict)
        text = f"{media['calcite']:.0f} g calcite, {media['magnesia']:.0f} g magnesia per m3"
        return [Fact(stage=stage.id, label="Media dissolved", text=text, basis="mass balance from pH and alkalinity")]
    if isinstance(stage, Softener):
        return _softener_facts(now, stage, numbers)
    if isinstance(stage, PressureTank):
        draw, starts = _number(numbers, "drawdown_l"), _number(numbers, "starts_per_day")
        text = f"{show(draw, 'volume')} a cycle, about {starts:.0f} pump starts a day"
        return [Fact(stage=stage.id, label="Draw-down", text=text, basis="Boyle's law at this elevation")]
    if isinstance(stage, ReverseOsmosis):
        made = show(_number(numbers, "permeate_l_per_day"), "volume")
        text = f"{made} a day drawn, rejection {_number(numbers, 'rejection'):.0%}, recovery {stage.recovery:.0%}"
        return [Fact(stage=stage.id, label="Product", text=text, basis="named uses; newest solids readings")]
    return []


def _softener_facts(now: Situation, stage: Softener, numbers: Numbers) -> list[Fact]:
    show, run = now.known.show, run_length(stage, now.known.fed(stage))
    found: list[Fact] = []
    if "days_between_regenerations" in numbers:
        days, salt = _number(numbers, "days_between_regenerations"), _number(numbers, "salt_kg_per_year")
        text = f"every {days:.1f} days, {show(salt, 'mass')} of salt a year"
        basis = "valve setting" if run.set_l or stage.control == "timed" else "worked out from the water"
        found.append(Fact(stage=stage.id, label="Regeneration", text=text, basis=basis))
    if run.by_hardness_l is not None:
        text = f"hardness allows {show(run.by_hardness_l, 'volume')}"
        if run.by_nitrate_l is not None:
            text += f", nitrate {show(run.by_nitrate_l, 'volume')}"
        found.append(Fact(stage=stage.id, label="One run", text=text, basis="capacity at this salt dose over the load"))
    if "sodium_added_mg_l" in numbers:
        sodium = _number(numbers, "sodium_added_mg_l")
        text = f"{sodium:.0f} mg/L, {sodium * 0.25:.0f} mg in a glass of 250 mL"
        found.append(Fact(stage=stage.id, label="Sodium added", text=text, basis="charge balance"))
    return found


def _number(numbers: Numbers, name: str) -> float:
    value = numbers.get(name, 0.0)
    return float(value) if isinstance(value, int | float) else 0.0
