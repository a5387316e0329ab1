"""The kinds of stage. A new kind is one module, its checklists, and its row here."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import msgspec

from model.equipment import (
    bed,
    cartridge,
    neutralizer,
    part,
    pressure_tank,
    reverse_osmosis,
    ro_parts,
    salt,
    sediment_filter,
    softener,
    ultraviolet,
    well,
)
from model.equipment.base import Job, Stock
from model.equipment.evidence import Evidence
from model.equipment.neutralizer import Neutralizer
from model.equipment.part import Part
from model.equipment.pressure_tank import PressureTank
from model.equipment.reverse_osmosis import ReverseOsmosis
from model.equipment.sediment_filter import SedimentFilter
from model.equipment.softener import Softener
from model.equipment.ultraviolet import Ultraviolet
from model.equipment.well import Well
from model.records.history import History
from model.water.sample import Sample

AnyStage = Well | PressureTank | SedimentFilter | Neutralizer | Softener | Ultraviolet | ReverseOsmosis | Part


class Kind(msgspec.Struct, frozen=True):
    """One kind of stage: its description type, its title, all its jobs, the jobs of one such stage in its water,
    what it uses up, and what it does to the water (None where it changes nothing that is followed; the text is the
    point at its outlet)."""

    describes: type[AnyStage]
    title: str
    all_jobs: tuple[Job, ...]
    jobs: Callable[[Any, Sample | None], tuple[Job, ...]]
    stocks: Callable[[Any, Evidence], tuple[Stock, ...]] | None = None
    treat: Callable[[Any, Sample, History, str], Sample] | None = None
    branch: bool = False


KINDS: dict[str, Kind] = {
    "well": Kind(Well, "Well", well.JOBS, well.jobs),
    "pressure_tank": Kind(PressureTank, "Pressure tank", pressure_tank.JOBS, pressure_tank.jobs),
    "sediment_filter": Kind(
        SedimentFilter, "Sediment filter", sediment_filter.JOBS, sediment_filter.jobs, cartridge.stocks
    ),
    "neutralizer": Kind(
        Neutralizer, "Acid neutralizer", neutralizer.JOBS, neutralizer.jobs, bed.stocks, neutralizer.treat
    ),
    "softener": Kind(Softener, "Softener", softener.JOBS, softener.jobs, salt.stocks, softener.treat),
    "ultraviolet": Kind(Ultraviolet, "Ultraviolet", ultraviolet.JOBS, ultraviolet.jobs, ultraviolet.stocks),
    "reverse_osmosis": Kind(
        ReverseOsmosis,
        "Reverse osmosis",
        reverse_osmosis.JOBS,
        reverse_osmosis.jobs,
        ro_parts.stocks,
        reverse_osmosis.treat,
        branch=True,
    ),
    "part": Kind(Part, "Part", part.JOBS, part.jobs, part.stocks, branch=True),
}
"""The kinds by their tag in the file, in the order a train usually has them."""


def kind_of(stage: AnyStage) -> str:
    """The kind of a stage, as in its file ("softener" for the stage "softener_2")."""
    return str(stage.__struct_config__.tag)


def title_of(stage: AnyStage) -> str:
    """What the owner calls a stage, or the name of its kind, with its number from the second on."""
    kind = kind_of(stage)
    number = stage.id.removeprefix(f"{kind}_")
    return stage.title or KINDS[kind].title + (f" {number}" if number.isdigit() else "")


def kind_of_id(stage_id: str) -> str:
    """The kind that a stage's id names ("softener_2" -> "softener"); the stage may be gone from the house."""
    return stage_id.rstrip("_0123456789")


def job_title(task: str) -> str | None:
    """What the job of a task id is called, None where no kind of stage has it."""
    stage_id, _, job_id = task.partition(".")
    kind = KINDS.get(kind_of_id(stage_id))
    return next((job.title for job in kind.all_jobs if job.id == job_id), None) if kind else None
