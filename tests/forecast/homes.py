"""Small homes for the tests: one house with every kind of stage, and short ways to write events."""

from __future__ import annotations

from datetime import date, timedelta

import msgspec

from model.equipment.neutralizer import Neutralizer
from model.equipment.part import Part
from model.equipment.pressure_tank import PressureTank
from model.equipment.registry import AnyStage
from model.equipment.reverse_osmosis import ReverseOsmosis
from model.equipment.sediment_filter import SedimentFilter
from model.equipment.softener import Softener
from model.equipment.ultraviolet import Ultraviolet
from model.equipment.well import Well
from model.home import Home, House, Supply
from model.plan import plan
from model.plan_types import Due, Plan
from model.records.events import AnyEvent, Correction, LabReport, Reading, Service, Taken

TODAY = date(2026, 11, 25)
START = date(2026, 1, 1)

STAGES: tuple[AnyStage, ...] = (
    Well(id="well", supplies={"coliform_test": "coliform_test"}),
    PressureTank(id="pressure_tank"),
    SedimentFilter(id="sediment_filter", supplies={"cartridge": "cartridge"}),
    Neutralizer(id="neutralizer", supplies={"calcite": "calcite"}),
    Softener(
        id="softener",
        anion_resin_l=28.0,
        anion_type="nitrate_selective",
        salt_dose_kg=4.0,
        regenerate_every_l=4000.0,
        supplies={"salt": "salt"},
    ),
    Ultraviolet(id="ultraviolet", supplies={"lamp": "lamp"}),
    ReverseOsmosis(id="reverse_osmosis", supplies={"prefilters": "prefilters"}),
    Part(id="part", life_l=400_000.0, supplies={"part": "gasket"}),
)

SUPPLIES = (
    Supply(id="salt", title="Salt", unit="kg", pack=20.0, price=9.0, on_shelf=20.0),
    Supply(id="calcite", title="Calcite", unit="kg", pack=22.0, price=35.0),
    Supply(id="cartridge", title="Cartridge", price=12.0, on_shelf=1.0),
    Supply(id="lamp", title="Lamp", price=90.0),
    Supply(id="prefilters", title="Prefilters", price=40.0),
    Supply(id="coliform_test", title="Coliform test", price=28.0),
    Supply(id="gasket", title="Gasket", price=3.0),
)


def house(stages: tuple[AnyStage, ...] = STAGES, **more: object) -> House:
    """The house, with other fields where the test needs them."""
    plain = House(name="Test", started=START, people=3.0, units="metric", stages=stages, supplies=SUPPLIES)
    return msgspec.structs.replace(plain, **more)


def numbered(*events: AnyEvent) -> tuple[AnyEvent, ...]:
    """The events with ids from 1, as the store would give them."""
    return tuple(msgspec.structs.replace(event, id=number) for number, event in enumerate(events, start=1))


def home(*events: AnyEvent, **more: object) -> Home:
    """A home in which these events happened, in this order."""
    return Home(house(**more), numbered(*events))  # type: ignore[arg-type]


def taken(quantity: str, value: float, point: str, **more: str) -> Taken:
    """One measured quantity in the unit used inside."""
    return Taken(quantity=quantity, value=value, point=point, **more)  # type: ignore[arg-type]


def reading(on: date, quantity: str, value: float, point: str) -> Reading:
    """A reading in the unit used inside."""
    return Reading(on=on, taken=taken(quantity, value, point))


def meter(litres_per_day: float, weeks: int = 40, end: date = TODAY) -> list[AnyEvent]:
    """Weekly meter readings of a house that uses the same every day, the last on `end`."""
    first = end - timedelta(weeks=weeks)
    return [reading(first + timedelta(weeks=k), "meter", 7 * k * litres_per_day, "house") for k in range(weeks + 1)]


def raw_water(on: date = date(2026, 3, 1), **changed: float) -> LabReport:
    """A report of acid, soft water with nitrate."""
    values = {
        "pH": 6.2,
        "temperature": 10.0,
        "alkalinity": 40.0,
        "hardness": 60.0,
        "sodium": 18.0,
        "chloride": 20.0,
        "sulfate": 15.0,
        "nitrate": 12.0,
        "iron": 0.1,
        "manganese": 0.02,
    } | changed
    return LabReport(on=on, point="source", taken=tuple(taken(name, v, "source") for name, v in values.items()))


def salt_filled(on: date, depth_cm: float) -> Service:
    """Salt refilled and measured afterwards."""
    after = taken("salt_depth", depth_cm, "softener", moment="after")
    return Service(on=on, task="softener.refill_salt", used={"salt": 20.0}, taken=(after,))


def due(shown: Plan, task: str) -> Due:
    """The one item of that task."""
    (item,) = [one for one in shown.due if one.task == task]
    return item


def due_on(events: list[AnyEvent], task: str, **more: object) -> Due:
    """The item of a task in a home where these events happened."""
    return due(plan(home(*events, **more), TODAY), task)


def undone(before: Home, number: int) -> Home:
    """The home with one more event, taking back another."""
    correction = Correction(id=len(before.events) + 1, on=TODAY, voids=number)
    return Home(before.house, (*before.events, correction))
