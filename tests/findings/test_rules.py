"""Each finding from a series that raises it, not from one near it; and what holds for all of them."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.equipment.registry import KINDS
from model.findings.registry import RULES
from model.plan import plan
from model.records.events import Service
from tests.findings.cases import CASES
from tests.findings.series import (
    FILLED,
    NOV_1,
    NOV_20,
    OCT_1,
    Case,
    Series,
    at,
    found_in,
    gauges,
    glass,
    hardness_check,
    last_meter,
    lived,
    monthly,
    nights,
    ro,
    solids,
    stood,
    thrice,
    without_last,
)
from tests.forecast.homes import STAGES, TODAY, house, reading

IDS = [f"{number}-{case.finding}" for number, case in enumerate(CASES)]


@pytest.mark.parametrize("case", CASES, ids=IDS)
def test_a_series_raises_its_finding_and_one_near_it_does_not(case: Case) -> None:
    seen = found_in(lived(case.raises, case.stages))[case.finding]
    assert seen.causes[0].id == case.first
    assert len(seen.causes) > 1
    assert all(one.text and one.do for one in seen.causes)
    assert seen.rests_on
    assert seen.task or seen.read or any(one.do for one in seen.causes)
    assert case.finding not in found_in(lived(case.near, case.stages))


@pytest.mark.parametrize("case", [one for one in CASES if "lamp" not in one.finding], ids=lambda case: case.finding)
def test_a_reading_taken_back_takes_its_finding_with_it(case: Case) -> None:
    assert case.finding not in found_in(without_last(lived(case.raises, case.stages)))


def test_every_row_of_the_tables_has_a_case_and_its_tasks_are_jobs() -> None:
    assert {rule.diagnosis.id for rule in RULES} == {case.finding.partition(".")[0] for case in CASES}
    for rule in RULES:
        for name in (*rule.diagnosis.tasks, *(one.task for one in rule.diagnosis.causes)):
            kind, _, job = name.rpartition(".")
            jobs = KINDS[kind or rule.kind].all_jobs if name else ()
            assert not name or job in {one.id for one in jobs}, (rule.diagnosis.id, name)


def test_readings_are_told_in_the_owner_s_units() -> None:
    series = at(NOV_20, pressure_tank__cut_in=2.7579, pressure_tank__precharge=3.1026)
    case_home = lived(series)
    american = type(case_home)(house(STAGES, units="us"), case_home.events)
    seen = found_in(american)["precharge_over_cut_in.pressure_tank"]
    assert [one.value for one in seen.rests_on] == ["45 psi", "40 psi"]
    assert [one.on for one in seen.rests_on] == [NOV_20, NOV_20]
    assert "45 psi on 20 Nov, above the cut-in of 40 psi" in seen.text


def test_nitrate_at_the_limit_is_a_danger_and_infants_are_named() -> None:
    series = at(NOV_20, after_softener__hardness=5.0, after_softener__nitrate=11.0)
    seen = found_in(lived(series))["nitrate_with_soft_water.softener"]
    assert seen.level == "danger"
    assert "bottled" in seen.text


@pytest.mark.parametrize(("nitrate", "level"), [(5.0, "warning"), (9.9, "warning"), (10.0, "danger"), (30.0, "danger")])
def test_nitrate_with_hard_water_is_a_danger_from_the_limit_on(nitrate: float, level: str) -> None:
    series = at(NOV_20, source__nitrate=nitrate, after_softener__hardness=90.0, after_softener__nitrate=nitrate)
    seen = found_in(lived(series))["nitrate_not_held.softener"]
    assert seen.level == level
    assert "mg/L as N on 20 Nov after the resin, as in the raw water" in seen.text
    assert "bottled" in seen.text
    assert "boiling concentrates nitrate" in seen.text
    assert ("Do not drink it" in seen.text) is (level == "danger")


def test_a_slow_draw_is_told_in_minutes() -> None:
    series = at(OCT_1, softener__brine_draw=3000.0) + at(NOV_20, softener__brine_draw=6600.0)
    seen = found_in(lived(series))["slow_brine_draw.softener"]
    assert "took 110 min on 20 Nov, 50 min on 1 Oct" in seen.text


def test_germs_where_people_drink_are_a_danger_and_boiling_is_not_advised() -> None:
    seen = found_in(lived(at(NOV_20, tap__e_coli=1.0, ro__total_coliform=1.0)))
    for name in ("germs_after_uv.ultraviolet", "germs_at_ro.reverse_osmosis"):
        assert seen[name].level == "danger"
        assert "bottled" in seen[name].text
        assert "boiling kills germs but concentrates nitrate" in seen[name].text


def test_a_clean_result_of_the_same_organism_clears_germs_and_one_of_another_does_not() -> None:
    found = at(OCT_1, tap__e_coli=1.0)
    assert "germs_after_uv.ultraviolet" in found_in(lived([*found, *at(NOV_20, tap__total_coliform=0.0)]))
    assert "germs_after_uv.ultraviolet" not in found_in(lived([*found, *at(NOV_20, tap__e_coli=0.0)]))


@pytest.mark.parametrize(
    ("metal", "mg_l", "level"),
    [("lead", 0.010, "warning"), ("lead", 0.015, "danger"), ("copper", 1.0, "note"), ("copper", 1.3, "warning")],
)
def test_metals_are_as_grave_as_the_level_they_reach(metal: str, mg_l: float, level: str) -> None:
    """A first draw and a flushed sample of one day: the worse counts."""
    seen = found_in(lived([reading(NOV_20, metal, mg_l, "tap"), reading(NOV_20, metal, 0.0001, "tap")]))
    assert seen[f"metal_at_tap.{metal}.tap"].level == level


@pytest.mark.parametrize("case", [one for one in CASES if "lamp" not in one.finding], ids=lambda case: case.finding)
def test_old_readings_raise_nothing(case: Case) -> None:
    """Of the lamp's age the calendar tells, so its finding does not grow old."""
    assert case.finding not in found_in(lived(case.raises, case.stages), TODAY + timedelta(days=500))


@settings(max_examples=12, deadline=None)
@given(
    run_s=st.floats(60.0, 200.0),
    drawdown_l=st.floats(70.0, 80.0),
    charge_bar=st.floats(2.0, 2.75),
    drop_bar=st.floats(0.05, 0.8),
    pH=st.floats(6.6, 8.9),
    soft=st.floats(1.0, 50.0),
    nitrate=st.floats(0.5, 4.9),
    sensor=st.floats(70.0, 100.0),
    kept=st.floats(0.86, 0.99),
    still=st.floats(0.0, 2.0),
    depth_cm=st.floats(34.0, 39.0),
)
def test_readings_that_agree_raise_nothing(
    run_s: float,
    drawdown_l: float,
    charge_bar: float,
    drop_bar: float,
    pH: float,
    soft: float,
    nitrate: float,
    sensor: float,
    kept: float,
    still: float,
    depth_cm: float,
) -> None:
    series = [
        FILLED,
        *at(NOV_20, pressure_tank__run_time=run_s, pressure_tank__drawdown=drawdown_l),
        *at(NOV_20, pressure_tank__precharge=charge_bar, sediment_filter__pressure_in=3.5),
        *at(NOV_20, sediment_filter__pressure_out=3.5 - drop_bar, after_neutralizer__pH=pH),
        *at(NOV_20, after_softener__hardness=soft, source__nitrate=11.0, after_softener__nitrate=nitrate),
        *at(NOV_20, ultraviolet__uv_intensity=sensor, softener__salt_depth=depth_cm),
        *solids(300.0, 300.0 * (1.0 - kept)),
        *nights(9.0, 9.0, still, 9.0, 9.0),
    ]
    assert found_in(lived(series)) == {}


@settings(max_examples=12, deadline=None)
@given(
    level_m=st.floats(0.0, 15.1),
    run_s=st.floats(60.0, 899.0),
    first_bar=st.floats(2.45, 4.1),
    bed_bar=st.floats(0.0, 0.5),
    pH=st.floats(7.3, 8.9),
    bed_gpg=st.floats(0.0, 9.4),
    room_cm=st.floats(25.0, 50.0),
    brine_cm=st.floats(0.0, 46.0),
    draw_s=st.floats(300.0, 4499.0),
    sodium=st.floats(0.0, 100.0),
    iron=st.floats(0.0, 0.3),
    hours=st.floats(5901.0, 6200.0),
    celsius=st.floats(4.0, 19.9),
    lead=st.floats(0.0, 0.0099),
    copper=st.floats(0.0, 0.99),
)
def test_other_readings_that_agree_raise_nothing(
    level_m: float,
    run_s: float,
    first_bar: float,
    bed_bar: float,
    pH: float,
    bed_gpg: float,
    room_cm: float,
    brine_cm: float,
    draw_s: float,
    sodium: float,
    iron: float,
    hours: float,
    celsius: float,
    lead: float,
    copper: float,
) -> None:
    """Up to each limit, and in the direction that is the better one as far as it goes."""
    series = [
        *at(OCT_1, well__static_level=12.2, softener__brine_draw=3000.0, ultraviolet__lamp_hours=5000.0),
        *at(NOV_20, well__static_level=level_m, softener__brine_draw=draw_s, ultraviolet__lamp_hours=hours),
        *at(NOV_20, pressure_tank__run_time=run_s, sediment_filter__pressure_in=first_bar),
        *gauges("neutralizer", 0.2, bed_bar),
        *gauges("softener", 0.2, bed_bar),
        *monthly("after_neutralizer", "pH", 7.5, 7.6, 7.5, pH),
        *at(NOV_20, after_neutralizer__hardness=17.1 * bed_gpg, neutralizer__freeboard=room_cm),
        *at(NOV_20, softener__brine_level=brine_cm, after_softener__sodium=sodium, source__iron=iron),
        *at(NOV_20, source__temperature=10.0, tap__temperature=celsius, tap__lead=lead, tap__copper=copper),
        *at(NOV_20, source__total_coliform=1.0, tap__total_coliform=0.0, ro__e_coli=0.0),
    ]
    assert found_in(lived(series)) == {}


WORSE: dict[str, tuple[Callable[[float], Series], float, float]] = {
    "short_cycling.pressure_tank": (lambda x: at(NOV_20, pressure_tank__run_time=60.0 - x), 1.0, 60.0),
    "falling_level.well": (
        lambda x: at(OCT_1, well__static_level=12.2) + at(NOV_20, well__static_level=15.3 + x),
        0.0,
        100.0,
    ),
    "long_run.pressure_tank": (lambda x: at(NOV_20, pressure_tank__run_time=900.0 + x), 0.0, 9000.0),
    "low_supply.pressure_tank": (lambda x: at(NOV_20, sediment_filter__pressure_in=2.4 - x), 0.0, 2.4),
    "drawdown_loss.pressure_tank": (lambda x: at(NOV_20, pressure_tank__drawdown=65.0 - x), 0.0, 65.0),
    "precharge_over_cut_in.pressure_tank": (lambda x: at(NOV_20, pressure_tank__precharge=2.8 + x), 0.0, 5.0),
    "loaded_filter.sediment_filter": (
        lambda x: at(NOV_20, sediment_filter__pressure_in=4.0, sediment_filter__pressure_out=3.1 - x),
        0.0,
        3.1,
    ),
    "still_acid.neutralizer": (lambda x: at(NOV_20, after_neutralizer__pH=6.4 - x), 0.0, 3.0),
    "falling_pH.neutralizer": (
        lambda x: monthly("after_neutralizer", "pH", 7.8, 7.8, 7.6, 7.3 - x, 7.3 - x),
        0.0,
        0.8,
    ),
    "bed_drop.neutralizer": (lambda x: gauges("neutralizer", 0.2, 0.2, 0.6 + x), 0.0, 2.5),
    "little_freeboard.neutralizer": (lambda x: at(NOV_20, neutralizer__freeboard=24.0 - x), 0.0, 24.0),
    "hardness_rise.neutralizer": (lambda x: at(NOV_20, after_neutralizer__hardness=165.0 + x), 0.0, 400.0),
    "cloudy_after_top_up.neutralizer": (
        lambda x: [Service(on=NOV_1, task="neutralizer.top_up"), *at(NOV_20, tap__turbidity=5.0 + x)],
        0.0,
        100.0,
    ),
    "pH_rises_standing.neutralizer": (lambda x: [*at(NOV_20, tap__pH=6.8), glass(7.2 + x)], 0.0, 1.7),
    "over_corrected_standing.neutralizer": (lambda x: [stood(9.0 + x)], 0.0, 4.0),
    "salt_bridge.softener": (lambda x: [FILLED, *at(NOV_20, softener__salt_depth=50.0 + x)], 0.0, 20.0),
    "salt_too_fast.softener": (lambda x: [FILLED, *at(NOV_20, softener__salt_depth=20.0 - x)], 0.0, 20.0),
    "brine_over_full.softener": (lambda x: at(NOV_20, softener__brine_level=47.0 + x), 0.0, 100.0),
    "slow_brine_draw.softener": (
        lambda x: at(OCT_1, softener__brine_draw=3000.0) + at(NOV_20, softener__brine_draw=4600.0 + x),
        0.0,
        9000.0,
    ),
    "resin_drop.softener": (lambda x: gauges("softener", 0.2, 0.2, 0.6 + x), 0.0, 2.5),
    "iron_on_resin.softener": (lambda x: at(NOV_20, source__iron=0.31 + x), 0.0, 10.0),
    "salty_water.softener": (lambda x: at(NOV_20, after_softener__sodium=200.0 + x), 0.0, 800.0),
    "hard_before_regeneration.softener": (lambda x: [hardness_check(52.0 + x, 8.0)], 0.0, 300.0),
    "hard_after_regeneration.softener": (lambda x: [hardness_check(60.0, 52.0 + x)], 0.0, 300.0),
    "hard_water.softener": (lambda x: at(NOV_20, after_softener__hardness=52.0 + x), 0.0, 300.0),
    "nitrate_with_soft_water.softener": (
        lambda x: at(NOV_20, after_softener__hardness=5.0, after_softener__nitrate=5.0 + x),
        0.0,
        60.0,
    ),
    "nitrate_not_held.softener": (
        lambda x: at(NOV_20, after_softener__hardness=60.0 + x, after_softener__nitrate=5.0 + x),
        0.0,
        60.0,
    ),
    "germs_after_uv.ultraviolet": (lambda x: at(NOV_20, tap__total_coliform=x), 1.0, 200.0),
    "germs_at_ro.reverse_osmosis": (lambda x: at(NOV_20, ro__e_coli=x), 1.0, 200.0),
    "metal_at_tap.lead.tap": (lambda x: at(NOV_20, tap__lead=0.01 + x), 0.0, 0.2),
    "metal_at_tap.copper.ro": (lambda x: at(NOV_20, ro__copper=1.0 + x), 0.0, 5.0),
    # Lit for 24 h a day: 9,000 h are over after 375 days, and nobody's counter shows it.
    "lamp_silent.ultraviolet": (
        lambda x: [
            Service(on=TODAY - timedelta(days=376 + int(x)), task="ultraviolet.replace_lamp"),
            *at(NOV_20, ultraviolet__lamp_hours=900.0),
        ],
        0.0,
        600.0,
    ),
    # By 3 % a degree the flow falls below eight tenths at 12 degrees: 0.97 ^ 8 = 0.78.
    "cold_water.reverse_osmosis": (
        lambda x: [
            *ro(date(2026, 7, 1), 120.0, 20.0),
            *ro(NOV_20, 120.0 * 0.97 ** (8.0 + x), 12.0 - x),
        ],
        0.0,
        9.0,
    ),
    # 12 mg/L as N, the middle of what was read before, is 53.1 as NO3: the nearer a reading is to it, the plainer.
    "unit_mixup.nitrate.source": (lambda x: thrice("source", "nitrate", 11.0, 12.0, 47.0 + x), 0.0, 6.0),
    "nitrate_over_raw.house": (lambda x: at(NOV_20, source__nitrate=8.0, after_softener__nitrate=9.5 + x), 0.0, 60.0),
    "counter_behind.ultraviolet": (
        lambda x: at(OCT_1, ultraviolet__lamp_hours=5000.0) + at(NOV_20, ultraviolet__lamp_hours=5890.0 - x),
        0.0,
        5890.0,
    ),
    "warm_uv_water.ultraviolet": (
        lambda x: at(NOV_20, source__temperature=10.0, tap__temperature=20.0 + x),
        0.0,
        40.0,
    ),
    "meter_still.house": (lambda x: last_meter(69.0 - x), 0.0, 69.0),
    "low_light.ultraviolet": (lambda x: at(NOV_20, ultraviolet__uv_intensity=69.0 - x), 0.0, 69.0),
    "worn_membrane.reverse_osmosis": (lambda x: [*ro(OCT_1, 120.0, 12.0), *ro(NOV_20, 100.0 - x, 12.0)], 0.0, 100.0),
    "membrane_nitrate.reverse_osmosis": (
        lambda x: [*solids(300.0, 20.0), *at(NOV_20, tap__nitrate=6.0, ro__nitrate=2.0 + x)],
        0.0,
        40.0,
    ),
    "night_leak.house": (lambda x: nights(2.1 + x, 2.2 + x, 2.3, 2.4, 2.5 + x), 0.0, 100.0),
}


@pytest.mark.parametrize("finding", WORSE)
@settings(max_examples=4, deadline=None)
@given(share=st.floats(0.0, 1.0), more=st.floats(0.0, 1.0))
def test_more_pronounced_evidence_keeps_the_finding(finding: str, share: float, more: float) -> None:
    series, low, high = WORSE[finding]
    little = low + (high - low) * share
    seen, worse = (found_in(lived(series(x))) for x in (little, little + (high - little) * more))
    assert finding in seen
    assert finding in worse


def test_the_plan_holds_the_findings_and_stays_pure() -> None:
    case_home = lived(CASES[0].raises)
    once, again = plan(case_home, TODAY), plan(case_home, TODAY)
    assert [one.id for one in once.findings] == [CASES[0].finding]
    assert once == again
