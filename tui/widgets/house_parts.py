"""The house as a list of parts, each with its settings."""

from __future__ import annotations

import msgspec

from model.equipment.registry import AnyStage, kind_of, title_of
from model.home import ALL_MONTHS, House, Supply, Use
from model.records.points import main_train
from model.units import System, show
from tui.widgets.setting_text import show_value
from tui.widgets.settings import Field, house_fields, part_title, stage_fields, supply_fields
from tui.widgets.tables import Row
from tui.words import MONTHS

_POINTS = {"tap": "at the taps", "ro": "at the RO tap", "hose": "at the hose"}


class Part(msgspec.Struct, frozen=True, kw_only=True):
    """One entry of the list: its settings, and rows that are only shown. Without an id it is a heading."""

    id: str
    title: str
    indent: str = ""
    about: str = ""
    fields: tuple[Field, ...] = ()
    shown: tuple[tuple[str, str], ...] = ()
    stage: AnyStage | None = None

    def rows(self, system: System) -> list[Row]:
        """The rows of the table of settings."""
        own = [Row(field.path, (field.label.label, show_value(field, system))) for field in self.fields]
        return own + [Row(f"shown.{place}", row, "dim") for place, row in enumerate(self.shown)]


def parts_of(house: House) -> list[Part]:
    """The house itself, the train, its branches, what else stands there, the supplies and the named uses."""
    train = {stage.id for stage in main_train(house)}
    wells = [stage for stage in house.stages if kind_of(stage) == "well"]
    main = [*wells, *(stage for stage in house.stages if stage.id in train)]
    branches = [stage for stage in house.stages if kind_of(stage) == "reverse_osmosis"]
    loose = [stage for stage in house.stages if stage not in main and stage not in branches]
    parts = [
        Part(
            id="house",
            title="The house",
            fields=tuple(house_fields(house)),
            shown=(("Records begin on", house.started.isoformat()),),
        )
    ]
    for title, stages in (("Train, well to tap", main), ("Branches off the tap", branches), ("Parts", loose)):
        if stages:
            parts += [Part(id="", title=title), *(_stage(stage, house) for stage in stages)]
    if house.supplies:
        parts += [Part(id="", title="Supplies"), *(_supply(supply, house) for supply in house.supplies)]
    if house.uses:
        parts += [Part(id="", title="More water"), _uses(house)]
    return parts


def _stage(stage: AnyStage, house: House) -> Part:
    titles = {supply.id: supply.title for supply in house.supplies}
    parts = tuple((f"Part: {part_title(role)}", titles.get(name, name)) for role, name in stage.supplies.items())
    kind = title_of(msgspec.structs.replace(stage, title=""))
    return Part(
        id=f"stage.{stage.id}",
        title=title_of(stage),
        indent="  ",
        about="" if kind == title_of(stage) else kind,
        fields=tuple(stage_fields(stage)),
        shown=parts,
        stage=stage,
    )


def _supply(supply: Supply, house: House) -> Part:
    return Part(
        id=f"supply.{supply.id}",
        title=supply.title,
        indent="  ",
        about="What lies there now is on the Shelf screen.",
        fields=tuple(supply_fields(supply, house.currency)),
    )


def _uses(house: House) -> Part:
    rows = tuple((use.title, _use_words(use, house.units)) for use in house.uses)
    return Part(id="uses", title="Named uses", indent="  ", about="Water beyond what people use.", shown=rows)


def _use_words(use: Use, system: System) -> str:
    months = "" if use.months == ALL_MONTHS else f", {', '.join(MONTHS[month - 1] for month in use.months)}"
    return f"{show(use.litres_per_week, 'volume', system)} a week {_POINTS[use.point]}{months}"
