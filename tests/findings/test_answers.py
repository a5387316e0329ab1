"""Accepted, dismissed, snoozed, done: what each does, how long it counts, and that nothing goes silently."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.errors import BadInput
from model.findings.answers import answer_to
from model.home import Home
from model.plan import plan
from model.plan_types import Due, Finding
from model.records.events import Answer, AnyEvent, FindingAnswered, Service
from tests.findings.cases import CASES
from tests.findings.series import FILLED, NOV_20, Case, at, found_in, lived, without_last
from tests.forecast.homes import TODAY, numbered

BRIDGE = "salt_bridge.softener"
STUCK = [FILLED, *at(NOV_20, softener__salt_depth=50.0)]
TASK = "softener.salt_check"


def said(answer: Answer, finding: str = BRIDGE, **more: object) -> FindingAnswered:
    return FindingAnswered(on=TODAY, finding=finding, answer=answer, **more)  # type: ignore[arg-type]


def bridge(*later: AnyEvent, today: date = TODAY) -> Finding:
    return found_in(lived([*STUCK, *later]), today)[BRIDGE]


def due_task(shown: Home, task: str) -> Due | None:
    return next((one for one in plan(shown, TODAY).due if one.task == task), None)


def test_accepting_brings_the_job_forward_until_it_is_done() -> None:
    before, accepted = lived(STUCK), lived([*STUCK, said("accepted")])
    was, item = due_task(before, TASK), due_task(accepted, TASK)
    assert was is not None
    assert item is not None
    assert bridge(said("accepted")).answer == "accepted"
    assert item.act_on == min(was.act_on, TODAY)  # a danger: salt holds back the nitrate of this house
    assert item.state in ("overdue", "this_week")
    assert item.why[0] == "You accepted the finding: Salt does not go: a bridge, or no brine is drawn."
    done = bridge(said("accepted"), Service(on=TODAY, task=TASK))
    assert (done.answer, done.hidden) == ("done", True)


def test_accepting_makes_a_task_of_a_job_that_has_no_date() -> None:
    series = at(NOV_20, ultraviolet__uv_intensity=60.0)
    accepted = lived([*series, said("accepted", "low_light.ultraviolet")])
    item = due_task(accepted, "ultraviolet.clean_sleeve")
    assert item is not None
    assert item.act_on <= TODAY + timedelta(days=7)


def test_an_accepted_finding_stays_though_the_readings_no_longer_show_it() -> None:
    events = numbered(*lived([*STUCK, said("accepted")]).events)
    shown = lived(STUCK).house
    gone = Home(shown, tuple(one for one in events if one.id != len(events) - 1))
    kept = found_in(gone)[BRIDGE]
    assert (kept.answer, kept.stands, kept.rests_on) == ("accepted", False, ())
    done = Home(shown, (*gone.events, *(_numbered_on(said("done"), 90),)))
    assert BRIDGE not in found_in(done)


def _numbered_on(event: FindingAnswered, number: int) -> FindingAnswered:
    from msgspec.structs import replace

    return replace(event, id=number)


def test_dismissed_it_stays_away_until_a_new_reading_shows_it() -> None:
    told = bridge(said("dismissed", reason="probed: loose"))
    assert (told.answer, told.reason, told.hidden) == ("dismissed", "probed: loose", True)
    again = bridge(said("dismissed", reason="probed: loose"), *at(TODAY, softener__salt_depth=50.0))
    assert (again.answer, again.hidden) == ("", False)
    assert not bridge(said("dismissed", reason=" ")).hidden


def test_snoozed_it_comes_back_on_its_day_and_a_danger_with_the_next_reading() -> None:
    until = TODAY + timedelta(days=10)
    waits = said("snoozed", until=until)
    assert bridge(waits).hidden
    assert bridge(waits, today=until - timedelta(days=1)).hidden
    assert not bridge(waits, today=until).hidden
    assert not bridge(waits, *at(TODAY, softener__salt_depth=50.0)).hidden


def test_marked_done_it_is_hidden_until_a_new_reading() -> None:
    done = (said("accepted"), said("done"))
    assert bridge(*done).hidden
    assert not bridge(*done, *at(TODAY, softener__salt_depth=50.0)).hidden


def test_a_reading_that_was_asked_for_is_the_task_s_end() -> None:
    case = next(one for one in CASES if one.finding == "unit_mixup.nitrate.source")
    accepted = [*case.raises, said("accepted", case.finding)]
    found = found_in(lived(accepted))[case.finding]
    assert (found.answer, found.read, found.at) == ("accepted", "nitrate", "source")
    assert case.finding not in found_in(lived([*accepted, *at(TODAY, source__nitrate=12.0)]))


def test_taking_an_answer_back_undoes_it() -> None:
    assert found_in(without_last(lived([*STUCK, said("dismissed", reason="loose")])))[BRIDGE].answer == ""


@pytest.mark.parametrize(
    ("answer", "reason", "until", "words"),
    [
        ("dismissed", "  ", None, "Why is it dismissed"),
        ("snoozed", "", None, "Until when"),
        ("snoozed", "", TODAY, "not after today"),
        ("snoozed", "", TODAY + timedelta(days=31), "beyond 30 days"),
        ("done", "", None, "no task yet"),
        ("accepted", "", TODAY + timedelta(days=3), "only to snooze"),
    ],
)
def test_answers_that_say_nothing_are_refused(answer: Answer, reason: str, until: date | None, words: str) -> None:
    with pytest.raises(BadInput, match=words):
        answer_to(bridge(), answer, TODAY, reason, until)


ANSWERS = st.one_of(
    st.just(said("accepted")),
    st.just(said("dismissed", reason="x")),
    st.integers(1, 30).map(lambda days: said("snoozed", until=TODAY + timedelta(days=days))),
    st.just(said("done")),
)


@settings(max_examples=15, deadline=None)
@given(
    case=st.sampled_from(CASES),
    answers=st.lists(ANSWERS, max_size=3),
)
def test_no_finding_and_no_answer_moves_a_date_later_or_drops_anything(
    case: Case, answers: list[FindingAnswered]
) -> None:
    from msgspec.structs import replace

    named = [replace(one, finding=case.finding) for one in answers]
    before, after = (plan(lived([*case.raises, *more], case.stages), TODAY) for more in ([], named))
    dates = {one.task: one.act_on for one in after.due}
    assert all(dates[one.task] <= one.act_on for one in before.due)
    assert {one.id for one in before.findings} <= {one.id for one in after.findings}
    if not any(one.answer == "dismissed" for one in named):
        assert before.exposure == after.exposure
