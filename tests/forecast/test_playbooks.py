"""A playbook begun makes dated steps in order, which only being done or left out closes."""

from __future__ import annotations

from datetime import date, timedelta

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.equipment.registry import kind_of
from model.equipment.softener import Softener
from model.errors import BadInput, UnknownName
from model.forecast.playbook_events import answer, begin, beside, find_step, offered_for
from model.forecast.playbooks import running
from model.forecast.situation import Situation
from model.home import Home
from model.plan import plan
from model.plan_types import EventStep
from model.records.events import Absence, AnyEvent, PlaybookStarted, PlaybookStep, Service
from model.redate import redated
from model.store import codec
from model.store.check import problems_in
from model.upkeep.playbook import all_playbook_ids
from tests.forecast.homes import STAGES, TODAY, home, house, meter, numbered, raw_water, reading, undone

DAY = timedelta(days=1)
CUT = PlaybookStarted(on=TODAY, playbook="power_cut")


def steps(*events: AnyEvent, today: date = TODAY, **more: object) -> dict[str, EventStep]:
    """The open steps of a home by their key."""
    return {step.key: step for step in plan(home(*events, **more), today).steps}


def done(task: str, on: date) -> Service:
    return Service(on=on, task=task)


def test_the_steps_are_dated_in_order_with_their_tasks() -> None:
    found = list(steps(CUT).values())
    assert [step.key for step in found] == [
        f"1.{one}"
        for one in ("note", "pressure", "lamp", "clock", "clock_bed", "flush", "reservoir", "sanitize", "sample")
    ]
    assert [(step.on - TODAY).days for step in found] == [0, 0, 0, 0, 0, 0, 0, 1, 14]
    assert found[2].task == "ultraviolet.glance"
    assert found[2].health


@pytest.mark.parametrize(
    ("kinds", "keys"),
    [
        (("well",), {"note", "pressure", "sample"}),
        (("well", "softener"), {"note", "pressure", "clock", "sample"}),
        (("ultraviolet",), {"note", "pressure", "lamp", "flush", "sanitize"}),
        ((), {"note", "pressure"}),
    ],
    ids=["well", "softener", "lamp", "nothing"],
)
def test_only_what_the_home_has_is_asked_for(kinds: tuple[str, ...], keys: set[str]) -> None:
    found = plan(home(CUT, stages=tuple(one for one in STAGES if kind_of(one) in kinds)), TODAY).steps
    assert {step.key for step in found} == {f"1.{key}" for key in keys}


def test_nitrate_is_asked_for_where_there_is_resin_for_it() -> None:
    spraying = PlaybookStarted(on=TODAY, playbook="field_spraying")
    plain = tuple(
        msgspec.structs.replace(one, anion_resin_l=0.0, anion_type="none") if isinstance(one, Softener) else one
        for one in STAGES
    )
    assert "1.strip-1" in steps(spraying)
    assert "1.strip_raw-1" not in steps(spraying)
    assert "1.strip-1" not in steps(spraying, stages=plain)
    assert "1.strip_raw-1" in steps(spraying, stages=plain)


def test_each_stage_of_a_kind_has_its_step() -> None:
    second = Softener(id="softener_2")
    refill = PlaybookStarted(on=TODAY, playbook="absence_short")
    found = steps(refill, stages=(*STAGES, second))
    assert {found[key].task for key in ("1.salt", "1.salt_2")} == {"softener.salt_check", "softener_2.salt_check"}


def test_a_service_closes_the_step_that_points_to_it_and_no_other() -> None:
    left = steps(CUT, done("ultraviolet.glance", TODAY))
    assert "1.lamp" not in left
    assert len(left) == 8


def test_what_was_done_before_the_start_closes_nothing() -> None:
    assert "2.lamp" in steps(done("ultraviolet.glance", TODAY), CUT)
    assert "2.lamp" in steps(done("ultraviolet.glance", TODAY - DAY), CUT)


def test_a_proof_two_weeks_later_is_not_the_sample_of_the_day_itself() -> None:
    later = TODAY + 14 * DAY
    soon, late = done("well.coliform_test", TODAY + 2 * DAY), done("well.coliform_test", TODAY + 8 * DAY)
    assert "1.sample" in steps(CUT, soon, today=later)
    assert "1.sample" not in steps(CUT, late, today=later)


def test_each_of_several_days_wants_its_own_service() -> None:
    refilled, later = PlaybookStarted(on=TODAY, playbook="neutralizer_refilled"), TODAY + 40 * DAY
    days = {1: {"2", "3"}, 6: {"3"}, 20: set()}
    for day, left in days.items():
        found = steps(refilled, done("neutralizer.ph_check", TODAY + day * DAY), today=later)
        assert {key.removeprefix("1.ph-") for key in found if key.startswith("1.ph")} == left


def test_what_is_done_before_leaving_counts_though_the_start_is_to_come() -> None:
    leaving = TODAY + 4 * DAY
    away = PlaybookStarted(on=leaving, playbook="absence_long")
    assert steps(away)["1.salt"].on == leaving - 3 * DAY
    assert "1.salt" not in steps(away, done("softener.salt_check", TODAY))


def test_an_answer_closes_a_step_and_taking_it_back_opens_it_again() -> None:
    said = PlaybookStep(on=TODAY, started=1, step="flush", outcome="skipped", reason="no taps were open")
    assert "1.flush" not in steps(CUT, said)
    (begun,) = running(Situation(home(CUT, said), TODAY))
    (flush,) = [step for step in begun.steps if step.step == "flush"]
    assert (flush.outcome, flush.reason, flush.closed_on) == ("skipped", "no taps were open", TODAY)
    again = undone(home(CUT, said), 2)
    assert "1.flush" in {step.key for step in plan(again, TODAY).steps}
    assert plan(undone(home(CUT, said), 1), TODAY).steps == ()


def test_no_reading_moves_a_step() -> None:
    plainly = steps(*(msgspec.structs.replace(CUT) for _ in range(1)))
    more = [raw_water(on=TODAY, nitrate=0.1), reading(TODAY, "total_coliform", 0.0, "tap"), *meter(2000.0)]
    assert {key: step.on for key, step in steps(CUT, *more).items()} == {key: step.on for key, step in plainly.items()}


@settings(deadline=None, max_examples=30)
@given(st.sampled_from(all_playbook_ids()), st.integers(-60, 60), st.integers(0, 60))
def test_on_any_day_the_steps_rise_and_the_states_fit_their_days(name: str, ahead: int, later: int) -> None:
    start = TODAY + ahead * DAY
    today = TODAY + later * DAY
    found = plan(home(PlaybookStarted(on=start, playbook=name)), today).steps
    assert [step.on for step in found] == sorted(step.on for step in found)
    assert len({step.key for step in found}) == len(found) > 0
    for step in found:
        assert (step.state == "overdue") == (step.on < today)
        assert min(step.on, start) - 60 * DAY <= step.opens <= step.on


def test_a_playbook_that_this_program_does_not_have_asks_for_nothing_and_is_told() -> None:
    strange = home(
        PlaybookStarted(on=TODAY, playbook="meteor"), PlaybookStep(on=TODAY, started=9, step="x", outcome="done")
    )
    assert plan(strange, TODAY).steps == ()
    told = [problem.what for problem in problems_in(codec.to_text(codec.tables_of(strange)))]
    assert any("no playbook 'meteor'" in one for one in told)
    assert any("event 9 began no playbook" in one for one in told)


def now(*events: AnyEvent) -> Situation:
    return Situation(home(*events), TODAY)


def test_beginning_asks_for_a_known_name_a_near_day_and_not_twice() -> None:
    assert begin(now(), "flood", TODAY, " wet ") == PlaybookStarted(on=TODAY, playbook="flood", note="wet")
    with pytest.raises(UnknownName, match="no playbook"):
        begin(now(), "meteor", TODAY)
    with pytest.raises(BadInput, match="too far"):
        begin(now(), "flood", TODAY + 400 * DAY)
    with pytest.raises(BadInput, match="already, as event 1"):
        begin(now(CUT), "power_cut", TODAY)
    assert "still has open steps" in beside(now(CUT), PlaybookStarted(on=TODAY - DAY, playbook="power_cut"))
    assert beside(now(CUT), PlaybookStarted(on=TODAY, playbook="flood")) == ""


def test_an_answer_needs_an_open_step_and_leaving_out_a_reason() -> None:
    assert answer(now(CUT), "1.flush", "done", TODAY) == PlaybookStep(on=TODAY, started=1, step="flush", outcome="done")
    with pytest.raises(BadInput, match="without a reason"):
        answer(now(CUT), "1.flush", "skipped", TODAY, "  ")
    with pytest.raises(BadInput, match=r"wellward done ultraviolet\.glance"):
        answer(now(CUT), "1.lamp", "done", TODAY)
    assert answer(now(CUT), "1.lamp", "skipped", TODAY, "no lamp lit").outcome == "skipped"
    with pytest.raises(BadInput, match="future"):
        answer(now(CUT), "1.flush", "done", TODAY + DAY)
    with pytest.raises(UnknownName, match=r"1\.note"):
        find_step(now(CUT), "1.nothing")
    said = PlaybookStep(on=TODAY, started=1, step="flush", outcome="done")
    with pytest.raises(BadInput, match="was done on"):
        answer(now(CUT, said), "1.flush", "skipped", TODAY, "why not")


@pytest.mark.parametrize(
    ("first", "last", "offered"),
    [
        (2, 4, ("absence_short", 2)),
        (0, 6, ("absence_long", 0)),
        (-9, -2, ("return", -1)),
        (-9, 0, ("absence_long", -9)),
    ],
    ids=["days", "week", "over", "last day"],
)
def test_an_absence_offers_its_playbook(first: int, last: int, offered: tuple[str, int]) -> None:
    absence = Absence(on=TODAY + first * DAY, until=TODAY + last * DAY)
    assert offered_for(absence, TODAY) == (offered[0], TODAY + offered[1] * DAY)


def test_a_story_moved_to_another_year_keeps_steps_with_their_start() -> None:
    said = PlaybookStep(on=TODAY + DAY, started=3, step="flush", outcome="done")
    old = PlaybookStarted(on=TODAY - 700 * DAY, playbook="flood")
    gone = PlaybookStep(on=TODAY + 2 * DAY, started=1, step="off", outcome="done")
    events = numbered(
        old,
        reading(TODAY - DAY, "meter", 5.0, "house"),
        CUT,
        said,
        gone,
        reading(TODAY + 120 * DAY, "meter", 9.0, "house"),
    )
    moved = redated(Home(house(), events), date(2030, 2, 1))
    (started,) = [one for one in moved.events if isinstance(one, PlaybookStarted)]
    (step,) = [one for one in moved.events if isinstance(one, PlaybookStep)]
    assert (step.started, step.step) == (started.id, "flush")
