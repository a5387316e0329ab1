"""Dates: by the consumable or by the calendar, whichever is sooner; with window and reasons."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from model.forecast.states import state_of
from model.plan import plan
from model.records.events import AnyEvent, PausedService, Service
from tests.forecast.homes import (
    TODAY,
    due,
    due_on,
    home,
    meter,
    raw_water,
    reading,
    salt_filled,
    taken,
    undone,
)

LIVED = [raw_water(), *meter(500.0), salt_filled(date(2026, 11, 1), 50.0)]


@pytest.mark.parametrize(
    ("days", "state"),
    [(-1, "overdue"), (0, "this_week"), (6, "this_week"), (7, "soon"), (30, "soon"), (31, "later")],
)
def test_states_by_the_days_from_today(days: int, state: str) -> None:
    assert state_of(TODAY + timedelta(days=days), TODAY) == state


def test_salt_by_hand() -> None:
    """Tank 45.7 cm wide, 1.1 kg/L: 1.804 kg a centimetre. From 50 cm to the line at 18 cm: 57.7 kg.

    4 kg each 4,000 L, and half a day's 250 L more until the night, at 500 L a day is 0.47 kg a day: 123 days from 1
    November, 3 March. The wet part holds a little more salt than dry salt, the season of the year moves it by days:
    10 % allowed.
    """
    item = due_on(LIVED, "softener.refill_salt")
    assert item.earliest is not None
    assert item.latest is not None
    middle = item.earliest + (item.latest - item.earliest) / 2
    assert abs((middle - date(2027, 3, 3)).days) <= 12
    assert item.act_on < item.earliest
    assert item.driver == "regenerations"
    assert item.sure == "measured"


def test_a_refill_by_weight_alone_also_counts() -> None:
    by_weight = Service(on=date(2026, 11, 20), task="softener.refill_salt", used={"salt": 20.0})
    before, after = due_on(LIVED, "softener.refill_salt"), due_on([*LIVED, by_weight], "softener.refill_salt")
    assert after.act_on > before.act_on
    assert after.remaining is not None
    assert before.remaining is not None
    assert after.remaining.value - before.remaining.value == pytest.approx(20.0, abs=0.5)


def test_reasons_are_few_and_carry_numbers() -> None:
    for item in plan(home(*LIVED), TODAY).due:
        assert 1 <= len(item.why) <= 8
    assert any(character.isdigit() for line in due_on(LIVED, "softener.refill_salt").why for character in line)


CARTRIDGE = "sediment_filter.replace_cartridge"


def test_the_calendar_caps_a_consumable() -> None:
    """A cartridge good for far more water than half a year brings is changed after half a year all the same."""
    item = due_on([*meter(150.0), Service(on=date(2026, 9, 1), task=CARTRIDGE)], CARTRIDGE)
    assert item.act_on == date(2027, 3, 1)
    assert item.cap_on == date(2027, 3, 1)


def test_a_loaded_filter_comes_before_its_litres() -> None:
    """0.15 bar clean, change at 0.85: at 0.7 bar 79 % is used after 24 days, so about a week is left from there."""
    loaded: list[AnyEvent] = [
        Service(on=date(2026, 10, 27), task=CARTRIDGE),
        reading(date(2026, 11, 20), "pressure_in", 3.5, "sediment_filter"),
        reading(date(2026, 11, 20), "pressure_out", 2.8, "sediment_filter"),
    ]
    item = due_on([*LIVED, *loaded], CARTRIDGE)
    assert date(2026, 11, 20) <= item.act_on <= date(2026, 11, 27)
    assert item.driver == "condition"


def test_a_lamp_by_its_hours_375_days() -> None:
    """9,000 h of a lamp never off: 375 days, common practice, no source. The year of the calendar is near that."""
    changed = Service(on=date(2026, 6, 1), task="ultraviolet.replace_lamp")
    item = due_on([*LIVED, changed], "ultraviolet.replace_lamp")
    assert date(2027, 5, 20) <= item.act_on <= date(2027, 6, 1)
    assert item.cap_on == date(2027, 6, 1)
    assert item.earliest is not None
    assert abs((item.earliest - date(2027, 6, 11)).days) <= 8


@given(st.floats(0.0, 20_000.0))
@settings(max_examples=10)
def test_no_hour_meter_makes_a_lamp_last_longer(hours: float) -> None:
    changed = Service(on=date(2026, 6, 1), task="ultraviolet.replace_lamp")
    without = due_on([*LIVED, changed], "ultraviolet.replace_lamp").act_on
    read = reading(date(2026, 11, 1), "lamp_hours", hours, "ultraviolet")
    assert due_on([*LIVED, changed, read], "ultraviolet.replace_lamp").act_on <= without


@given(st.floats(0.0, 30.0), st.sampled_from(["worst", "newest"]))
@settings(max_examples=10)
def test_no_home_nitrate_reading_postpones_the_laboratory(nitrate: float, planned: str) -> None:
    tested = Service(on=date(2026, 5, 1), task="well.nitrate_test")
    read = reading(date(2026, 11, 1), "nitrate", nitrate, "source")
    without = due_on([*LIVED, tested], "well.nitrate_test", plan_nitrate=planned).act_on
    assert due_on([*LIVED, tested, read], "well.nitrate_test", plan_nitrate=planned).act_on <= without


def test_much_nitrate_is_tested_twice_a_year() -> None:
    """Half of the limit, 5 mg/L as N, common practice, no source."""
    tested = Service(on=date(2026, 5, 1), task="well.nitrate_test")
    for nitrate, day in ((2.0, date(2027, 5, 1)), (5.0, date(2026, 11, 1))):
        assert due_on([raw_water(nitrate=nitrate), tested], "well.nitrate_test").act_on == day


@given(st.floats(100.0, 1500.0), st.floats(1.05, 2.5))
@settings(max_examples=10, deadline=None)
def test_no_date_moves_later_when_the_house_uses_more(litres: float, times: float) -> None:
    fixed: list[AnyEvent] = [raw_water(), salt_filled(date(2026, 11, 1), 50.0)]
    less = {item.task: item for item in plan(home(*fixed, *meter(litres)), TODAY).due}
    for item in plan(home(*fixed, *meter(litres * times)), TODAY).due:
        # What only the house that uses more is asked for, as after a run-out, comes from using more.
        assert item.task not in less or item.act_on <= less[item.task].act_on, item.task


@given(st.floats(19.0, 49.0), st.floats(0.5, 20.0))
@settings(max_examples=12, deadline=None)
def test_a_deeper_tank_is_never_due_sooner(depth: float, more: float) -> None:
    """Below the 50 cm of the reading before: salt that has not fallen is another matter."""
    assume(depth + more <= 48.5)
    shallow = due_on([*LIVED, reading(date(2026, 11, 20), "salt_depth", depth, "softener")], "softener.refill_salt")
    deep = due_on([*LIVED, reading(date(2026, 11, 20), "salt_depth", depth + more, "softener")], "softener.refill_salt")
    assert deep.act_on >= shallow.act_on


def test_every_kind_of_event_undone_restores_the_plan() -> None:
    from model.records.events import (
        Absence,
        Incident,
        MeterReplaced,
        Purchase,
        Setting,
        ShelfCount,
        StageAdded,
        StageRemoved,
        SupplyAdded,
    )

    before = home(*LIVED)
    events: list[AnyEvent] = [
        salt_filled(TODAY, 55.0),
        reading(TODAY, "salt_depth", 20.0, "softener"),
        raw_water(on=TODAY, nitrate=25.0),
        Purchase(on=TODAY, supply="salt", quantity=200.0, price=1.0),
        ShelfCount(on=TODAY, supply="salt", quantity=500.0),
        Setting(on=TODAY, path="stages.softener.salt_dose_kg", value=8.0),
        StageAdded(on=TODAY, stage={"kind": "ultraviolet", "id": "ultraviolet_2"}),
        StageRemoved(on=TODAY, stage="softener"),
        SupplyAdded(on=TODAY, supply={"id": "new", "title": "New"}),
        Absence(on=TODAY, until=TODAY + timedelta(days=20)),
        MeterReplaced(on=TODAY, old_reading_l=9e6),
        PausedService(on=TODAY, task="softener.refill_salt", ticked=(0, 1)),
        Incident(on=TODAY, what="storm"),
    ]
    for event in events:
        import msgspec

        number = len(before.events) + 1
        after = type(before)(before.house, (*before.events, msgspec.structs.replace(event, id=number)))
        assert plan(undone(after, number), TODAY) == plan(before, TODAY), event
        if not isinstance(event, Incident | MeterReplaced):  # a new meter shows from its next reading on
            assert plan(after, TODAY) != plan(before, TODAY), event


def test_a_correction_taken_back_brings_the_event_back() -> None:
    filled = home(*LIVED, salt_filled(TODAY, 55.0))
    gone = undone(filled, len(filled.events))
    assert plan(undone(gone, len(gone.events)), TODAY) == plan(filled, TODAY)


def test_a_job_without_record_says_so_and_health_comes_first() -> None:
    shown = plan(home(*LIVED), TODAY)
    assert "No record" in due(shown, "well.coliform_test").why[0]
    assert due(shown, "well.coliform_test").state == "overdue"


def test_the_spring_walk_comes_each_spring() -> None:
    assert due_on(LIVED, "well.wellhead_walk").act_on == date(2026, 4, 15)
    walked = Service(on=date(2026, 4, 2), task="well.wellhead_walk")
    assert due_on([*LIVED, walked], "well.wellhead_walk").act_on == date(2027, 4, 15)


def test_farmed_land_is_tested_twice_a_year() -> None:
    import msgspec

    from model.equipment.well import Well
    from tests.forecast.homes import STAGES

    tested = Service(on=date(2026, 10, 1), task="well.nitrate_test")
    stages = (msgspec.structs.replace(STAGES[0], farmed_land=True), *STAGES[1:])
    assert isinstance(stages[0], Well)
    assert due_on([tested], "well.nitrate_test", stages=stages).act_on == date(2027, 4, 1)
    assert due_on([tested], "well.nitrate_test").act_on == date(2027, 10, 1)


def test_what_happened_after_today_has_not_happened() -> None:
    later = salt_filled(TODAY + timedelta(days=3), 60.0)
    assert plan(home(*LIVED, later), TODAY).due == plan(home(*LIVED), TODAY).due


def test_a_falling_rejection_dates_the_membrane() -> None:
    """From 94 % to 88 % in 300 days, three points above the owner's 85 %: about 150 days more by a straight line."""
    events = list(LIVED)
    for k, share in enumerate((0.94, 0.925, 0.91, 0.895, 0.88)):
        on = date(2026, 1, 15) + timedelta(days=75 * k)
        events += [
            reading(on, "ro_feed_tds", 300.0, "reverse_osmosis"),
            reading(on, "ro_product_tds", 300.0 * (1 - share), "reverse_osmosis"),
        ]
    item = due_on(events, "reverse_osmosis.replace_membrane")
    assert item.driver == "condition"
    assert item.latest is not None
    assert item.earliest is not None
    assert item.earliest <= date(2026, 11, 11) + timedelta(days=151)
    assert item.latest >= date(2026, 11, 11) + timedelta(days=149)


def test_without_any_fact_the_calendar_stands_in() -> None:
    """No raw water, no meter setting: media goes by the calendar, salt cannot be dated and the plan says why."""
    import msgspec

    from model.equipment.softener import Softener
    from tests.forecast.homes import STAGES

    stages = tuple(
        msgspec.structs.replace(s, regenerate_every_l=None) if isinstance(s, Softener) else s for s in STAGES
    )
    shown = plan(home(stages=stages), TODAY)
    assert due(shown, "neutralizer.top_up").driver == "calendar"
    assert not [item for item in shown.due if item.task == "softener.refill_salt"]
    assert any("raw water" in alert.text for alert in shown.alerts)


def test_half_done_work_is_marked_until_it_is_done() -> None:
    paused = PausedService(on=TODAY, task="softener.refill_salt", ticked=(0,))
    assert due_on([*LIVED, paused], "softener.refill_salt").paused
    assert not due_on([*LIVED, paused, salt_filled(TODAY, 55.0)], "softener.refill_salt").paused


def test_a_reading_before_and_after_one_service_both_count() -> None:
    """Measured 20 cm, 20 kg put in, measured 31 cm: the level after is the one that stands, within the stick's 2 cm."""
    both = (
        taken("salt_depth", 20.0, "softener", moment="before"),
        taken("salt_depth", 31.0, "softener", moment="after"),
    )
    twice = Service(on=TODAY, task="softener.refill_salt", used={"salt": 20.0}, taken=both)
    once = reading(TODAY, "salt_depth", 31.0, "softener")
    counted, plain = (due_on([*LIVED, event], "softener.refill_salt") for event in (twice, once))
    assert counted.remaining is not None
    assert plain.remaining is not None
    assert counted.remaining.value == pytest.approx(plain.remaining.value, abs=2 * 1.8)
