"""What can be tried otherwise in a home: settings that move cost, salt, sodium, runs, media, waste or dates."""

from __future__ import annotations

import msgspec

from model.equipment.labels import Label
from model.equipment.neutralizer import Neutralizer
from model.equipment.registry import AnyStage, kind_of, title_of
from model.forecast.shelf import price_of
from model.forecast.situation import Situation
from model.forecast.what_if_home import MORE_WATER, TARGET_PH
from model.home import Use
from model.records.uses import find_use
from tui.widgets.settings import Field, house_fields, stage_fields, supply_fields

_STAGES: dict[str, tuple[str, ...]] = {
    "sediment_filter": ("rated_l", "cap_months"),
    "neutralizer": ("bypass_share",),
    "softener": (
        "salt_dose_kg",
        "regenerate_every_l",
        "regenerate_every_days",
        "control",
        "cation_resin_l",
        "anion_resin_l",
        "anion_type",
        "regenerant",
    ),
    "ultraviolet": ("lamp_life_h", "lit_hours_per_day", "rated_l_per_min", "rated_dose_mj_cm2"),
    "reverse_osmosis": (
        "rejection",
        "nitrate_rejection",
        "recovery",
        "rated_l_per_day",
        "membrane_months",
        "prefilter_l",
        "prefilter_months",
    ),
}
"""Kind of stage -> its settings that are listed, in this order."""

_MOST_L_PER_WEEK = 1e6
"""More than this no household draws for one purpose [L/week]. Owner's default."""


def fields_of(now: Situation) -> list[Field]:
    """What is listed, each with its value of today: people, uses, stages, prices."""
    house = now.house
    found = [one for one in house_fields(house) if one.name == "people"]
    found += [_use(one) for one in house.uses]
    if find_use(house.uses, MORE_WATER) is None:
        found.append(_use(Use(title=MORE_WATER, litres_per_week=0.0)))
    found += [field for stage in house.stages for field in _of_stage(now, stage)]
    for supply in house.supplies:
        (price,) = (one for one in supply_fields(supply, house.currency) if one.name == "price")
        label = msgspec.structs.replace(price.label, label=f"Price, {supply.title}")
        found.append(msgspec.structs.replace(price, label=label, value=price_of(now, supply)[0]))
    return found


def every_field(now: Situation) -> list[Field]:
    """What is listed, and every other setting: for those who name a path themselves."""
    house = now.house
    listed = fields_of(now)
    rest = [*house_fields(house), *(field for stage in house.stages for field in stage_fields(stage))]
    rest += [field for supply in house.supplies for field in supply_fields(supply, house.currency)]
    known = {one.path for one in listed}
    return [*listed, *(one for one in rest if one.path not in known)]


def _use(use: Use) -> Field:
    label = Label(f"{use.title}, a week", "volume", 0.0, _MOST_L_PER_WEEK, tells="a named use of water; 0 for none")
    return Field(path=f"uses.{use.title}", name="use", label=label, kind="number", value=use.litres_per_week)


def _of_stage(now: Situation, stage: AnyStage) -> list[Field]:
    by_name = {field.name: field for field in stage_fields(stage)}
    many = sum(kind_of(one) == kind_of(stage) for one in now.house.stages) > 1
    found = [by_name[name] for name in _STAGES.get(kind_of(stage), ())]
    if isinstance(stage, Neutralizer):
        found.append(_target(now, stage))
    return [_named(field, title_of(stage)) for field in found] if many else found


def _named(field: Field, stage_title: str) -> Field:
    label = msgspec.structs.replace(field.label, label=f"{field.label.label}, {stage_title}")
    return msgspec.structs.replace(field, label=label)


def _target(now: Situation, stage: Neutralizer) -> Field:
    """The pH after the neutralizer, reached by its blend valve."""
    out = now.carried.treated[stage.id]
    label = Label("Target pH", "", 5.0, 10.0, tells="the blend valve is set for it, as reckoned")
    value = round(out.pH, 2) if out else None
    return Field(path=f"stages.{stage.id}.{TARGET_PH}", name=TARGET_PH, label=label, kind="number", value=value)
