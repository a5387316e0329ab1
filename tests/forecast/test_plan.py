"""The plan as a whole: any train, any day, the same answer twice."""

from __future__ import annotations

from datetime import date

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.equipment.registry import AnyStage
from model.home import Home, House
from model.plan import plan
from model.records.events import LabReport
from tests.forecast.homes import STAGES, TODAY, home, house, meter, raw_water, reading, taken

stages = st.lists(st.sampled_from(STAGES), max_size=12)


def _named(found: list[AnyStage]) -> tuple[AnyStage, ...]:
    """Ids as they would be given: softener, softener_2, softener_3."""
    seen: dict[str, int] = {}
    named = []
    for stage in found:
        seen[stage.id] = seen.get(stage.id, 0) + 1
        number = seen[stage.id]
        named.append(msgspec.structs.replace(stage, id=stage.id if number == 1 else f"{stage.id}_{number}"))
    return tuple(named)


@given(stages, st.booleans(), st.dates(date(2026, 1, 1), date(2030, 12, 31)))
@settings(max_examples=30, deadline=None)
def test_any_train_missing_or_doubled_has_a_plan(found: list[AnyStage], known: bool, today: date) -> None:
    events = [raw_water(), *meter(500.0)] if known else []
    made = home(*events, stages=_named(found))
    shown = plan(made, today)
    assert len({item.task for item in shown.due}) == len(shown.due)
    assert plan(made, today) == shown


def test_a_blank_home_has_an_empty_plan_that_says_so() -> None:
    shown = plan(Home(House(name="New", started=TODAY)), TODAY)
    assert shown.due == ()
    assert "written down" in shown.exposure[0]


def test_the_points_follow_the_train() -> None:
    points = [point.point for point in plan(home(raw_water(), hose=True), TODAY).points]
    assert points == [
        "source",
        "after_pressure_tank",
        "after_sediment_filter",
        "after_neutralizer",
        "after_softener",
        "tap",
        "ro",
        "hose",
    ]


def test_sodium_added_is_046_of_the_hardness_removed() -> None:
    """0.46 mg of sodium for each mg of hardness as CaCO3. Source: Connecticut DPH publication 29."""
    points = {point.point: point for point in plan(home(raw_water()), TODAY).points}
    before, after = points["after_neutralizer"], points["after_softener"]
    assert before.sample is not None
    assert after.sample is not None
    assert before.hardness_mg_l_caco3 is not None
    assert after.hardness_mg_l_caco3 is not None
    removed = before.hardness_mg_l_caco3 - after.hardness_mg_l_caco3
    assert (after.sample.sodium_mg_l - before.sample.sodium_mg_l) / removed == pytest.approx(0.46, abs=0.005)


def test_the_neutralizer_follows_the_ph_that_was_read() -> None:
    made = home(raw_water(), reading(date(2026, 11, 1), "pH", 7.4, "after_neutralizer"))
    points = {point.point: point for point in plan(made, TODAY).points}
    sample = points["after_neutralizer"].sample
    assert sample is not None
    assert sample.pH == pytest.approx(7.4, abs=0.01)


def test_nitrate_is_planned_on_the_worst_of_two_years() -> None:
    old = raw_water(on=date(2023, 5, 1), nitrate=30.0)
    made = home(old, raw_water(on=date(2025, 5, 1), nitrate=14.0), raw_water(nitrate=9.0))
    source = plan(made, TODAY).points[0]
    assert source.nitrate_planned_mg_l_n == 14.0
    assert source.sample is not None
    assert source.sample.nitrate_mg_l_n == 9.0


def test_salt_reckoned_to_be_gone_is_the_first_thing_said() -> None:
    made = home(raw_water(), *meter(800.0), reading(date(2026, 8, 1), "salt_depth", 20.0, "softener"))
    assert "untreated for nitrate" in plan(made, TODAY).exposure[0]


def test_coliform_counts_until_the_next_clean_sample_of_that_point() -> None:
    found = LabReport(on=date(2026, 10, 1), point="tap", taken=(taken("total_coliform", 1.0, "tap"),))
    clean = LabReport(on=date(2026, 10, 20), point="tap", taken=(taken("total_coliform", 0.0, "tap"),))
    assert any("Coliform found at the tap" in line for line in plan(home(raw_water(), found), TODAY).exposure)
    assert not any("Coliform found" in line for line in plan(home(raw_water(), found, clean), TODAY).exposure)


def test_a_lamp_past_its_date_is_said() -> None:
    assert any("lamp is past its date" in line for line in plan(home(raw_water()), date(2027, 6, 1)).exposure)


def test_a_meter_set_beyond_the_nitrate_resin_is_warned_of() -> None:
    greedy = tuple(
        msgspec.structs.replace(stage, regenerate_every_l=40_000.0) if stage.id == "softener" else stage
        for stage in STAGES
    )
    assert any("nitrate may pass" in alert.text for alert in plan(home(raw_water(), stages=greedy), TODAY).alerts)


def test_reports_leave_out_what_cannot_be_known() -> None:
    shown = plan(home(stages=(STAGES[3],)), TODAY)
    assert shown.reports["neutralizer"] == {"bypass_share": 0.0}
    assert plan(Home(house(stages=())), TODAY).reports.keys() == {"use"}


def test_a_new_home_with_an_old_softener_gets_no_false_alarm() -> None:
    """Put in years ago, written down last week: its salt is a guess from the day the record begins, not long gone."""
    old = tuple(
        msgspec.structs.replace(stage, installed_on=date(2019, 5, 1)) if stage.id == "softener" else stage
        for stage in STAGES
    )
    shown = plan(home(raw_water(on=date(2026, 11, 20)), stages=old, started=date(2026, 11, 18)), TODAY)
    item = next(item for item in shown.due if item.task == "softener.refill_salt")
    assert item.state != "overdue"
    assert item.sure == "guess"
    assert not any("Salt" in line for line in shown.exposure)


@pytest.mark.parametrize("point", ["tap", "ro"])
def test_a_nitrate_measured_at_a_drinking_tap_is_what_is_shown(point: str) -> None:
    measured = reading(date(2026, 11, 20), "nitrate", 11.0, point)
    shown = plan(home(raw_water(), measured), TODAY)
    sample = next(one.sample for one in shown.points if one.point == point)
    assert sample is not None
    assert sample.nitrate_mg_l_n == 11.0
    assert any(alert.level == "danger" and alert.point == point for alert in shown.alerts)
    assert "do not drink it" in shown.exposure[0]


def test_a_measured_nitrate_raises_the_alarm_where_nothing_else_is_known() -> None:
    shown = plan(home(reading(date(2026, 11, 20), "nitrate", 13.6, "tap"), stages=(STAGES[0], STAGES[5])), TODAY)
    assert any(alert.level == "danger" and "13.6" in alert.text for alert in shown.alerts)


def test_raw_nitrate_without_a_stage_that_removes_it_says_so() -> None:
    shown = plan(home(raw_water(), stages=(STAGES[0], STAGES[5])), TODAY)
    assert any("nothing here removes it" in line for line in shown.exposure)


def test_a_hose_with_much_nitrate_is_warned_of() -> None:
    assert any(alert.point == "hose" for alert in plan(home(raw_water(), hose=True), TODAY).alerts)


def test_each_organism_is_judged_on_its_own() -> None:
    found = LabReport(on=date(2026, 10, 1), point="tap", taken=(taken("total_coliform", 1.0, "tap"),))
    other = LabReport(on=date(2026, 10, 20), point="tap", taken=(taken("e_coli", 0.0, "tap"),))
    shown = plan(home(raw_water(), found, other), TODAY)
    assert any("Coliform found at the tap" in line for line in shown.exposure)
    assert shown.alerts[0].level == "danger"
    assert "boiling would concentrate" in shown.exposure[0].casefold()


def test_water_that_stood_beside_magnesia_is_warned_of() -> None:
    mixed = tuple(
        msgspec.structs.replace(stage, magnesia_share=0.2) if stage.id == "neutralizer" else stage for stage in STAGES
    )
    told = [alert.text for alert in plan(home(raw_water(), stages=mixed), TODAY).alerts]
    assert any("water that stands" in text for text in told)
    plain = [alert.text for alert in plan(home(raw_water()), TODAY).alerts]
    assert not any("that stands" in text for text in plain)


def test_water_under_the_owners_floor_is_warned_of() -> None:
    strict = tuple(
        msgspec.structs.replace(stage, floor_pH=7.8) if stage.id == "neutralizer" else stage for stage in STAGES
    )
    made = home(raw_water(), reading(date(2026, 11, 1), "pH", 7.0, "after_neutralizer"), stages=strict)
    assert any("floor of 7.8" in alert.text for alert in plan(made, TODAY).alerts)
