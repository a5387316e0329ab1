"""What a job brings with it later is dated in the plan until it is done; health only ever comes sooner."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.forecast.asked_for import wanted as wanted_of
from model.forecast.situation import Situation
from model.plan import plan
from model.records.events import AnyEvent, LabReport, Service
from tests.forecast.homes import TODAY, due, due_on, home, raw_water, taken

COLIFORM = "well.coliform_test"
TESTED = Service(on=date(2026, 9, 1), task=COLIFORM)


def on(month: int, day: int) -> date:
    return date(2026, month, day)


def done(month: int, day: int, task: str) -> Service:
    return Service(on=on(month, day), task=task)


def test_two_weeks_after_a_sleeve_a_coliform_sample_is_due() -> None:
    item = due_on([TESTED, done(11, 20, "ultraviolet.replace_sleeve")], COLIFORM)
    assert item.act_on == date(2026, 12, 4)
    assert item.health
    assert item.why[0].startswith("To follow what was done on 20 Nov, change the quartz sleeve: Coliform sample")


@pytest.mark.parametrize(("sampled", "next_on"), [(on(11, 7), date(2026, 11, 15)), (on(11, 8), date(2027, 11, 8))])
def test_a_sample_of_the_first_week_does_not_count_and_one_of_the_second_does(sampled: date, next_on: date) -> None:
    events: list[AnyEvent] = [TESTED, done(11, 1, "ultraviolet.replace_sleeve"), Service(on=sampled, task=COLIFORM)]
    assert due_on(events, COLIFORM).act_on == next_on


def test_a_report_of_raw_and_treated_ends_it_as_well_as_the_job() -> None:
    clean = [LabReport(on=on(11, 10), point=at, taken=(taken("total_coliform", 0, at),)) for at in ("source", "tap")]
    events: list[AnyEvent] = [TESTED, done(11, 1, "ultraviolet.replace_sleeve"), *clean]
    assert due_on(events, COLIFORM).act_on == date(2027, 11, 10)
    assert due_on(events[:3], COLIFORM).act_on == date(2026, 11, 15)


def test_each_of_the_three_ph_readings_after_a_refill_is_asked_in_its_turn() -> None:
    """Day 1, 7 and 30 from practice after a refill, from memory; owner's default."""
    events: list[AnyEvent] = [done(10, 25, "neutralizer.ph_check"), done(11, 1, "neutralizer.top_up")]
    for read, wanted in ((None, on(11, 2)), (on(11, 2), on(11, 8)), (on(11, 9), on(12, 1))):
        if read:
            events.append(Service(on=read, task="neutralizer.ph_check"))
        assert due_on([raw_water(), *events], "neutralizer.ph_check").act_on == wanted


def test_what_hangs_on_a_finding_gets_no_date() -> None:
    before = due_on([done(10, 1, "neutralizer.bed_check")], "neutralizer.bed_check")
    after = due_on([done(10, 1, "neutralizer.bed_check"), done(11, 20, "neutralizer.ph_check")], before.task)
    assert after.act_on == before.act_on


def test_a_job_without_a_date_of_its_own_appears_while_it_is_wanted() -> None:
    flooded: list[AnyEvent] = [LabReport(on=on(11, 20), point="source", taken=(taken("total_coliform", 1, "source"),))]
    assert "well.shock_chlorination" not in {one.task for one in plan(home(), TODAY).due}
    assert due_on([*flooded], "well.shock_chlorination").act_on == on(11, 27)
    after: list[AnyEvent] = [*flooded, done(11, 25, "well.shock_chlorination")]
    assert "well.shock_chlorination" not in {one.task for one in plan(home(*after), TODAY).due}


def test_after_a_shock_three_samples_follow() -> None:
    """1 to 2 weeks, then at 1 and 3 months: from memory; owner's default. 48 hours at the least: Ottawa County."""
    events: list[AnyEvent] = [TESTED, Service(on=on(9, 2), task="well.shock_chlorination")]
    for sampled, wanted in ((None, on(9, 9)), (on(9, 9), on(10, 2)), (on(10, 5), on(12, 1)), (on(11, 25), None)):
        if sampled:
            events.append(Service(on=sampled, task=COLIFORM))
        found = wanted_of(Situation(home(*events), TODAY)).get(COLIFORM)
        assert (found.on if found else None) == wanted


def test_the_second_unit_follows_up_itself_and_others_go_to_the_first_of_their_kind() -> None:
    import msgspec

    from tests.forecast.homes import STAGES

    second = msgspec.structs.replace(STAGES[5], id="ultraviolet_2")
    now = Situation(home(done(11, 20, "ultraviolet_2.sanitize_pipes"), stages=(*STAGES, second)), TODAY)
    assert {"ultraviolet_2.glance", COLIFORM} <= set(wanted_of(now))
    assert "ultraviolet.glance" not in wanted_of(now)


BASES = ("ultraviolet.replace_lamp", "ultraviolet.replace_sleeve", "ultraviolet.sanitize_pipes", "well.replace_pump")


@given(
    st.lists(st.tuples(st.integers(0, 300), st.sampled_from(BASES)), max_size=5),
    st.tuples(st.integers(0, 300), st.sampled_from(BASES)),
)
@settings(max_examples=20, deadline=None)
def test_no_work_puts_a_health_test_off(past: list[tuple[int, str]], more: tuple[int, str]) -> None:
    def item(done: list[tuple[int, str]]) -> date:
        events = [Service(on=TODAY - timedelta(days=ago), task=task) for ago, task in done]
        return due(plan(home(TESTED, *events), TODAY), COLIFORM).act_on

    assert item([*past, more]) <= item(past)
