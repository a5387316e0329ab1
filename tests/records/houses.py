"""Houses to read on."""

from __future__ import annotations

from datetime import date

from model.equipment.neutralizer import Neutralizer
from model.equipment.pressure_tank import PressureTank
from model.equipment.registry import AnyStage
from model.equipment.reverse_osmosis import ReverseOsmosis
from model.equipment.sediment_filter import SedimentFilter
from model.equipment.softener import Softener
from model.equipment.ultraviolet import Ultraviolet
from model.equipment.well import Well
from model.home import House
from model.units import System

TRAIN: tuple[AnyStage, ...] = (
    Well(id="well"),
    PressureTank(id="pressure_tank", volume_l=300.0),
    SedimentFilter(id="sediment_filter"),
    Neutralizer(id="neutralizer", full_bed_cm=85.0),
    Softener(id="softener", brine_tank_height_cm=84.0),
    Ultraviolet(id="ultraviolet"),
    ReverseOsmosis(id="reverse_osmosis"),
)


def house(units: System = "us", stages: tuple[AnyStage, ...] = TRAIN, hose: bool = False) -> House:
    """A made-up house with one stage of each kind."""
    return House(name="Made up", started=date(2026, 1, 1), units=units, stages=stages, hose=hose)


def two_softeners() -> House:
    """A house whose softeners stand one after the other."""
    return house(stages=(Softener(id="softener"), Softener(id="softener_2")))
