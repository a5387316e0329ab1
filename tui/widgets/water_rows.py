"""The water at each point in the owner's units: boxes for the picture, rows for the table."""

from __future__ import annotations

from collections.abc import Sequence

import msgspec

from model.equipment.registry import title_of
from model.home import House
from model.plan_types import PointWater
from model.records.points import main_train
from model.units import System, display_unit, from_si
from model.water.limits import (
    CHLORIDE_MG_L,
    IRON_MG_L,
    MANGANESE_MG_L,
    NITRATE_LIMIT_MG_L_N,
    PH_HIGH,
    PH_LOW,
    SODIUM_RESTRICTED_MG_L,
    SULFATE_MG_L,
    TDS_MG_L,
)
from tui.widgets.train import Box

UNKNOWN = "–"
MARK = "!"
"""Before a number that is beyond a limit, where there is no room for the word."""


class Shown(msgspec.Struct, frozen=True):
    """One quantity as shown: its name, its dimension ("" for a bare number), its field of point or sample, decimals."""

    name: str
    dimension: str
    field: str
    decimals: int | None = None


PICTURED = (
    Shown("pH", "pH", "pH", 1),
    Shown("hardness", "hardness", "hardness_mg_l_caco3"),
    Shown("nitrate-N", "concentration", "nitrate_mg_l_n"),
    Shown("sodium", "concentration", "sodium_mg_l"),
)
"""What the picture shows at each point."""

TABLED = (
    Shown("pH", "pH", "pH", 1),
    Shown("Hardness", "hardness", "hardness_mg_l_caco3"),
    Shown("Alkalinity", "alkalinity", "alkalinity_mg_l_caco3"),
    Shown("Calcium", "concentration", "calcium_mg_l"),
    Shown("Magnesium", "concentration", "magnesium_mg_l"),
    Shown("Sodium", "concentration", "sodium_mg_l"),
    Shown("Potassium", "concentration", "potassium_mg_l"),
    Shown("Chloride", "concentration", "chloride_mg_l"),
    Shown("Sulfate", "concentration", "sulfate_mg_l"),
    Shown("Nitrate", "nitrate", "nitrate_mg_l_n"),
    Shown("Nitrate planned", "nitrate", "nitrate_planned_mg_l_n"),
    Shown("Iron", "concentration", "iron_mg_l"),
    Shown("Manganese", "concentration", "manganese_mg_l"),
    Shown("Dissolved solids", "concentration", "tds_mg_l"),
    Shown("Carbon dioxide", "concentration", "co2_mg_l"),
    Shown("Calcite satur. index", "", "calcite_saturation_index", 2),
    Shown("pH after airing", "pH", "aerated_pH", 1),
    Shown("Temperature", "temperature", "temperature_c", 0),
    Shown("Flow", "daily_flow", "flow_l_per_day", 0),
)
"""What the table shows, a row each."""


class Limit(msgspec.Struct, frozen=True, kw_only=True):
    """A published limit on a field: its bounds in the unit used inside, with the unit as words, and its source.

    `word` is for passing the upper bound; `at` says whether the bound itself is already over.
    """

    name: str
    field: str
    low: float | None = None
    high: float
    unit: str = " mg/L"
    word: str = "over"
    at: bool = False
    source: str = "secondary limit, 40 CFR 143.3"


_DRINKING = "drinking limit, 40 CFR 141; never for infants"
_RESTRICTED = "only for people held to 500 mg of sodium a day, EPA 822-R-03-006"

LIMITS = (
    Limit(
        name="Nitrate",
        field="nitrate_mg_l_n",
        high=NITRATE_LIMIT_MG_L_N,
        unit=" mg/L as N",
        at=True,
        source=_DRINKING,
    ),
    Limit(
        name="Nitrate planned",
        field="nitrate_planned_mg_l_n",
        high=NITRATE_LIMIT_MG_L_N,
        unit=" mg/L as N",
        at=True,
        source=_DRINKING,
    ),
    Limit(name="pH", field="pH", low=PH_LOW, high=PH_HIGH, unit=""),
    Limit(name="Iron", field="iron_mg_l", high=IRON_MG_L),
    Limit(name="Manganese", field="manganese_mg_l", high=MANGANESE_MG_L),
    Limit(name="Sulfate", field="sulfate_mg_l", high=SULFATE_MG_L),
    Limit(name="Chloride", field="chloride_mg_l", high=CHLORIDE_MG_L),
    Limit(name="Dissolved solids", field="tds_mg_l", high=TDS_MG_L),
    Limit(name="Sodium", field="sodium_mg_l", high=SODIUM_RESTRICTED_MG_L, word="note", source=_RESTRICTED),
)
"""What the table marks, the gravest first."""

_BY_FIELD = {limit.field: limit for limit in LIMITS}


def beyond(point: PointWater, field: str) -> str:
    """The word for a number beyond its limit: "over", "low" or "note"; "" where it is within or has none."""
    limit, value = _BY_FIELD.get(field), value_of(point, field)
    if limit is None or value is None:
        return ""
    if limit.low is not None and value < limit.low:
        return "low"
    return limit.word if value > limit.high or (limit.at and value >= limit.high) else ""


def limit_lines(points: Sequence[PointWater]) -> list[tuple[str, str]]:
    """What is marked, by quantity and word: the word, and which limit is passed where."""
    found: list[tuple[str, str]] = []
    for limit in LIMITS:
        where: dict[str, list[str]] = {}
        for point in points:
            word = beyond(point, limit.field)
            if word:
                where.setdefault(word, []).append(point.title)
        found += [(word, _passed(limit, word, titles)) for word, titles in where.items()]
    return found


def _passed(limit: Limit, word: str, titles: Sequence[str]) -> str:
    bound = (
        f"under {limit.low:g}"
        if word == "low"
        else f"at or over {limit.high:g}"
        if limit.at
        else f"over {limit.high:g}"
    )
    return f"{limit.name} {bound}{limit.unit} ({limit.source}): {', '.join(titles)}"


def value_of(point: PointWater, field: str) -> float | None:
    """A quantity of a point in the unit used inside, None where it is not known."""
    found = getattr(point, field, None) if hasattr(point, field) else getattr(point.sample, field, None)
    return found if isinstance(found, (int, float)) else None


def number(point: PointWater | None, shown: Shown, system: System) -> str:
    """A quantity without its unit, in the owner's units; a dash where it is not known."""
    value = value_of(point, shown.field) if point else None
    if value is None:
        return UNKNOWN
    if shown.dimension:
        value = from_si(value, display_unit(shown.dimension, system), shown.dimension)
    return digits(value, shown.decimals)


def digits(value: float, decimals: int | None = None) -> str:
    """A number for people: so many decimals, or about three digits without trailing zeros."""
    if decimals is not None:
        return f"{value:,.{decimals}f}"
    size = abs(value)
    text = f"{value:,.{0 if size >= 100 else 1 if size >= 1 else 2}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text in ("-0", "") else text


def unit_words(shown: Shown, system: System) -> str:
    """The unit of a row, "" for pH and for a bare number."""
    if not shown.dimension:
        return ""
    unit = display_unit(shown.dimension, system)
    return f"°{unit}" if shown.dimension == "temperature" else unit


def pictured_names(system: System) -> tuple[tuple[str, str], ...]:
    """Names and units of the rows of the picture."""
    return tuple((one.name, unit_words(one, system)) for one in PICTURED)


def boxes_of(house: House, points: Sequence[PointWater], *, ascii_only: bool = False) -> list[Box]:
    """The boxes of the picture: well, each stage of the main train, tap; hose and RO as branches."""
    at = {point.point: point for point in points}
    train = main_train(house)
    well = next((title_of(stage) for stage in house.stages if stage.id == "well"), "Well")
    titles = {stage.id: title_of(stage) for stage in house.stages}
    units = [
        (titles.get(one.stage, one.title), one) for one in points if one.point.startswith(("ro", "reverse_osmosis"))
    ]
    chain = [(well, at.get("source"))]
    for place, stage in enumerate(train):
        last = at.get("tap") if place == len(train) - 1 else None
        chain.append((title_of(stage), at.get(f"after_{stage.id}") or last))
    chain.append(("Tap", at.get("tap") or chain[-1][1]))
    branches = {0: [("Hose", at["hose"])] if "hose" in at else [], len(chain) - 1: units}
    before: PointWater | None = None
    boxes: list[Box] = []
    for place, (title, point) in enumerate(chain):
        hanging = tuple(_box(name, one, point, house.units, ascii_only) for name, one in branches.get(place, []))
        boxes.append(msgspec.structs.replace(_box(title, point, before, house.units, ascii_only), branches=hanging))
        before = point
    return boxes


def _box(title: str, point: PointWater | None, before: PointWater | None, system: System, ascii_only: bool) -> Box:
    return Box(title, tuple(_marked(point, before, shown, system, ascii_only) for shown in PICTURED))


def _marked(point: PointWater | None, before: PointWater | None, shown: Shown, system: System, ascii_only: bool) -> str:
    """A number, with an arrow where it differs from the point before."""
    now, then = number(point, shown, system), number(before, shown, system)
    if UNKNOWN in (now, then) or now == then or point is None or before is None:
        return now.replace(UNKNOWN, "-") if ascii_only else now
    rises = (value_of(point, shown.field) or 0.0) > (value_of(before, shown.field) or 0.0)
    up, down = ("^", "v") if ascii_only else ("↑", "↓")
    return f"{now} {up if rises else down}"


def distinct(points: Sequence[PointWater]) -> tuple[list[PointWater], list[str]]:
    """The points whose water differs from the point before, with the tap and the branches; titles of the others."""
    kept: list[PointWater] = []
    same: list[str] = []
    for point in points:
        passed = point.point.startswith("after_") and kept and point.sample == kept[-1].sample
        if passed:
            same.append(point.title)
        else:
            kept.append(point)
    return kept, same


def table_rows(
    points: Sequence[PointWater], system: System, *, in_words: bool = False
) -> list[tuple[str, tuple[str, ...]]]:
    """The rows of the table: name with unit, and the number at each point.

    A star marks what was assumed; what is beyond a limit has a mark before it, or with `in_words` the word for it.
    """
    return [
        (_row_name(shown, system), tuple(_cell(point, shown, system, in_words) for point in points)) for shown in TABLED
    ]


def _row_name(shown: Shown, system: System) -> str:
    unit = unit_words(shown, system)
    return f"{shown.name}, {unit}" if unit else shown.name


def _cell(point: PointWater, shown: Shown, system: System, in_words: bool) -> str:
    assumed = point.sample is not None and shown.field in point.sample.assumed
    word = beyond(point, shown.field)
    mark = f"{word} " if word and in_words else MARK if word else ""
    return mark + number(point, shown, system) + ("*" if assumed else " ")


def grouped_bases(points: Sequence[PointWater]) -> list[tuple[str, str]]:
    """What the numbers rest on: titles of the points that rest on the same, and on what."""
    found: dict[str, list[str]] = {}
    for point in points:
        found.setdefault(point.basis, []).append(point.title)
    return [(", ".join(titles), basis) for basis, titles in found.items() if basis]
