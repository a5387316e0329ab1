"""What counts as evidence, and in what order: same day, before and after, old part and new, changed settings."""

from __future__ import annotations

from datetime import date, timedelta

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.equipment.part import Part
from model.equipment.registry import AnyStage
from model.equipment.softener import Softener
from model.forecast.costs import cost_forecast
from model.home import Home, Supply
from model.plan import plan
from model.records.events import (
    Absence,
    AnyEvent,
    LabReport,
    MeterReplaced,
    PausedService,
    Service,
    Setting,
)
from tests.forecast.homes import (
    STAGES,
    SUPPLIES,
    TODAY,
    due,
    due_on,
    home,
    house,
    meter,
    raw_water,
    reading,
    salt_filled,
    taken,
)

LIVED: list[AnyEvent] = [raw_water(), *meter(500.0), salt_filled(date(2026, 11, 1), 50.0)]
SALT, LAMP = "softener.refill_salt", "ultraviolet.replace_lamp"


def _left(events: list[AnyEvent], task: str = SALT, **more: object) -> float:
    remaining = due_on(events, task, **more).remaining
    assert remaining is not None
    return remaining.value


@given(st.lists(st.floats(0.0, 20_000.0), min_size=1, max_size=4))
@settings(max_examples=7, deadline=None)
def test_no_row_of_hour_readings_makes_a_lamp_last_longer(hours: list[float]) -> None:
    changed = Service(on=date(2026, 6, 1), task=LAMP)
    read = [reading(date(2026, 11, 1 + k), "lamp_hours", value, "ultraviolet") for k, value in enumerate(hours)]
    for count in range(len(read)):
        before = due_on([*LIVED, changed, *read[:count]], LAMP).act_on
        assert due_on([*LIVED, changed, *read[: count + 1]], LAMP).act_on <= before


def test_the_old_lamps_hours_do_not_count_for_the_new_one() -> None:
    old = taken("lamp_hours", 9100.0, "ultraviolet", moment="before")
    changed = Service(on=TODAY, task=LAMP, taken=(old,))
    assert _left([*LIVED, changed], LAMP) == pytest.approx(9000.0)


def test_the_old_membranes_rejection_does_not_count_for_the_new_one() -> None:
    old = (
        taken("ro_feed_tds", 300.0, "reverse_osmosis", moment="before"),
        taken("ro_product_tds", 90.0, "reverse_osmosis", moment="before"),
    )
    changed = Service(on=TODAY, task="reverse_osmosis.replace_membrane", taken=old)
    numbers = plan(home(*LIVED, changed), TODAY).reports["reverse_osmosis"]
    assert numbers["rejection"] == pytest.approx(0.93)


def test_salt_put_in_and_measured_on_one_day_counts_once() -> None:
    """20 kg, then the stick: what the stick says stands within its 2 cm (1.8 kg each), whichever way it was entered."""
    apart: list[AnyEvent] = [
        Service(on=TODAY, task=SALT, used={"salt": 20.0}),
        reading(TODAY, "salt_depth", 40.0, "softener"),
    ]
    only: list[AnyEvent] = [reading(TODAY, "salt_depth", 40.0, "softener")]
    assert _left([*LIVED, *apart]) == pytest.approx(_left([*LIVED, *only]), abs=2 * 1.8)
    assert _left([*LIVED, *apart[::-1]]) == pytest.approx(_left([*LIVED, *only]) + 20.0, abs=1.0)


def _with(**changed: object) -> tuple[object, ...]:
    return tuple(msgspec.structs.replace(one, **changed) if isinstance(one, Softener) else one for one in STAGES)


@given(st.floats(200.0, 1500.0), st.floats(1.01, 2.0), st.floats(3.0, 20.0), st.integers(0, 60))
@settings(max_examples=6, deadline=None)
def test_more_use_never_postpones_salt_with_a_day_override_and_an_absence(
    litres: float, times: float, days: float, away: int
) -> None:
    stages = _with(regenerate_every_days=days)
    fixed: list[AnyEvent] = [
        raw_water(),
        salt_filled(date(2026, 11, 1), 50.0),
        Absence(on=TODAY + timedelta(days=5), until=TODAY + timedelta(days=5 + away)),
    ]
    less = due_on([*fixed, *meter(litres)], SALT, stages=stages).act_on
    # A few days at most: more metered use of the past also narrows the window a little.
    assert due_on([*fixed, *meter(litres * times)], SALT, stages=stages).act_on <= less + timedelta(days=3)


def test_an_empty_house_still_regenerates_by_the_override() -> None:
    """4 kg each 8 days is 0.5 kg a day, also with nobody at home: 30 days take 15 kg."""
    stages = _with(regenerate_every_days=8.0)
    away = Absence(on=date(2026, 10, 26), until=TODAY)
    filled: list[AnyEvent] = [raw_water(), salt_filled(date(2026, 10, 26), 50.0), away]
    kept: list[AnyEvent] = [raw_water(), salt_filled(TODAY, 50.0), away]
    assert _left(kept, stages=stages) - _left(filled, stages=stages) == pytest.approx(15.0, abs=0.6)


def test_a_new_dose_does_not_rewrite_the_salt_already_used() -> None:
    """24 days at 4 kg each 4,000 L and 500 L a day are 12 kg, whatever the dose is set to today."""
    filled: list[AnyEvent] = [*LIVED[:-1], salt_filled(TODAY - timedelta(days=24), 50.0)]
    before = _left(filled)
    halved = Setting(on=TODAY, path="stages.softener.salt_dose_kg", value=2.0, was=4.0)
    assert _left([*filled, halved]) == pytest.approx(before, abs=1e-6)
    assert due_on([*filled, halved], SALT).act_on > due_on(filled, SALT).act_on


def test_more_people_from_today_do_not_rewrite_what_was_used() -> None:
    filled: list[AnyEvent] = [raw_water(), salt_filled(TODAY - timedelta(days=24), 50.0)]
    grown = Setting(on=TODAY, path="people", value=6.0, was=3.0)
    assert _left([*filled, grown]) == pytest.approx(_left(filled), abs=1e-6)
    sooner, later = due_on([*filled, grown], SALT).middle, due_on(filled, SALT).middle
    assert sooner is not None
    assert later is not None
    assert sooner < later


def test_a_new_household_is_taken_into_the_metered_level() -> None:
    grown = Setting(on=TODAY, path="people", value=6.0, was=3.0)
    """By hand: (69.2 + 37.2 x 6) / (69.2 + 37.2 x 3) = 1.617, from memory (Mayer and others 1999)."""
    known, before = plan(home(*LIVED, grown), TODAY), plan(home(*LIVED), TODAY)
    assert known.litres_per_day / before.litres_per_day == pytest.approx(1.617, rel=0.05)


def test_a_meter_replaced_on_the_day_it_was_read() -> None:
    """900,000 to 905,000 in ten days, replaced that day, then 5,000 in ten more: 500 L a day throughout."""
    events: list[AnyEvent] = [
        reading(date(2026, 11, 1), "meter", 900_000.0, "house"),
        reading(date(2026, 11, 11), "meter", 905_000.0, "house"),
        MeterReplaced(on=date(2026, 11, 11), old_reading_l=905_000.0, new_reading_l=10.0),
        reading(date(2026, 11, 21), "meter", 5_010.0, "house"),
    ]
    for rolls in (None, 1_000_000.0):
        shown = plan(home(*events, meter_rolls_over_at_l=rolls), TODAY)
        assert shown.litres_per_day == pytest.approx(plan(home(*meter(500.0)), TODAY).litres_per_day, rel=0.12)
        assert not shown.alerts or "meter" not in shown.alerts[0].text


def test_a_meter_replaced_by_the_job() -> None:
    counts = (taken("meter", 905_000.0, "house", moment="before"), taken("meter", 10.0, "house", moment="after"))
    by_job: list[AnyEvent] = [
        reading(date(2026, 11, 1), "meter", 900_000.0, "house"),
        Service(on=date(2026, 11, 11), task="well.replace_meter", taken=counts),
        reading(date(2026, 11, 21), "meter", 5_010.0, "house"),
    ]
    replaced = MeterReplaced(on=date(2026, 11, 11), old_reading_l=905_000.0, new_reading_l=10.0)
    by_event: list[AnyEvent] = [by_job[0], replaced, by_job[2]]
    assert plan(home(*by_job), TODAY).litres_per_day == plan(home(*by_event), TODAY).litres_per_day


def test_half_done_work_ends_with_the_finish_whatever_its_day() -> None:
    paused = PausedService(on=TODAY, task=SALT, ticked=(0,))
    finished = Service(on=TODAY - timedelta(days=3), task=SALT, used={"salt": 20.0})
    later = Service(on=TODAY - timedelta(days=1), task=SALT, used={"salt": 20.0})
    assert not due_on([*LIVED, later, paused, finished], SALT).paused


@given(st.floats(0.0, 3000.0))
@settings(max_examples=5, deadline=None)
def test_no_meter_reading_postpones_a_part_that_protects_health(litres: float) -> None:
    stages = (Part(id="part", life_l=200_000.0, protects_health=True),)
    renewed = Service(on=TODAY - timedelta(days=30), task="part.replace")
    unread = due_on([renewed], "part.replace", stages=stages).act_on
    assert unread > TODAY
    assert due_on([renewed, *meter(litres)], "part.replace", stages=stages).act_on <= unread


WORN_BY_THE_VALVE = Part(id="worn", life_regenerations=30.0, protects_health=True)


@pytest.mark.parametrize(("control", "anion_resin_l"), [("metered", 28.0), ("metered", 0.0), ("timed", 28.0)])
@given(litres=st.floats(0.0, 3000.0), hardness=st.floats(20.0, 400.0), nitrate=st.floats(0.0, 30.0))
@settings(max_examples=5, deadline=None)
def test_no_reading_postpones_what_the_valve_wears_out(
    control: str, anion_resin_l: float, litres: float, hardness: float, nitrate: float
) -> None:
    stages = (*_with_valve(control, anion_resin_l), WORN_BY_THE_VALVE)
    known: list[AnyEvent] = [raw_water(), Service(on=TODAY - timedelta(days=20), task="worn.replace")]
    before = due_on(known, "worn.replace", stages=stages)
    assert before.driver == "regenerations"
    assert before.act_on > TODAY
    read = [reading(TODAY, "hardness", hardness, "source"), reading(TODAY, "nitrate", nitrate, "source")]
    for more in (meter(litres), read, [*meter(litres), *read]):
        assert due_on([*known, *more], "worn.replace", stages=stages).act_on <= before.act_on


def _with_valve(control: str, anion_resin_l: float = 28.0) -> tuple[AnyStage, ...]:
    valve: dict[str, object] = {
        "anion_resin_l": anion_resin_l,
        "control": control,
        "regenerate_every_days": 6.0 if control == "timed" else None,
        "regenerate_every_l": None,
    }
    return tuple(msgspec.structs.replace(one, **valve) if isinstance(one, Softener) else one for one in STAGES)


def test_a_part_of_a_timed_valve_lasts_its_regenerations() -> None:
    """30 regenerations of 6 days each end 180 days after the part was new: by hand."""
    renewed = Service(on=TODAY - timedelta(days=30), task="worn.replace")
    stages = (*_with_valve("timed"), WORN_BY_THE_VALVE)
    item = due_on([raw_water(), renewed], "worn.replace", stages=stages)
    assert item.earliest is not None
    assert item.latest is not None
    assert item.earliest <= renewed.on + timedelta(days=180) <= item.latest


def test_a_part_taken_as_new_is_a_guess_and_says_so() -> None:
    item = due_on(LIVED, "sediment_filter.replace_cartridge")
    assert item.sure == "guess"
    assert any("no record" in line for line in item.why)


def test_two_nitrates_of_one_day_count_as_the_worse() -> None:
    both = [reading(TODAY, "nitrate", value, "after_softener") for value in (6.0, 2.0)]
    for order in (both, both[::-1]):
        points = {point.point: point for point in plan(home(*LIVED, *order), TODAY).points}
        sample = points["tap"].sample
        assert sample is not None
        assert sample.nitrate_mg_l_n == pytest.approx(6.0)


def test_more_nitrate_at_the_tap_than_in_the_well_is_not_capped() -> None:
    raw = raw_water(nitrate=8.0)
    lab = LabReport(on=date(2026, 11, 20), point="tap", taken=(taken("nitrate", 11.5, "tap"),))
    shown = plan(home(raw, *meter(500.0), lab), TODAY)
    sample = next(point.sample for point in shown.points if point.point == "tap")
    assert sample is not None
    assert sample.nitrate_mg_l_n == pytest.approx(11.5)
    assert any(alert.level == "danger" and "itrate" in alert.text for alert in shown.alerts)


def test_resin_and_media_of_the_slow_jobs_are_in_the_long_run() -> None:
    resin = Supply(id="anion_resin", title="Anion resin", unit="L", pack=28.0, price=300.0)
    stages = tuple(
        msgspec.structs.replace(one, supplies={"salt": "salt", "anion_resin": "anion_resin"})
        if isinstance(one, Softener)
        else one
        for one in STAGES
    )
    made = Home(house(stages, supplies=(*SUPPLIES, resin)), home(*LIVED).events)
    (item,) = [one for one in cost_forecast(made, TODAY, 1).items if one.supply == "anion_resin"]
    assert item.cash.expected == 0.0
    # 28 L each 84 months at 300 a pack of 28 L: 300 / 7 years.
    assert item.long_run_per_year == pytest.approx(300.0 / 7.0, rel=0.01)


@given(st.integers(1, 60))
@settings(max_examples=5, deadline=None)
def test_the_long_run_is_the_same_for_any_window(months: int) -> None:
    made = home(*LIVED)
    assert cost_forecast(made, TODAY, months).long_run_per_year == pytest.approx(
        cost_forecast(made, TODAY, 12).long_run_per_year
    )


def test_a_supply_that_is_not_on_the_list_is_named() -> None:
    made = Home(house(supplies=()), home(*LIVED).events)
    assert any("softener: salt" in note for note in cost_forecast(made, TODAY).notes)


def test_the_first_thing_said_of_overdue_salt_needs_no_lamp() -> None:
    assert due(plan(home(*LIVED), TODAY), SALT).health is False


BED = "neutralizer.top_up"


@pytest.mark.parametrize("pH", [6.1, 6.2, 6.4])
def test_water_still_acid_after_the_tank_brings_the_bed_forward(pH: float) -> None:
    """Under 6.5, 40 CFR 143.3: bed spent, channelled or bypassed. It never looks like a bed that lasts longer."""
    before = due_on(LIVED, BED).act_on
    item = due_on([*LIVED, reading(date(2026, 11, 20), "pH", pH, "after_neutralizer")], BED)
    assert item.act_on <= min(TODAY, before)
    assert any("still acid" in line for line in item.why)


def test_salt_that_ran_out_stays_run_out_on_its_day() -> None:
    """What came through months ago has come through; it is not put off to the day after today."""
    spent = [raw_water(), *meter(500.0), reading(date(2026, 6, 1), "salt_depth", 22.0, "softener")]
    days = []
    for today in (TODAY, TODAY + timedelta(days=60)):
        found = plan(home(*spent), today).reports["softener"]["if_salt_runs_out"]
        assert isinstance(found, dict)
        days.append((found["salt_out"], found["nitrate_shows"]))
        assert found["nitrate_shows"] < today.isoformat()
    assert abs((date.fromisoformat(days[0][1]) - date.fromisoformat(days[1][1])).days) <= 3


def test_a_smaller_dose_is_not_advised_past_its_own_nitrate() -> None:
    from model.equipment.softener import run_length
    from model.forecast.numbers.softener import options
    from model.forecast.situation import Situation

    now = Situation(home(*LIVED), TODAY)
    (stage,) = [one for one in now.house.stages if isinstance(one, Softener)]
    for option in options(now, stage):
        own = run_length(msgspec.structs.replace(stage, salt_dose_kg=option.salt_kg), now.known.fed(stage)).by_nitrate_l
        assert own is not None
        assert option.litres_between <= own * 1.001


def test_no_better_water_postpones_the_sleeve() -> None:
    worse, better = (reading(date(2026, 10, day), "iron", iron, "source") for day, iron in ((1, 0.5), (20, 0.05)))
    cleaned = Service(on=date(2026, 5, 24), task="ultraviolet.clean_sleeve")
    first = due_on([*LIVED, cleaned, worse], "ultraviolet.clean_sleeve").act_on
    assert due_on([*LIVED, cleaned, worse, better], "ultraviolet.clean_sleeve").act_on <= first


def test_nitrate_is_tested_twice_a_year_also_where_nothing_else_is_known() -> None:
    tested = Service(on=date(2026, 5, 1), task="well.nitrate_test")
    assert due_on([reading(date(2026, 4, 1), "nitrate", 15.0, "source"), tested], "well.nitrate_test").act_on == date(
        2026, 11, 1
    )


@pytest.mark.parametrize("point", ["after_softener", "after_pressure_tank", "hose"])
def test_e_coli_is_told_wherever_it_was_found(point: str) -> None:
    found = LabReport(on=date(2026, 11, 1), point=point, taken=(taken("e_coli", 1.0, point),))
    shown = plan(home(*LIVED, found, hose=True), TODAY)
    assert "E. coli found" in shown.exposure[0]
    assert any(alert.point == point and alert.level != "note" for alert in shown.alerts)


@pytest.mark.parametrize(("unit_class", "changed"), [("B", TODAY), ("A", date(2025, 1, 1))])
def test_a_lamp_that_may_not_be_relied_on_is_no_comfort(unit_class: str, changed: date) -> None:
    stages = tuple(
        msgspec.structs.replace(one, unit_class=unit_class) if one.id == "ultraviolet" else one for one in STAGES
    )
    found = LabReport(on=date(2026, 11, 1), point="source", taken=(taken("e_coli", 1.0, "source"),))
    lamp = Service(on=changed, task=LAMP)
    lines = plan(home(raw_water(), found, lamp, stages=stages), TODAY).exposure
    assert not any("all that stands between" in line for line in lines)


def test_cloudy_or_dark_raw_water_takes_the_lamp_out_of_its_rating() -> None:
    stages = tuple(msgspec.structs.replace(one, unit_class="A") if one.id == "ultraviolet" else one for one in STAGES)
    changed = Service(on=TODAY, task=LAMP)
    for quantity, value in (("turbidity", 8.0), ("uv_transmittance", 55.0)):
        shown = plan(home(*LIVED, changed, reading(TODAY, quantity, value, "source"), stages=stages), TODAY)
        numbers = shown.reports["ultraviolet"]
        assert numbers["outside_rating"]
        assert "log_inactivation" not in numbers


def test_the_owners_action_level_is_the_one_told() -> None:
    strict = _with(nitrate_action_mg_l_n=3.0)
    shown = plan(home(*LIVED, reading(TODAY, "nitrate", 4.0, "tap"), stages=strict), TODAY)
    assert any("action level of 3" in alert.text for alert in shown.alerts)
