"""The house as a list of parts, each with its settings."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date

import msgspec

from model.equipment.registry import AnyStage, kind_of, title_of
from model.home import House, Supply, Use
from model.records.points import main_train
from model.records.uses import folded, months_in_words, place_in_words
from model.units import System, show
from tui.widgets.setting_text import show_value
from tui.widgets.settings import Field, house_fields, part_title, stage_fields, supply_fields
from tui.widgets.tables import Row


class Part(msgspec.Struct, frozen=True, kw_only=True):
    """One entry of the list: its settings, and rows that are only shown. Without an id it is a heading."""

    id: str
    title: str
    indent: str = ""
    about: str = ""
    fields: tuple[Field, ...] = ()
    shown: tuple[tuple[str, str], ...] = ()
    stage: AnyStage | None = None
    use: Use | None = None

    def rows(self, system: System, assumed: frozenset[str] = frozenset()) -> list[Row]:
        """The rows of the table of settings; those that nobody knew at set-up bear a question mark."""
        marks = {field.path: "  ?" if field.path in assumed else "" for field in self.fields}
        own = [Row(one.path, (one.label.label, show_value(one, system) + marks[one.path])) for one in self.fields]
        return own + [Row(f"shown.{place}", row, "dim") for place, row in enumerate(self.shown)]

    @property
    def said(self) -> tuple[str, ...]:
        """All that is said of it, to look for words in."""
        of_fields = (word for field in self.fields for word in field.said)
        return (self.title, self.about, *of_fields, *(word for row in self.shown for word in row))


def with_words(parts: Sequence[Part], holds: Callable[..., bool]) -> list[Part]:
    """The parts that hold the words looked for, and the headings above them."""
    found: list[Part] = []
    heading: list[Part] = []
    for part in parts:
        if not part.id:
            heading = [part]
        elif holds(*part.said):
            found += [*heading, part]
            heading = []
    return found


Later = Sequence[tuple[date, House]]
"""Days to come on which something changes, each with the house from then on."""


def parts_of(house: House, later: Later = ()) -> list[Part]:
    """The house itself, the train, its branches, what else stands there, the supplies and the named uses, also those
    that begin later."""
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
    if uses := _uses(house, later):
        parts += [Part(id="", title="More water"), *uses]
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


def _uses(house: House, later: Later) -> list[Part]:
    parts = [_use(use, house, "Ends on", _ends(use, later)) for use in house.uses]
    begun = {folded(use.title) for use in house.uses}
    for on, then in later:
        for use in then.uses:
            if folded(use.title) not in begun:
                begun.add(folded(use.title))
                parts.append(_use(use, house, "Counts from", on))
    return parts


def _ends(use: Use, later: Later) -> date | None:
    """The first day to come on which a use no longer counts."""
    return next((on for on, then in later if use not in then.uses), None)


def _use(use: Use, house: House, what: str, on: date | None) -> Part:
    return Part(
        id=f"use.{folded(use.title)}",
        title=use.title,
        indent="  ",
        about="Water beyond what people use.",
        shown=(
            ("Water a week", show(use.litres_per_week, "volume", house.units)),
            ("Drawn", place_in_words(use)),
            ("Months", months_in_words(use.months)),
            *([(what, on.isoformat())] if on else []),
        ),
        use=use,
    )
