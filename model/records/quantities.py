"""What can be read and recorded: every quantity with its unit, where it is read, and what is possible or usual."""

from __future__ import annotations

import msgspec

from model.errors import UnknownName
from model.records.events import Qualifier, Taken
from model.units import NEEDS_BASIS, System, display_unit, echo, inside_unit, show


class Quantity(msgspec.Struct, frozen=True, kw_only=True):
    """One quantity. Limits are in `unit`, the unit used inside.

    `default_point`: where it is read unless said: a point of the train, a stage kind, or "house".
    `points`: "water" for any point of the train, "stage:<kinds>" on a stage of one of those kinds (joined by commas),
    "house" for the whole house. `needs_basis`: a bare mg/L says nothing. `needs_unit`: no unit is ever assumed.
    Outside `impossible_*` a value is refused, outside `unlikely_*` it is recorded with a warning.
    """

    id: str
    title: str
    dimension: str
    unit: str
    default_point: str
    points: str
    impossible_below: float | None
    impossible_above: float | None
    unlikely_below: float | None
    unlikely_above: float | None
    needs_basis: bool
    needs_unit: bool
    us_unit: str
    metric_unit: str
    help: str

    @property
    def name(self) -> str:
        """The title inside a sentence: "salt depth", but "pH" and "RO flow"."""
        return self.title if self.title[1].isupper() else self.title[0].lower() + self.title[1:]

    @property
    def kinds(self) -> tuple[str, ...]:
        """Kinds of stage on which it is read; empty for water and the house."""
        return tuple(self.points.removeprefix("stage:").split(",")) if self.points.startswith("stage:") else ()


Bounds = tuple[float | None, float | None]

# Denser than any well water: sea water holds about 35,000 mg/L in all (from memory).
_DISSOLVED: Bounds = (0.0, 50_000.0)
_GAUGE: Bounds = (0.0, 20.7)  # 300 psi, the burst test of NSF/ANSI 44 vessels: R. Andrew, WC&P 2013 to 2023
_COUNTED: Bounds = (0.0, 1e9)
_ALWAYS_WITH_UNIT = frozenset({"nitrate", "nitrite", "arsenic", "lead", "copper", "uranium"})


def _of(id_: str, title: str, dimension: str, at: str, possible: Bounds, usual: Bounds, help_: str) -> Quantity:
    """A quantity read at `at`: "house", a point of the train, or stage kinds joined by commas, the usual one first."""
    on_stage = at not in {"source", "tap", "ro", "house"}
    return Quantity(
        id=id_,
        title=title,
        dimension=dimension,
        unit=inside_unit(dimension),
        default_point=at.split(",")[0],
        points=f"stage:{at}" if on_stage else ("house" if at == "house" else "water"),
        impossible_below=possible[0],
        impossible_above=possible[1],
        unlikely_below=usual[0],
        unlikely_above=usual[1],
        needs_basis=dimension in NEEDS_BASIS,
        needs_unit=id_ in _ALWAYS_WITH_UNIT,
        us_unit=display_unit(dimension, "us"),
        metric_unit=display_unit(dimension, "metric"),
        help=help_,
    )


_GAUGES = "sediment_filter,neutralizer,softener,ultraviolet,reverse_osmosis"

# Usual ranges: from memory; owner's default. Where a limit has a source, it stands beside the row.
_ALL = (
    _of("meter", "Water meter", "volume", "house", (0.0, 1e10), (None, None), "digits on the meter, never reset"),
    _of(
        "night_flow",
        "Night flow",
        "hourly_flow",
        "house",
        (0.0, 20_000.0),
        (None, 200.0),
        "the least that ran through the meter in any hour of a night",
    ),
    _of(
        "salt_depth", "Salt depth", "length", "softener", (0.0, 250.0), (None, 125.0), "from the tank floor to the salt"
    ),
    _of(
        "brine_level",
        "Water in the brine tank",
        "length",
        "softener",
        (0.0, 250.0),
        (None, 90.0),
        "from the tank floor to the water",
    ),
    _of(
        "days_since_regeneration",
        "Days since regeneration",
        "days",
        "softener",
        (0.0, 3650.0),
        (None, 14.0),
        "on the valve's screen",
    ),
    _of(
        "water_since_regeneration",
        "Water since regeneration",
        "volume",
        "softener",
        (0.0, 1e6),
        (None, 20_000.0),
        "on the valve's screen, or by the meter",
    ),
    _of(
        "brine_draw",
        "Brine draw and rinse",
        "time",
        "softener",
        (0.0, 36_000.0),
        (300.0, 7200.0),
        "how long the tank's water takes to be drawn in, one regeneration watched",
    ),
    _of(
        "drain_runs",
        "Drain runs in one cycle",
        "count",
        "softener,neutralizer",
        (0.0, 100.0),
        (1.0, 12.0),
        "how often the drain runs, one regeneration or backwash watched",
    ),
    _of("bed_depth", "Media bed depth", "length", "neutralizer", (0.0, 200.0), (30.0, 120.0), "depth of the media bed"),
    _of(
        "freeboard",
        "Freeboard",
        "length",
        "neutralizer",
        (0.0, 200.0),
        (15.0, 100.0),
        "from the tank's rim to the media",
    ),
    _of("pressure_in", "Pressure before", "pressure", _GAUGES, _GAUGE, (None, 6.9), "gauge before, one tap fully open"),
    _of("pressure_out", "Pressure after", "pressure", _GAUGES, _GAUGE, (None, 6.9), "gauge after, one tap fully open"),
    _of("cut_in", "Cut-in pressure", "pressure", "pressure_tank", _GAUGE, (1.0, 3.5), "where the pump starts"),
    _of("cut_out", "Cut-out pressure", "pressure", "pressure_tank", _GAUGE, (2.0, 5.6), "where the pump stops"),
    _of(
        "precharge",
        "Air precharge",
        "pressure",
        "pressure_tank",
        _GAUGE,
        (0.7, 4.2),
        "air in the tank, emptied of water",
    ),
    _of(
        "drawdown",
        "Draw-down",
        "volume",
        "pressure_tank",
        (0.0, 5000.0),
        (4.0, 230.0),
        "water between cut-out and cut-in",
    ),
    _of(
        "run_time", "Pump run time", "time", "pressure_tank", (0.0, 86_400.0), (30.0, 600.0), "seconds of one pump run"
    ),
    _of(
        "feed_pressure",
        "RO feed pressure",
        "pressure",
        "reverse_osmosis",
        _GAUGE,
        (2.0, 6.9),
        "gauge before the membrane",
    ),
    _of(
        "ro_flow",
        "RO flow",
        "daily_flow",
        "reverse_osmosis",
        (0.0, 10_000.0),
        (10.0, 800.0),
        "product water made in a day",
    ),
    _of(
        "ro_feed_tds", "RO feed solids", "concentration", "reverse_osmosis", _DISSOLVED, (10.0, 2000.0), "solids before"
    ),
    _of(
        "ro_product_tds",
        "RO product solids",
        "concentration",
        "reverse_osmosis",
        _DISSOLVED,
        (None, 200.0),
        "solids after",
    ),
    _of(
        "lamp_hours",
        "Lamp hours",
        "lit_time",
        "ultraviolet",
        (0.0, 200_000.0),
        (None, 18_000.0),
        "hours on the unit's counter",
    ),
    _of("uv_intensity", "UV intensity", "percent", "ultraviolet", (0.0, 100.0), (50.0, None), "sensor reading"),
    _of(
        "regenerations", "Regenerations", "count", "softener", (0.0, 100_000.0), (None, 5000.0), "counter on the valve"
    ),
    _of(
        "static_level",
        "Static water level",
        "water_level",
        "well",
        (0.0, 1000.0),
        (None, 200.0),
        "from the top of the casing down to the water, pump at rest",
    ),
    _of(
        "pumping_level",
        "Pumping water level",
        "water_level",
        "well",
        (0.0, 1000.0),
        (None, 250.0),
        "from the top of the casing down to the water, pump running",
    ),
    _of("well_yield", "Well yield", "flow", "well", (0.0, 5000.0), (4.0, 400.0), "what the well gives, held for hours"),
    _of("pump_current", "Pump current", "current", "well", (0.0, 300.0), (1.0, 40.0), "the highest leg, pump running"),
    _of("pump_voltage", "Pump voltage", "voltage", "well", (0.0, 1000.0), (100.0, 480.0), "pump running"),
    _of("pH", "pH", "pH", "tap", (0.0, 14.0), (4.5, 9.5), "cold water, fresh, not shaken"),
    _of(
        "temperature",
        "Water temperature",
        "temperature",
        "source",
        (0.0, 100.0),
        (2.0, 30.0),
        "cold water, run a while",
    ),
    _of("hardness", "Hardness", "hardness", "tap", _DISSOLVED, (None, 520.0), "gpg, dH or mg/L as CaCO3; cold tap"),
    _of("alkalinity", "Alkalinity", "alkalinity", "tap", _DISSOLVED, (None, 500.0), "KH; mg/L as CaCO3 or as HCO3"),
    _of("nitrate", "Nitrate", "nitrate", "tap", _DISSOLVED, (None, 50.0), "always with its basis: as N or as NO3"),
    _of("nitrite", "Nitrite", "nitrite", "tap", _DISSOLVED, (None, 1.0), "always with its basis: as N or as NO2"),
    _of("iron", "Iron", "concentration", "source", _DISSOLVED, (None, 20.0), "mg/L"),
    _of("manganese", "Manganese", "concentration", "source", _DISSOLVED, (None, 5.0), "mg/L"),
    _of(
        "tds",
        "Dissolved solids",
        "concentration",
        "tap",
        _DISSOLVED,
        (5.0, 2000.0),
        "mg/L, from a meter or a laboratory",
    ),
    _of("conductivity", "Conductivity", "conductivity", "tap", (0.0, 100_000.0), (10.0, 3500.0), "at 25 degrees C"),
    _of("calcium", "Calcium", "concentration", "source", _DISSOLVED, (None, 400.0), "mg/L of calcium itself"),
    _of("magnesium", "Magnesium", "concentration", "source", _DISSOLVED, (None, 200.0), "mg/L of magnesium itself"),
    _of("sodium", "Sodium", "concentration", "source", _DISSOLVED, (None, 600.0), "mg/L"),
    _of("potassium", "Potassium", "concentration", "source", _DISSOLVED, (None, 100.0), "mg/L"),
    _of("chloride", "Chloride", "concentration", "source", _DISSOLVED, (None, 1000.0), "mg/L"),
    _of("sulfate", "Sulfate", "concentration", "source", _DISSOLVED, (None, 1000.0), "mg/L of sulfate itself"),
    _of("fluoride", "Fluoride", "concentration", "source", _DISSOLVED, (None, 10.0), "mg/L"),
    _of("silica", "Silica", "concentration", "source", _DISSOLVED, (None, 120.0), "mg/L as SiO2"),
    _of("arsenic", "Arsenic", "concentration", "source", _DISSOLVED, (None, 0.2), "mg/L or ug/L: say which"),
    _of("uranium", "Uranium", "concentration", "source", _DISSOLVED, (None, 0.5), "mg/L or ug/L: say which"),
    _of("lead", "Lead", "concentration", "tap", _DISSOLVED, (None, 0.1), "first draw; mg/L or ug/L: say which"),
    _of("copper", "Copper", "concentration", "tap", _DISSOLVED, (None, 5.0), "first draw; mg/L or ug/L: say which"),
    _of("turbidity", "Turbidity", "turbidity", "source", (0.0, 10_000.0), (None, 20.0), "NTU"),
    _of("uv_transmittance", "UV transmittance", "percent", "tap", (0.0, 100.0), (50.0, None), "at 254 nm, over 1 cm"),
    _of(
        "total_coliform", "Total coliform", "organisms", "tap", _COUNTED, (None, None), "present, absent or per 100 mL"
    ),
    _of("e_coli", "E. coli", "organisms", "tap", _COUNTED, (None, None), "present, absent or per 100 mL"),
)

QUANTITIES: dict[str, Quantity] = {quantity.id: quantity for quantity in _ALL}
"""Id -> quantity."""

_ALSO = {"total_dissolved_solids": "tds", "ph_value": "pH", "e._coli": "e_coli", "uvt": "uv_transmittance"}
_BY_NAME = {quantity.id.casefold(): quantity for quantity in _ALL} | {k: QUANTITIES[v] for k, v in _ALSO.items()}


_MOST = 1e12
_HIGHEST = {one.id: one.impossible_above * 1.000001 for one in QUANTITIES.values() if one.impossible_above is not None}


def can_be(quantity: str, value: float) -> bool:
    """Whether a value, in the unit used inside, lies where that quantity can; nothing below 0 or not finite can."""
    return 0.0 <= value <= _HIGHEST.get(quantity, _MOST)


def find_quantity(name: str) -> Quantity:
    """The quantity meant by a name as typed: case does not matter, nor spaces and hyphens for underscores.

    Raises:
        UnknownName: there is no such quantity.
    """
    wanted = "_".join(name.casefold().replace("-", " ").replace("_", " ").split())
    found = _BY_NAME.get(wanted)
    if found is None:
        raise UnknownName(f"There is no quantity {echo(name)}.", _nearest(wanted))
    return found


def _nearest(wanted: str) -> str:
    from difflib import get_close_matches

    close = get_close_matches(wanted[:40], list(_BY_NAME), n=1)
    return f"Did you mean {_BY_NAME[close[0]].id}?" if close else "`wellward read --help` lists them."


def show_quantity(quantity: str, value: float, system: System, qualifier: Qualifier = "=") -> str:
    """A recorded value for people: "<0.05 mg/L", "14.2 in", "absent".

    Args:
        quantity: id of the quantity; a name this program does not know is shown as a bare number.
        value: in the quantity's unit inside.
        system: the house's units.
        qualifier: "<" or ">" where only a bound is known.
    """
    known = QUANTITIES.get(quantity)
    if known is None:
        return f"{value:g}"
    if known.dimension == "organisms" and value in (0.0, 1.0) and qualifier == "=":
        return "present" if value else "absent"
    return f"{'' if qualifier == '=' else qualifier}{show(value, known.dimension, system)}"


def show_taken(taken: Taken, system: System) -> str:
    """A measured quantity for people, as `show_quantity`; an interval as "5-10 mg/L as N"."""
    low = show_quantity(taken.quantity, taken.value, system, taken.qualifier)
    if taken.high is None or taken.high <= taken.value:
        return low
    high = show_quantity(taken.quantity, taken.high, system)
    return f"{low.partition(' ')[0]}-{high}"
