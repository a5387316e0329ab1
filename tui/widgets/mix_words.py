"""A mix of waters as lines: the waters with their parts, what the mix holds, and whether it can be drunk."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from rich.cells import cell_len

from model.equipment.registry import kind_of
from model.home import House
from model.plan_types import PointWater
from model.unit_tables import DH_MG_L, GPG_MG_L
from model.units import System
from model.water.balance import tds_mg_l
from model.water.mixes import Blend
from tui.widgets.cells import fit, tidy
from tui.widgets.water_rows import UNKNOWN, digits, distinct

MOST_PARTS = 99.0
_BATCH = 10.0
_WANTED = {"neutralizer": "neutralizer", "softener": "softener", "reverse_osmosis": "RO tap"}


def waters_of(points: Sequence[PointWater]) -> dict[str, PointWater]:
    """The points that can be mixed, by name: those with a known water of their own."""
    return {point.point: point for point in distinct(points)[0] if point.sample is not None}


def not_here(house: House) -> str:
    """Which usual waters this house cannot give, in words; "" where it has all."""
    kinds = {kind_of(stage) for stage in house.stages}
    lacking = [name for kind, name in _WANTED.items() if kind not in kinds]
    if not house.hose:
        lacking.append("hose")
    return f"Not in this house, so not in the list: {', '.join(lacking)}." if lacking else ""


def water_lines(
    waters: Mapping[str, PointWater], parts: Mapping[str, float], chosen: str, width: int, system: System
) -> list[str]:
    """A heading and a row for each water; the chosen one is marked."""
    total = sum(parts.values())
    batch = f"in {_BATCH:.0f} {'gal' if system == 'us' else 'L'}"
    widths = (8, 9, 11)
    name = max(width - sum(widths) - 2, 8)
    lines = [_row("  ", "", ("parts", "share", batch), name, widths)]
    for point, water in waters.items():
        part = parts.get(point, 0.0)
        share = part / total if total > 0.0 else 0.0
        cells = (f"{part:.3g}", f"{share * 100:.0f} %" if part else "", digits(share * _BATCH) if part else "")
        lines.append(_row("> " if point == chosen else "  ", tidy(water.title), cells, name, widths))
    return lines


def _row(mark: str, title: str, cells: Sequence[str], name: int, widths: Sequence[int]) -> str:
    numbers = (fit(cell, width, "right") for cell, width in zip(cells, widths, strict=True))
    return mark + fit(title, name) + "".join(numbers)


def facts_of(blend: Blend) -> list[tuple[str, str]]:
    """What the mix holds: names and numbers; assumed ions are starred."""
    water, hard = blend.sample, blend.hardness_mg_l_caco3
    guessed = "*" if "nitrate_mg_l_n" in water.assumed else ""
    rows = [
        ("pH fresh", f"{water.pH:.1f}"),
        ("pH after standing in air", f"{blend.standing_pH:.1f}"),
        ("Hardness, mg/L as CaCO3", digits(hard)),
        ("Hardness, gpg", digits(hard / GPG_MG_L)),
        ("Hardness, dH", digits(hard / DH_MG_L)),
        ("Alkalinity, mg/L as CaCO3", digits(water.alkalinity_mg_l_caco3)),
        ("Alkalinity, dKH", digits(water.alkalinity_mg_l_caco3 / DH_MG_L)),
        ("Dissolved solids, mg/L", digits(tds_mg_l(water))),
        ("Nitrate, mg/L as N", digits(water.nitrate_mg_l_n) + guessed),
        ("Nitrate, mg/L as NO3", digits(blend.nitrate_mg_l_no3) + guessed),
    ]
    ions = ("calcium", "magnesium", "sodium", "potassium", "chloride", "sulfate", "iron", "manganese")
    for ion in ions:
        field = f"{ion}_mg_l"
        star = "*" if field in water.assumed else ""
        rows.append((f"{ion.capitalize()}, mg/L", digits(getattr(water, field)) + star))
    return rows


def fact_lines(rows: Sequence[tuple[str, str]], width: int) -> list[str]:
    """Names and numbers in as many columns as the width allows, read downwards."""
    name = max((cell_len(one) for one, _ in rows), default=0)
    number = max((cell_len(one) for _, one in rows), default=0) + 2
    each = name + number
    columns = min(max(1, (width + 3) // (each + 3)), 3)
    deep = -(-len(rows) // columns)
    lines = []
    for place in range(deep):
        cells = rows[place::deep]
        lines.append("   ".join(fit(one, name) + fit(told, number, "right") for one, told in cells))
    return [fit(line, width).rstrip() for line in lines]


def default_parts(waters: Mapping[str, PointWater]) -> dict[str, float]:
    """One part of the tap and one of the RO tap, or of what comes nearest."""
    first = next((name for name in ("tap", "source") if name in waters), next(iter(waters), ""))
    second = next((name for name in waters if name.startswith(("ro", "reverse_osmosis"))), "")
    return {name: 1.0 if name and name in (first, second) else 0.0 for name in waters}


def title_or_dash(waters: Mapping[str, PointWater], name: str) -> str:
    """The title of a water."""
    return tidy(waters[name].title) if name in waters else UNKNOWN
