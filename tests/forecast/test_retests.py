"""Bad results ask for their tests, each by a day; pairs, missing results and the seasons of nitrate are told."""

from __future__ import annotations

from datetime import date, timedelta

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.equipment.well import Well
from model.forecast.asked_for import wanted as wanted_of
from model.forecast.situation import Situation
from model.forecast.tested import lab_alerts
from model.plan import plan
from model.records.events import AnyEvent, LabReport, Service
from tests.forecast.homes import STAGES, TODAY, due, due_on, home, raw_water, reading, taken

COLIFORM, NITRATE, WATCH = "well.coliform_test", "well.nitrate_test", "well.nitrate_watch"
FARM = (Well(id="well", farmed_land=True), *STAGES[1:])


def report(day: date, point: str, **values: float) -> LabReport:
    return LabReport(on=day, point=point, taken=tuple(taken(name, value, point) for name, value in values.items()))


def wanted(events: list[AnyEvent], task: str, today: date = TODAY, **more: object) -> date | None:
    found = wanted_of(Situation(home(*events, **more), today)).get(task)
    return found.on if found else None


def test_germs_are_sampled_again_within_days_then_after_one_and_three_months() -> None:
    """Raw and treated on one day: Florida Department of Health. The days: from memory; owner's default."""
    found = date(2026, 8, 1)
    events: list[AnyEvent] = [report(found, "tap", total_coliform=1)]
    for clean, day in (
        (None, date(2026, 8, 4)),
        (date(2026, 8, 3), date(2026, 8, 31)),
        (date(2026, 8, 20), date(2026, 10, 30)),
        (date(2026, 9, 20), None),
    ):
        if clean:
            events.append(report(clean, "tap", total_coliform=0))
        assert wanted(events, COLIFORM) == day


def test_germs_at_the_tap_are_for_the_pipes_and_germs_in_raw_water_for_the_well() -> None:
    day = date(2026, 11, 20)
    at_tap, raw = report(day, "tap", e_coli=3), report(day, "source", e_coli=3)
    assert wanted([at_tap], "ultraviolet.sanitize_pipes") == date(2026, 11, 27)
    assert wanted([at_tap], "well.shock_chlorination") is None
    assert wanted([raw], "well.shock_chlorination") == date(2026, 11, 27)


def test_one_clean_sample_does_not_call_off_the_disinfection_and_two_do() -> None:
    events: list[AnyEvent] = [report(date(2026, 11, 1), "tap", total_coliform=1)]
    for day, still in ((date(2026, 11, 4), True), (date(2026, 11, 12), False)):
        events.append(report(day, "tap", total_coliform=0, e_coli=0))
        assert (wanted(events, "ultraviolet.sanitize_pipes") is not None) is still


@given(
    st.lists(st.tuples(st.integers(0, 200), st.sampled_from([0, 1]), st.sampled_from(["source", "tap"])), max_size=6)
)
@settings(max_examples=25, deadline=None)
def test_after_a_bad_result_a_sample_is_due_within_days_whatever_came_before(
    results: list[tuple[int, int, str]],
) -> None:
    base = Service(on=date(2026, 3, 1), task=COLIFORM)
    events = [report(TODAY - timedelta(days=ago), point, total_coliform=bad) for ago, bad, point in results]
    worse = report(TODAY, "tap", total_coliform=1)
    assert due(plan(home(base, *events, worse), TODAY), COLIFORM).act_on <= TODAY + timedelta(days=3)


def test_nitrate_over_the_limit_at_a_tap_goes_to_the_laboratory_within_a_week() -> None:
    tested = Service(on=date(2026, 11, 1), task=NITRATE)
    high = reading(date(2026, 11, 20), "nitrate", 10.5, "tap")
    assert due_on([tested, high], NITRATE).act_on == date(2026, 11, 27)
    assert due_on([tested, reading(date(2026, 11, 20), "nitrate", 9.5, "tap")], NITRATE).act_on == date(2027, 11, 1)
    strip_again = reading(date(2026, 11, 22), "nitrate", 2.0, "tap")
    assert due_on([tested, high, strip_again], NITRATE).act_on == date(2026, 11, 27)


def test_lead_is_sampled_again_in_a_month() -> None:
    """Action level 0.015 mg/L: US EPA."""
    tested = Service(on=date(2026, 11, 1), task="well.lead_copper_test")
    assert due_on([tested, report(date(2026, 11, 5), "tap", lead=0.016)], tested.task).act_on == date(2026, 12, 5)


@pytest.mark.parametrize("first", ["first draw", "flushed"])
def test_clean_flushed_water_does_not_hide_the_lead_of_the_first_draw(first: str) -> None:
    """Action level 0.015 mg/L: US EPA."""
    draw, flushed = taken("lead", 0.02, "tap", state="at_rest"), taken("lead", 0.001, "tap", state="flowing")
    both = (draw, flushed) if first == "first draw" else (flushed, draw)
    shown = plan(home(Service(on=date(2026, 11, 1), task="well.lead_copper_test", taken=both)), TODAY)
    assert [one.text for one in shown.alerts if one.point == "tap" and one.text.startswith("Lead 20 ")]
    assert due(shown, "well.lead_copper_test").act_on == date(2026, 12, 1)


@pytest.mark.parametrize(
    ("points", "said"), [(("source",), "only the raw"), (("tap",), "only the treated"), (("source", "tap"), "")]
)
def test_a_nitrate_test_of_one_side_only_is_said(points: tuple[str, ...], said: str) -> None:
    now = Situation(home(*(report(date(2026, 11, 1), at, nitrate=6.0) for at in points)), TODAY)
    told = [one.text for one in lab_alerts(now.history) if one.text.startswith("Nitrate on")]
    assert [said in text for text in told] == ([True] if said else [])


def test_only_raw_and_treated_of_one_day_count_as_the_test() -> None:
    raw, tap = report(date(2026, 11, 1), "source", nitrate=2.0), report(date(2026, 11, 1), "tap", nitrate=1.0)
    other_day = msgspec.structs.replace(tap, on=date(2026, 11, 2))
    assert due_on([raw, tap], NITRATE).act_on == date(2027, 11, 1)
    assert due_on([raw, other_day], NITRATE).act_on == date(2026, 1, 1)


def test_a_result_that_nobody_entered_is_asked_for_after_its_time() -> None:
    sampled = Service(on=date(2026, 11, 10), task=COLIFORM)
    clean = report(date(2026, 11, 10), "tap", total_coliform=0)

    def asked(today: date, *events: AnyEvent) -> bool:
        found = lab_alerts(Situation(home(sampled, *events), today).history)
        return any("no result is written down" in one.text for one in found)

    assert not asked(date(2026, 11, 19))
    assert asked(date(2026, 11, 20))
    assert not asked(date(2026, 11, 20), clean)


def test_raw_nitrate_is_watched_in_spring_and_autumn_near_fields() -> None:
    """Spring and autumn: Heartland Health Region (Saskatchewan)."""
    assert wanted([], WATCH) is None
    rows = (
        (2026, 3, 10, 2026, 4, 15),
        (2026, 7, 1, 2026, 4, 15),
        (2026, 9, 1, 2026, 10, 15),
        (2027, 1, 5, 2026, 10, 15),
    )
    for year, month, day, *expected in rows:
        assert wanted([], WATCH, date(year, month, day), stages=FARM) == date(*expected)
    read = reading(date(2026, 9, 20), "nitrate", 3.0, "source")
    assert wanted([read], WATCH, stages=FARM) == date(2027, 4, 15)
    assert wanted([reading(date(2026, 8, 20), "nitrate", 3.0, "source")], WATCH, stages=FARM) == date(2026, 10, 15)
    assert wanted([raw_water(nitrate=5.0)], WATCH) == date(2026, 10, 15)
    assert wanted([raw_water(nitrate=4.9)], WATCH) is None


def test_a_rise_is_read_again_each_week() -> None:
    base = reading(date(2026, 9, 1), "nitrate", 4.0, "source")
    risen = reading(date(2026, 11, 20), "nitrate", 6.0, "source")
    assert wanted([base, msgspec.structs.replace(risen, on=date(2026, 10, 2))], WATCH, stages=FARM) == date(2026, 10, 9)
    flat = reading(date(2026, 10, 9), "nitrate", 6.0, "source")
    early = msgspec.structs.replace(risen, on=date(2026, 10, 2))
    assert wanted([base, early, flat], WATCH, stages=FARM) == date(2027, 4, 15)


def test_the_worst_nitrate_of_two_years_is_planned_on() -> None:
    low = reading(date(2026, 11, 1), "nitrate", 3.0, "source")
    for on, planned in ((date(2025, 4, 1), 14.0), (date(2024, 4, 1), 3.0)):
        now = Situation(home(reading(on, "nitrate", 14.0, "source"), low), TODAY)
        assert now.planned_nitrate_mg_l_n == planned
