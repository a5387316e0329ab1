"""What the valve does, as rows, warnings and charts in the owner's units. Knows no widgets."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec
from rich.cells import cell_len

from model.forecast.valve import Effect
from model.units import System, display_unit, from_si
from model.water.limits import PH_LOW
from model.water.neutralizing import Standing
from tui.widgets.cells import fit
from tui.widgets.chart import draw_chart
from tui.widgets.drawing import FINE, PLAIN, Chart, Drawing
from tui.widgets.water_rows import UNKNOWN, digits

MOST_PERCENT = 99
_STANDING_STEP = 5
_TABLE_STEP = 10


class Curve(msgspec.Struct, frozen=True, kw_only=True):
    """What has been worked out: the house by percent of bypass, standing water by every fifth percent, and today."""

    today: Effect | None = None
    by_percent: Mapping[int, Effect] = msgspec.field(default_factory=dict)
    standing: Mapping[int, Standing] = msgspec.field(default_factory=dict)

    def stood(self, percent: int) -> Standing | None:
        """Standing water at the nearest share that was worked out."""
        return self.standing.get(min(round(percent / _STANDING_STEP) * _STANDING_STEP, MOST_PERCENT))


class ValveRow(msgspec.Struct, frozen=True):
    """One row: its name with the unit, a field of `Effect`, its dimension and decimals."""

    name: str
    field: str
    dimension: str
    decimals: int | None = None


_ROWS = (
    ValveRow("pH of the house water", "pH", "pH", 2),
    ValveRow("Hardness after the tank", "hardness_mg_l_caco3", "hardness", 1),
    ValveRow("Sodium after softener", "sodium_mg_l", "concentration", 1),
    ValveRow("Potassium after softener", "potassium_mg_l", "concentration", 1),
    ValveRow("Salt a year, as set now", "salt_kg", "mass", 0),
    ValveRow("Salt a year, by load alone", "salt_by_load_kg", "mass", 0),
    ValveRow("Calcite a year", "calcite_kg", "mass", 1),
    ValveRow("Magnesia a year", "magnesia_kg", "mass", 1),
)


def rows_of(today: Effect) -> tuple[ValveRow, ...]:
    """The rows that this house has: no magnesia, potassium or salt where there is none."""
    kept = []
    for row in _ROWS:
        value = getattr(today, row.field)
        if value is None or (row.field in ("magnesia_kg", "potassium_mg_l") and value <= 0.0):
            continue
        if row.field == "salt_by_load_kg" and today.salt_by_load_kg == today.salt_kg:
            continue
        kept.append(row)
    return tuple(kept)


def row_name(row: ValveRow, system: System) -> str:
    """The name with its unit."""
    unit = display_unit(row.dimension, system) if row.dimension != "pH" else ""
    return f"{row.name}, {unit}" if unit else row.name


def value_in(effect: Effect, row: ValveRow, system: System) -> float | None:
    """The value of a row in the owner's unit."""
    value = getattr(effect, row.field)
    return None if value is None else from_si(value, display_unit(row.dimension, system), row.dimension)


def cells_of(row: ValveRow, today: Effect, here: Effect | None, system: System) -> tuple[str, str, str]:
    """Today, here, and the change between them."""
    before, now = value_in(today, row, system), value_in(here, row, system) if here else None
    told = [UNKNOWN if one is None else digits(one, row.decimals) for one in (before, now)]
    if before is None or now is None:
        return told[0], told[1], ""
    change = digits(now - before, row.decimals)
    still = not change.strip("-0.")
    return told[0], told[1], "same" if still else change if change.startswith("-") else f"+{change}"


def draw_rows(curve: Curve, percent: int, width: int, system: System, set_percent: str) -> list[str]:
    """The table as lines: a heading, then a row for each quantity."""
    today = curve.today
    if today is None:
        return []
    here = curve.by_percent.get(percent)
    each = 11 if width >= 76 else 9
    name = max(width - 3 * each, 10)
    heads = ("", f"now, {set_percent}", f"at {percent} %", "change")
    lines = [_line(heads, name, each)]
    lines += [_line((row_name(row, system), *cells_of(row, today, here, system)), name, each) for row in rows_of(today)]
    stood = curve.stood(percent)
    if stood is not None and stood.high_pH - stood.low_pH > 0.05:
        now = curve.stood(round(today.bypass_share * 100))
        told = [f"{one.low_pH:.1f}-{one.high_pH:.1f}" if one else "" for one in (now, stood)]
        lines.append(_line(("! After a night, pH (in doubt)", *told, ""), name, each))
    return lines


def _line(cells: tuple[str, ...], name: int, each: int) -> str:
    return fit(cells[0], name) + "".join(fit(cell, each, "right") for cell in cells[1:])


def share_rows(curve: Curve, system: System) -> list[str]:
    """The numbers of both charts, a line for each tenth of the share that was worked out; a heading first."""
    unit = display_unit("hardness", system)
    cells = [("Round the bed", "   pH", f"Hardness, {unit}")]
    for percent, one in sorted(curve.by_percent.items()):
        if percent % _TABLE_STEP == 0 or percent == MOST_PERCENT:
            hard = from_si(one.hardness_mg_l_caco3, unit, "hardness")
            cells.append((f"{percent} %", digits(one.pH, 2), digits(hard, 1)))
    return [
        "".join(fit(cell, cell_len(head) + 3, "right") for cell, head in zip(row, cells[0], strict=True))
        for row in cells
    ]


def warnings(here: Effect, floor_pH: float) -> list[str]:
    """What speaks against a setting, each in one line; empty where nothing does."""
    found = []
    if floor_pH > 0.0 and here.pH < floor_pH:
        found.append(f"pH {here.pH:.2f} is under your floor of {floor_pH:g}.")
    if here.pH < PH_LOW:
        found.append(f"pH {here.pH:.2f} is low: under {PH_LOW:g} (40 CFR 143.3) it takes lead and copper out of pipes.")
    if here.hardness_run_l is not None and here.set_run_l is not None and here.hardness_run_l < here.set_run_l:
        found.append("The softener is set to run longer than this hardness allows: set its meter anew.")
    if here.nitrate_run_l is not None and here.set_run_l is not None and here.nitrate_run_l < here.set_run_l:
        found.append("The softener is set to run longer than its nitrate resin holds: set its meter anew.")
    return found


def gauge(percent: int, width: int) -> str:
    """The share as a bar of plain marks, `width` cells wide."""
    room = max(width - 2, 1)
    filled = round(room * percent / 100.0)
    return f"[{'#' * filled}{'-' * (room - filled)}]"


_TICKS = tuple((float(percent), f"{percent} %") for percent in (0, 25, 50, 75, MOST_PERCENT))


def charts(
    curve: Curve, width: int, height: int, system: System, floor_pH: float, *, ascii_only: bool
) -> tuple[Chart, Chart]:
    """pH and hardness against the share of bypass, with an upright where the valve is set."""
    unit = display_unit("hardness", system)
    every = sorted(curve.by_percent.items())
    pH = [(float(percent), one.pH) for percent, one in every]
    hard = [(float(percent), from_si(one.hardness_mg_l_caco3, unit, "hardness")) for percent, one in every]
    levels = [(floor_pH, f"floor {floor_pH:g}")] if floor_pH > 0.0 else []
    set_now = [(curve.today.bypass_share * 100.0, False)] if curve.today else []
    blank = Drawing(ends=(0.0, float(MOST_PERCENT)), uprights=set_now, ticks=_TICKS)
    of_pH = msgspec.structs.replace(blank, lines=[(pH, True)], levels=levels)
    of_hardness = msgspec.structs.replace(blank, lines=[(hard, True)])
    first, second = (draw_chart(one, width, height, ascii_only=ascii_only) for one in (of_pH, of_hardness))
    return first, second


def chart_titles(system: System, width: int, *, ascii_only: bool = False) -> tuple[str, str]:
    """What the charts show and what their uprights mean, each fitted to its width."""
    marks = PLAIN if ascii_only else FINE
    hardness = f"Hardness, {display_unit('hardness', system)}"
    return fit(f"pH   {marks.now} here   {marks.upright} now", width), fit(hardness, width)
