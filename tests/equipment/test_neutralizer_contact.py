"""The neutralizer stage where no pH after it counts: contact, the owner's share, and the floor."""

from __future__ import annotations

from datetime import date
from typing import Any

import msgspec
import pytest

from model.equipment.neutralizer import Neutralizer, by_contact, contact_bed, least_bed_cm, treat
from model.records.events import AnyEvent, Reading, Taken
from model.records.history import History
from model.water.carbonate import dissolve
from model.water.contactor import Bed
from model.water.media import calcite_limit_mmol_l
from model.water.neutralizing import outlet
from tests.water.waters import water

TODAY = date(2026, 11, 25)
OUT = "after_neutralizer"
RAW = water()


def stage(**fields: Any) -> Neutralizer:  # noqa: ANN401
    return Neutralizer(id="neutralizer", **fields)


def read(on: date, quantity: str, value: float, point: str) -> Reading:
    return Reading(on=on, taken=Taken(quantity=quantity, value=value, point=point))


def after(one: Neutralizer, *events: Reading) -> float:
    """pH of the water that leaves the stage."""
    numbered: tuple[AnyEvent, ...] = tuple(msgspec.structs.replace(event, id=n) for n, event in enumerate(events, 1))
    return treat(one, RAW, History(numbered, TODAY), OUT).pH


def test_without_a_reading_contact_decides() -> None:
    expected = outlet(RAW, Bed(bed_cm=85.0, tank_diameter_cm=25.4, flow_l_min=8.0)).sample.pH

    assert after(stage()) == pytest.approx(expected, abs=1e-9)
    assert after(stage(flow_l_min=20.0)) < expected - 0.1
    assert after(stage(grain_mm=2.0)) < expected - 0.1
    assert after(stage(bypass_share=0.4)) < expected - 0.1


def test_a_measured_bed_counts() -> None:
    shallow = read(date(2026, 11, 1), "bed_depth", 40.0, "neutralizer")

    assert after(stage(), shallow) == pytest.approx(after(stage(full_bed_cm=40.0, minimum_bed_cm=30.0)), abs=1e-9)


def test_a_fresh_pH_decides_over_everything() -> None:
    assert after(stage(flow_l_min=20.0), read(date(2026, 11, 1), "pH", 7.1, OUT)) == pytest.approx(7.1, abs=1e-6)


def test_an_old_pH_still_says_how_fast_the_media_are() -> None:
    old = read(date(2026, 1, 5), "pH", 6.9, OUT)
    shallow = read(date(2026, 11, 1), "bed_depth", 40.0, "neutralizer")

    assert after(stage(), old) == pytest.approx(6.9, abs=1e-4)
    assert RAW.pH < after(stage(), old, shallow) < 6.7


def test_a_pH_that_no_dose_gives_is_passed_over() -> None:
    assert after(stage(), read(date(2026, 11, 1), "pH", 12.5, OUT)) == pytest.approx(after(stage()), abs=1e-9)


def test_the_owners_share_overrides_contact() -> None:
    half = dissolve(RAW, 0.5 * calcite_limit_mmol_l(RAW), 0.0)

    assert after(stage(approach_share=0.5, flow_l_min=40.0)) == pytest.approx(half.pH, abs=1e-6)


def test_a_stage_of_no_size_is_not_a_crash() -> None:
    assert by_contact(stage(tank_diameter_cm=0.0), RAW, 80.0, None).pH > RAW.pH


def test_without_a_floor_the_owners_depth_counts() -> None:
    assert least_bed_cm(stage(minimum_bed_cm=50.0), RAW, 7.3) == 50.0


def test_a_floor_raises_the_depth_at_which_to_top_up() -> None:
    one = stage(minimum_bed_cm=30.0, floor_pH=7.0)
    full = outlet(RAW, contact_bed(one, one.full_bed_cm)).sample.pH
    depth = least_bed_cm(one, RAW, full)

    assert 30.0 < depth < 85.0
    assert outlet(RAW, contact_bed(one, depth)).sample.pH == pytest.approx(7.0, abs=1e-3)


def test_a_floor_below_the_raw_water_asks_nothing_and_one_out_of_reach_asks_at_once() -> None:
    full = outlet(RAW, contact_bed(stage(), 85.0)).sample.pH

    assert least_bed_cm(stage(floor_pH=6.0), RAW, full) == 60.0
    assert least_bed_cm(stage(floor_pH=8.4), RAW, full) == pytest.approx(0.9 * 85.0)
