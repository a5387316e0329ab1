"""What checklists ask to be read: every quantity there is, where it is measured, and whether the water stood or ran."""

from __future__ import annotations

from collections.abc import Iterator
from typing import get_args

import pytest

from model.equipment.softener import Softener
from model.equipment.well import Well
from model.records.events import Taken
from model.records.how import HAS_STATE
from model.records.quantities import QUANTITIES
from model.upkeep.asked import as_asked
from model.upkeep.checklist import Quantity, ReadingAsk
from tests.upkeep.every import ALL, each, for_each


def asks(task: str) -> tuple[ReadingAsk, ...]:
    return ALL[task].before_readings + ALL[task].after_readings


def where() -> Iterator[tuple[str, ReadingAsk]]:
    for task in ALL:
        for ask in asks(task):
            yield task, ask


def test_a_checklist_may_ask_for_every_quantity_that_is_recorded() -> None:
    assert set(get_args(Quantity)) == set(QUANTITIES)


# What the trade reads in each of these jobs (common practice, no source).
MEASURED = {
    "softener.watch_regeneration": {"brine_draw", "drain_runs", "brine_level", "salt_depth", "regenerations"},
    "softener.salt_check": {"salt_depth", "brine_level", "regenerations"},
    "neutralizer.watch_backwash": {"drain_runs", "freeboard", "meter"},
    "neutralizer.backwash": {"drain_runs", "freeboard", "pressure_in", "pressure_out", "pH"},
    "neutralizer.bed_check": {"freeboard", "bed_depth"},
    "neutralizer.top_up": {"freeboard", "bed_depth"},
    "well.inspection": {"static_level", "pumping_level", "well_yield", "pump_current", "pump_voltage"},
    "well.replace_pump": {"static_level", "pumping_level", "well_yield", "pump_current", "pump_voltage"},
    "well.lead_copper_test": {"lead", "copper", "pH"},
    "reverse_osmosis.performance_check": {"ro_feed_tds", "ro_product_tds", "temperature", "ro_flow", "feed_pressure"},
}


@for_each(sorted(MEASURED))
def test_what_a_job_measures_has_a_field(task: str) -> None:
    assert MEASURED[task] <= {ask.quantity for ask in asks(task)}


@each
def test_the_words_and_the_state_of_the_water_agree(task: str) -> None:
    for ask in asks(task):
        said = ask.ask.casefold()
        stood = any(words in said for words in ("first water", "first draw", "standing"))
        runs = any(words in said for words in ("flowing", "flushed", "after the flush"))
        assert ask.quantity in HAS_STATE or not ask.state
        if ask.quantity in HAS_STATE and (stood or runs):
            assert ask.state == ("at_rest" if stood else "flowing"), ask.ask


@pytest.mark.parametrize(
    ("task", "quantity", "states"),
    [
        ("neutralizer.ph_check", "pH", ["flowing", "flowing", "flowing", "at_rest"]),
        ("neutralizer.set_blend", "pH", ["flowing", "at_rest", "flowing", "at_rest"]),
        ("well.lead_copper_test", "lead", ["flowing", "at_rest"]),
        ("well.lead_copper_test", "copper", ["flowing", "at_rest"]),
    ],
)
def test_standing_and_running_water_are_two_readings(task: str, quantity: str, states: list[str]) -> None:
    assert [ask.state for ask in asks(task) if ask.quantity == quantity] == states


def test_the_profile_has_a_field_for_each_mark_of_the_run() -> None:
    marks = [ask for _, ask in where() if ask.run_percent is not None]
    assert [ask.run_percent for ask in marks] == [10, 25, 50, 75, 90, 100]
    assert all((ask.quantity, ask.point) == ("nitrate", "after") for ask in marks)
    assert all(f"at {ask.run_percent} %" in ask.ask for ask in marks)


def ask_of(**more: object) -> ReadingAsk:
    return ReadingAsk(quantity="nitrate", point="after", sane=(0.0, 50.0), ask="Nitrate", **more)  # type: ignore[arg-type]


READ = Taken(quantity="nitrate", value=3.0, point="after_softener", entered="3 mg/L as N")


def test_a_mark_of_the_run_is_kept_as_the_water_since_the_regeneration() -> None:
    """A quarter of 4,000 L is 1,000 L."""
    softener = Softener(id="softener", regenerate_every_l=4000.0)
    assert as_asked(softener, ask_of(run_percent=25), READ).since_regeneration_l == 1000.0
    assert as_asked(softener, ask_of(run_percent=100), READ).since_regeneration_l == 4000.0
    assert as_asked(softener, ask_of(), READ) == READ


def test_without_a_meter_setting_nothing_is_made_up() -> None:
    assert as_asked(Softener(id="softener"), ask_of(run_percent=25), READ) == READ
    assert as_asked(Well(id="well"), ask_of(run_percent=25), READ) == READ


def test_the_state_is_kept_with_the_reading() -> None:
    assert as_asked(Well(id="well"), ask_of(state="at_rest"), READ).state == "at_rest"
    assert as_asked(Well(id="well"), ask_of(), READ).state == ""
