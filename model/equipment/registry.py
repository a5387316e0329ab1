"""The kinds of stage. A new kind is one module, its checklists, and its row here."""

from __future__ import annotations

from model.equipment import (
    neutralizer,
    part,
    pressure_tank,
    reverse_osmosis,
    sediment_filter,
    softener,
    ultraviolet,
    well,
)
from model.equipment.base import Job
from model.equipment.neutralizer import Neutralizer
from model.equipment.part import Part
from model.equipment.pressure_tank import PressureTank
from model.equipment.reverse_osmosis import ReverseOsmosis
from model.equipment.sediment_filter import SedimentFilter
from model.equipment.softener import Softener
from model.equipment.ultraviolet import Ultraviolet
from model.equipment.well import Well

AnyStage = Well | PressureTank | SedimentFilter | Neutralizer | Softener | Ultraviolet | ReverseOsmosis | Part

KINDS: dict[str, tuple[type[AnyStage], str, tuple[Job, ...]]] = {
    "well": (Well, "Well", well.JOBS),
    "pressure_tank": (PressureTank, "Pressure tank", pressure_tank.JOBS),
    "sediment_filter": (SedimentFilter, "Sediment filter", sediment_filter.JOBS),
    "neutralizer": (Neutralizer, "Acid neutralizer", neutralizer.JOBS),
    "softener": (Softener, "Softener", softener.JOBS),
    "ultraviolet": (Ultraviolet, "Ultraviolet", ultraviolet.JOBS),
    "reverse_osmosis": (ReverseOsmosis, "Reverse osmosis", reverse_osmosis.JOBS),
    "part": (Part, "Part", part.JOBS),
}
"""Kind -> description type, title, jobs, in the order a train usually has them."""


def kind_of(stage: AnyStage) -> str:
    """The kind of a stage, as in its file ("softener" for the stage "softener_2")."""
    return str(stage.__struct_config__.tag)


def title_of(stage: AnyStage) -> str:
    """What the owner calls a stage, or the name of its kind."""
    return stage.title or KINDS[kind_of(stage)][1]


def jobs_of(stage: AnyStage) -> tuple[Job, ...]:
    """The jobs that a stage of this kind brings."""
    return KINDS[kind_of(stage)][2]
