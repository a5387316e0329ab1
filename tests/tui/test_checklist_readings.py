"""What checklists ask for can be recorded, for every kind of stage."""

from __future__ import annotations

from datetime import date

import pytest

from model.equipment.neutralizer import Neutralizer
from model.equipment.pressure_tank import PressureTank
from model.equipment.registry import AnyStage, kind_of
from model.equipment.reverse_osmosis import ReverseOsmosis
from model.equipment.sediment_filter import SedimentFilter
from model.equipment.softener import Softener
from model.equipment.ultraviolet import Ultraviolet
from model.equipment.well import Well
from model.home import House
from model.records.quantities import QUANTITIES
from model.units import show
from model.upkeep.checklist import all_checklist_ids, load_checklist
from tests.tui.helpers import MemoryStore, a_store, an_app
from tui.jobs import find_job, take_asked
from tui.widgets.steps import wait_words

_TRAIN: tuple[AnyStage, ...] = (
    Well(id="well"),
    PressureTank(id="pressure_tank"),
    SedimentFilter(id="sediment_filter"),
    Neutralizer(id="neutralizer"),
    Softener(id="softener"),
    Ultraviolet(id="ultraviolet"),
    ReverseOsmosis(id="reverse_osmosis"),
)


@pytest.mark.parametrize(("kind", "job"), all_checklist_ids())
def test_every_reading_a_checklist_asks_for_can_be_recorded(kind: str, job: str) -> None:
    view = an_app(
        MemoryStore(a_store(house=House(name="All", started=date(2026, 1, 1), stages=_TRAIN)).home)
    ).session.view
    stage = next((one for one in _TRAIN if kind_of(one) == kind), None)
    if stage is None:
        return
    row = find_job(view, f"{stage.id}.{job}")
    assert row is not None, "a checklist without its job"
    checklist = load_checklist(kind, job)
    for ask in (*checklist.before_readings, *checklist.after_readings):
        middle = (ask.sane[0] + ask.sane[1]) / 2
        known = QUANTITIES[ask.quantity]
        typed = f"{middle:.0f}" if known.dimension == "count" else f"{middle:.3f} {known.unit}".strip()
        if ask.quantity == "meter":
            typed = "200000 L"
        taken = take_asked(view, stage, ask, typed)
        assert (taken.quantity, taken.state) == (ask.quantity, ask.state)
        assert show(taken.value, known.dimension, "metric")


def test_waits_in_words() -> None:
    assert wait_words(20) == "20 minutes"
    assert wait_words(60) == "1 hour"
    assert wait_words(90) == "1 hour 30 minutes"
