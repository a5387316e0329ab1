"""If the salt runs out, in words: a timeline with its numbers, warnings, and two charts. Knows no widgets."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date

import msgspec

from model.equipment.softener import Softener, has_anion_resin
from model.plan_types import PointWater
from model.units import System, display_unit, from_si, show
from model.water.limits import NITRATE_LIMIT_MG_L_N
from tui.widgets.cells import fit
from tui.widgets.chart import draw_chart
from tui.widgets.drawing import Chart, Drawing
from tui.widgets.water_rows import UNKNOWN, digits
from tui.words import day_words, from_now, short_day

_LEAST_DAYS = 14
_MARGIN = 1.25

INFANTS = (
    "For infants under 6 months use bottled water that was tested for nitrate, for drinking and formula, from the day "
    "the salt runs out, not from the day something is noticed. Boiling concentrates nitrate: never boil water to make "
    "it safe from nitrate. Ask your health authority and a certified lab."
)
_NOTHING_NOTICED = "Nitrate has no taste, smell or colour: only a test shows it, and soft water says nothing about it."


class SaltOut(msgspec.Struct, frozen=True, kw_only=True):
    """What the plan says of the softener without salt; None where it is not known.

    Levels at the tap [mg/L as N, mg/L as CaCO3]: `now` today, `then` once it has come through; `peak` the highest.
    `raw_nitrate_mg_l_n`: what is planned on in the well water.
    """

    softener: Softener
    salt_out: date | None = None
    hardness_shows: date | None = None
    nitrate_shows: date | None = None
    hardness_now_mg_l_caco3: float | None = None
    hardness_then_mg_l_caco3: float | None = None
    nitrate_now_mg_l_n: float | None = None
    nitrate_then_mg_l_n: float | None = None
    nitrate_peak_mg_l_n: float | None = None
    raw_nitrate_mg_l_n: float | None = None
    other_resin: str = ""
    other_shows: date | None = None
    other_peak_mg_l_n: float | None = None


class Stop(msgspec.Struct, frozen=True):
    """One line of the timeline: the day, what happens, hardness and nitrate at the tap from then on."""

    on: date
    what: str
    hardness_mg_l_caco3: float | None
    nitrate_mg_l_n: float | None


def salt_out_of(softener: Softener, report: Mapping[str, object], at: Mapping[str, PointWater]) -> SaltOut:
    """The numbers of the plan's report on the softener, and those of today at the points `at`."""
    told = report.get("if_salt_runs_out")
    found: Mapping[str, object] = told if isinstance(told, Mapping) else {}
    tap, source = at.get("tap"), at.get("source")
    raw = _planned(source)
    hard = _number(found.get("hardness_then_mg_l_caco3"))
    beside = found.get("with_other_resin")
    other: Mapping[str, object] = beside if isinstance(beside, Mapping) else {}
    return SaltOut(
        softener=softener,
        salt_out=_day(found.get("salt_out")),
        hardness_shows=_day(found.get("hardness_shows")),
        nitrate_shows=_day(found.get("nitrate_shows")),
        hardness_now_mg_l_caco3=tap.hardness_mg_l_caco3 if tap else None,
        hardness_then_mg_l_caco3=_fed_hardness(softener, at) if hard is None else hard,
        nitrate_now_mg_l_n=_tested(tap),
        nitrate_then_mg_l_n=_number(found.get("nitrate_then_mg_l_n")),
        nitrate_peak_mg_l_n=_number(found.get("nitrate_peak_mg_l_n")),
        raw_nitrate_mg_l_n=raw,
        other_resin=str(other.get("anion_type", "")).replace("_", "-"),
        other_shows=_day(other.get("nitrate_shows")),
        other_peak_mg_l_n=_number(other.get("nitrate_peak_mg_l_n")),
    )


def _planned(source: PointWater | None) -> float | None:
    if source is None or source.sample is None:
        return None
    planned = source.nitrate_planned_mg_l_n
    return _tested(source) if planned is None else planned


def _tested(point: PointWater | None) -> float | None:
    """Nitrate at a point, None where it was only assumed."""
    if point is None or point.sample is None or "nitrate_mg_l_n" in point.sample.assumed:
        return None
    return point.sample.nitrate_mg_l_n


def _fed_hardness(softener: Softener, at: Mapping[str, PointWater]) -> float | None:
    """Hardness at the last point before the softener."""
    before: float | None = None
    for name, point in at.items():
        if name in (f"after_{softener.id}", "tap"):
            break
        before = point.hardness_mg_l_caco3
    return before


def _day(value: object) -> date | None:
    if isinstance(value, date):
        return value
    try:
        return date.fromisoformat(value) if isinstance(value, str) else None
    except ValueError:
        return None


def _number(value: object) -> float | None:
    return float(value) if isinstance(value, int | float) and not isinstance(value, bool) else None


def missing(out: SaltOut, report: Mapping[str, object]) -> list[str]:
    """What is not known, in words; empty where all is."""
    told = []
    if out.hardness_then_mg_l_caco3 is None:
        told.append("Nothing is known of the water before the softener: have it tested for hardness and nitrate.")
    if "days_between_regenerations" not in report:
        told.append(
            "Nothing says how often the valve regenerates: set its meter or timer ({go.house}, House), "
            "or test the water."
        )
    if out.salt_out is None:
        told.append(
            "The day the salt runs out is not known: measure its depth ({reading}, Reading), and read the water meter."
        )
    elif out.hardness_shows is None:
        told.append("The day hardness comes through is not known: it needs the hardness before the softener.")
    if has_anion_resin(out.softener) and out.salt_out is not None and out.nitrate_shows is None:
        told.append("The day nitrate comes through is not known: it needs nitrate, sulfate and alkalinity of the well.")
    if out.raw_nitrate_mg_l_n is None:
        told.append("Nitrate of the well is not known: have it tested, every year.")
    return told


def timeline(out: SaltOut, today: date) -> list[Stop]:
    """Today, then what happens in order of day, each with the water at the tap from then on."""
    hard, nitrate = out.hardness_now_mg_l_caco3, out.nitrate_now_mg_l_n
    stops = [Stop(today, "as it is", hard, nitrate)]
    events = [
        (out.salt_out, "salt", "salt at its refill line"),
        (out.nitrate_shows, "nitrate", "nitrate comes through"),
        (out.hardness_shows, "hardness", "hardness comes through"),
    ]
    for on, kind, what in sorted(((on, k, w) for on, k, w in events if on is not None), key=lambda one: one[0]):
        hard = out.hardness_then_mg_l_caco3 if kind == "hardness" else hard
        nitrate = out.nitrate_then_mg_l_n if kind == "nitrate" else nitrate
        stops.append(Stop(on, what, hard, nitrate))
    return stops


_NARROW = 72
"""Below so many cells the timeline says no spans from today, so that each stop keeps its words."""


def timeline_lines(stops: list[Stop], today: date, width: int, system: System) -> list[str]:
    """The timeline as a table at most `width` cells wide."""
    narrow = width < _NARROW
    when, hard, nitrate = (14, 9, 10) if narrow else (26, 10, 12)
    what = max(width - when - hard - nitrate, 12)
    unit = display_unit("hardness", system)
    heads = (
        fit("", when)
        + fit("at the tap:", what, "right")
        + fit("hardness", hard, "right")
        + fit("nitrate-N", nitrate, "right")
    )
    units = fit("", when + what) + fit(unit.split(" as ")[0], hard, "right") + fit("mg/L", nitrate, "right")
    rows = [
        fit(_when(stop.on, today, short=narrow), when)
        + fit(stop.what, what)
        + fit(_hardness(stop, unit), hard, "right")
        + fit(nitrate_words(stop.nitrate_mg_l_n), nitrate, "right")
        for stop in stops
    ]
    return [heads, units, *rows]


def _when(on: date, today: date, *, short: bool = False) -> str:
    if on == today:
        return "Today"
    if short:
        return f"{short_day(on, today)}, past" if on < today else day_words(on, today)
    return f"{day_words(on, today)}, {'past' if on < today else from_now(on, today)}"


def _hardness(stop: Stop, unit: str) -> str:
    value = stop.hardness_mg_l_caco3
    return UNKNOWN if value is None else digits(from_si(value, unit, "hardness"))


def nitrate_words(value: float | None) -> str:
    """A level of nitrate [mg/L as N], with the word where it is at or over the limit."""
    if value is None:
        return UNKNOWN
    return f"{digits(value)} over" if value >= NITRATE_LIMIT_MG_L_N else digits(value)


def warnings(out: SaltOut, today: date, system: System) -> list[str]:
    """What to know and do, the gravest first."""
    told = []
    if out.salt_out is not None and out.salt_out <= today:
        told.append("The salt is reckoned to be at its refill line already. Look into the tank today.")
    told += _nitrate_warnings(out)
    told.append(INFANTS)
    if has_anion_resin(out.softener):
        told.append(_NOTHING_NOTICED)
    if out.hardness_then_mg_l_caco3 is not None:
        hard = show(out.hardness_then_mg_l_caco3, "hardness", system)
        told.append(f"Hard water of {hard} then reaches heater, lamp sleeve and RO membrane, which scale.")
    return told


def _nitrate_warnings(out: SaltOut) -> list[str]:
    if not has_anion_resin(out.softener):
        return ["This tank has no nitrate resin: only hardness comes back. Nitrate at the tap is that of the well now."]
    then, peak, raw = out.nitrate_then_mg_l_n, out.nitrate_peak_mg_l_n, out.raw_nitrate_mg_l_n
    highest = max((one for one in (then, peak) if one is not None), default=None)
    told = []
    if highest is not None and highest >= NITRATE_LIMIT_MG_L_N:
        told.append(
            f"Nitrate at the tap would be over the limit of {NITRATE_LIMIT_MG_L_N:g} mg/L as N (40 CFR 141): up to "
            f"{digits(highest)}. Not for drinking."
        )
    if out.softener.anion_type == "standard":
        above = (
            f": up to {digits(highest)} against {digits(raw)} mg/L as N" if highest and raw and highest > raw else ""
        )
        told.append(
            f"Standard resin gives up nitrate for sulfate, so the tap can get more nitrate than the well "
            f"water holds{above}."
        )
    elif highest is not None and raw is not None:
        told.append(f"Nitrate-selective resin lets nitrate come back to that of the well, {digits(raw)} mg/L as N.")
    return [*told, *_other(out)]


def _other(out: SaltOut) -> list[str]:
    """What the other kind of resin would do in this tank."""
    if out.other_peak_mg_l_n is None or not out.other_resin:
        return []
    when = f" from {out.other_shows}" if out.other_shows else ""
    return [f"With {out.other_resin} resin in this tank: up to {digits(out.other_peak_mg_l_n)} mg/L as N{when}."]


def series(stops: list[Stop], today: date, field: str, end: float) -> list[tuple[float, float]]:
    """A level at the tap against days from today, in steps; empty where it is not known."""
    points: list[tuple[float, float]] = []
    for stop in stops:
        value, day = getattr(stop, field), float(max((stop.on - today).days, 0))
        if value is None:
            return []
        if points:
            points.append((day, points[-1][1]))
        points.append((day, value))
    return [*points, (end, points[-1][1])] if points else []


def charts(
    out: SaltOut, stops: list[Stop], today: date, width: int, height: int, system: System, *, ascii_only: bool
) -> tuple[Chart, Chart]:
    """Nitrate with its limit, and hardness, against days from today, with an upright where the salt is out."""
    last = max((stop.on - today).days for stop in stops)
    end = float(round(max(last * _MARGIN, _LEAST_DAYS)))
    unit = display_unit("hardness", system)
    nitrate = series(stops, today, "nitrate_mg_l_n", end)
    hard = [(x, from_si(y, unit, "hardness")) for x, y in series(stops, today, "hardness_mg_l_caco3", end)]
    salt_out = [(float(max((out.salt_out - today).days, 0)), False)] if out.salt_out else []
    ticks = ((0.0, "today"), *((day, f"{day:.0f} days") for day in (end // 2.0, end)))
    blank = Drawing(ends=(0.0, end), uprights=salt_out, ticks=ticks, from_zero=True)
    limit = [(NITRATE_LIMIT_MG_L_N, f"limit {NITRATE_LIMIT_MG_L_N:g}")]
    of_nitrate = msgspec.structs.replace(blank, lines=[(nitrate, True)], levels=limit)
    of_hardness = msgspec.structs.replace(blank, lines=[(hard, True)])
    first, second = (draw_chart(one, width, height, ascii_only=ascii_only) for one in (of_nitrate, of_hardness))
    return first, second
