"""The rules of a visit, over any set of jobs: days, order, flushes, and acid away from bleach."""

from __future__ import annotations

from collections import Counter
from datetime import date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.upkeep.checklist import FollowUp, all_checklist_ids, load_checklist
from model.upkeep.visits import CHEMISTRY, MOST_MINUTES, Arranged, Candidate, arranged

TODAY = date(2026, 11, 25)
DAY = timedelta(days=1)
TRAIN = ("well", "pressure_tank", "sediment_filter", "neutralizer", "softener", "ultraviolet", "reverse_osmosis")


def job(task: str, days: int, chemistry: str = "none", *, health: bool = False, **more: object) -> Candidate:
    """A job of a stage of the train, due so many days from today."""
    stage = task.partition(".")[0]
    base = {"water": "water_off", "minutes": 40} | more
    return Candidate(
        task=task,
        title=f"Do {task}",
        stage=stage,
        stage_title=stage.capitalize(),
        place=TRAIN.index(stage),
        latest=TODAY + days * DAY,
        health=health,
        chemistry=chemistry,  # type: ignore[arg-type]
        **base,  # type: ignore[arg-type]
    )


@st.composite
def jobs(draw: st.DrawFn) -> list[Candidate]:
    """Jobs of any stage, any chemistry, overdue or to come."""
    count = draw(st.integers(1, 9))
    return [
        job(
            f"{draw(st.sampled_from(TRAIN))}.{letter}",
            draw(st.integers(-20, 14)),
            draw(st.sampled_from(["none", "none", "acid", "bleach"])),
            health=draw(st.booleans()),
            minutes=draw(st.integers(5, 300)),
            water=draw(st.sampled_from(["water_off", "water_off", "water_off", "running"])),
            follow_ups=draw(
                st.sampled_from([(), (FollowUp(text="Clean pipes.", days=1, task="ultraviolet.sanitize_pipes"),)])
            ),
        )
        for letter in "abcdefghi"[:count]
    ]


def kinds(visit: Arranged) -> list[str]:
    return [one.job.chemistry for one in visit.jobs]


@settings(deadline=None, max_examples=80)
@given(jobs(), st.booleans())
def test_every_rule_holds_for_any_jobs(some: list[Candidate], membrane: bool) -> None:
    found = arranged(some, TODAY, membrane=membrane)
    assert [one.on for one in found] == sorted({one.on for one in found})
    assert Counter(one.job.task for visit in found for one in visit.jobs) == Counter(one.task for one in some)
    for visit in found:
        assert visit.on >= TODAY
        assert not {"acid", "bleach"} <= set(kinds(visit)), "acid and bleach share a day"
        assert [*kinds(visit), "bleach"].index("bleach") >= len([one for one in kinds(visit) if one != "bleach"])
        wet = [one.job for one in visit.jobs if one.job.water == "water_off" and one.job.chemistry != "bleach"]
        assert [one.place for one in wet] == sorted(one.place for one in wet), "not from well to tap"
        bleach = [one.job.place for one in visit.jobs if one.job.chemistry == "bleach" and one.job.water == "water_off"]
        assert bleach == sorted(bleach)
        for here, following in pairwise(visit.jobs):
            if here.job.stage != following.job.stage or following.job.chemistry == "bleach":
                assert "lush to waste until clear" in here.flush
        assert "RO feed open last" in visit.jobs[-1].flush
        assert ("RO feed" in visit.off_first[0]) is membrane
        assert any("fish tap" in line for line in visit.off_first[:2])
        assert any("membrane" in line and "carbon" in line for line in visit.off_first) or "bleach" not in kinds(visit)


@settings(deadline=None, max_examples=80)
@given(jobs())
def test_nothing_is_later_than_its_day_unless_acid_and_bleach_are_both_due(some: list[Candidate]) -> None:
    pressing = {one.chemistry for one in some if one.latest <= TODAY}
    for visit in arranged(some, TODAY, membrane=True):
        for one in visit.jobs:
            due = max(one.job.latest, TODAY)
            if {"acid", "bleach"} <= pressing and one.job.chemistry != "none":
                assert visit.on <= max(due, TODAY + DAY)
            else:
                assert visit.on <= due


@settings(deadline=None, max_examples=60)
@given(jobs())
def test_what_follows_never_brings_bleach_to_a_day_with_acid(some: list[Candidate]) -> None:
    found = arranged(some, TODAY, membrane=True)
    acid = {visit.on for visit in found if "acid" in kinds(visit)}
    for visit in found:
        assert not acid & {one.on for one in visit.afterwards if CHEMISTRY.get(one.task) == "bleach"}


@settings(deadline=None, max_examples=60)
@given(jobs())
def test_opposed_jobs_say_on_which_day_they_are_and_why(some: list[Candidate]) -> None:
    found = arranged(some, TODAY, membrane=True)
    days = {one.job.task: visit.on for visit in found for one in visit.jobs}
    for visit in found:
        told = {one.task: one for one in visit.apart}
        assert all(one.on == days[one.task] != visit.on for one in told.values())
        for other in some:
            if {other.chemistry, *kinds(visit)} >= {"acid", "bleach"} and other.chemistry not in kinds(visit):
                assert "poison gas" in told[other.task].why


def tasks(visit: Arranged) -> list[str]:
    return [one.job.task for one in visit.jobs]


def test_jobs_near_each_other_are_one_visit_in_stage_order_on_the_first_one_s_day() -> None:
    some = [job("ultraviolet.lamp", 9), job("pressure_tank.air", 6), job("sediment_filter.cartridge", 4, health=True)]
    (visit,) = arranged(some, TODAY, membrane=False)
    assert visit.on == TODAY + 4 * DAY
    assert tasks(visit) == ["pressure_tank.air", "sediment_filter.cartridge", "ultraviolet.lamp"]
    assert (visit.minutes, visit.wait_minutes) == (120, 0)


def test_the_sleeve_is_one_day_before_the_pipes_are_sanitized() -> None:
    some = [job("ultraviolet.sleeve", 9, "acid"), job("ultraviolet.pipes", 3, "bleach", health=True)]
    acid, bleach = arranged(some, TODAY, membrane=False)
    assert (acid.on, tasks(acid)) == (TODAY + 2 * DAY, ["ultraviolet.sleeve"])
    assert (bleach.on, tasks(bleach)) == (TODAY + 3 * DAY, ["ultraviolet.pipes"])


@pytest.mark.parametrize(
    ("acid_health", "bleach_health", "acid_on", "bleach_on"),
    [(True, True, 0, 1), (False, False, 0, 1), (True, False, 0, 1), (False, True, 1, 0)],
    ids=["both", "neither", "acid", "bleach"],
)
def test_where_both_are_due_today_one_waits_a_day_and_says_so(
    acid_health: bool, bleach_health: bool, acid_on: int, bleach_on: int
) -> None:
    some = [
        job("ultraviolet.sleeve", 0, "acid", health=acid_health),
        job("ultraviolet.pipes", 0, "bleach", health=bleach_health),
    ]
    days = {tasks(one)[0]: one for one in arranged(some, TODAY, membrane=False)}
    assert days["ultraviolet.sleeve"].on == TODAY + acid_on * DAY
    assert days["ultraviolet.pipes"].on == TODAY + bleach_on * DAY
    today = next(one for one in days.values() if one.on == TODAY)
    assert "a day late" in today.apart[0].why


def test_filters_and_membrane_work_go_with_the_sanitizing_of_their_stage() -> None:
    some = [
        job("ultraviolet.sleeve", 2, "acid"),
        job("reverse_osmosis.filters", 9),
        job("reverse_osmosis.clean", 8, "bleach"),
    ]
    first, second = arranged(some, TODAY, membrane=True)
    assert tasks(first) == ["ultraviolet.sleeve"]
    assert (second.on, tasks(second)) == (TODAY + 8 * DAY, ["reverse_osmosis.filters", "reverse_osmosis.clean"])


def test_too_much_for_one_day_leaves_what_can_wait_for_its_own_day() -> None:
    some = [job("well.a", 0, minutes=300), job("softener.b", 5, minutes=100), job("softener.c", 12, minutes=50)]
    first, second = arranged(some, TODAY, membrane=False)
    assert (first.minutes, tasks(first)) == (300, ["well.a"])
    assert (second.on, tasks(second)) == (TODAY + 5 * DAY, ["softener.b", "softener.c"])
    assert f"more than {MOST_MINUTES} minutes" in first.apart[0].why


def test_two_jobs_at_one_open_stage_need_no_flush_between_but_acid_is_rinsed_off() -> None:
    plain = arranged([job("softener.a", 1), job("softener.b", 1)], TODAY, membrane=False)[0]
    assert plain.jobs[0].flush == ""
    assert "open already" in plain.jobs[1].why
    acid = arranged([job("ultraviolet.a", 1, "acid"), job("ultraviolet.b", 1)], TODAY, membrane=False)[0]
    assert "Rinse every trace of acid off" in acid.jobs[0].flush


def test_nothing_due_is_no_visit() -> None:
    assert arranged([], TODAY, membrane=True) == ()


def test_the_table_of_acid_and_bleach_jobs_is_what_the_checklists_say() -> None:
    sheets = {f"{kind}.{name}": load_checklist(kind, name).chemistry for kind, name in all_checklist_ids()}
    assert {task: one for task, one in sheets.items() if one != "none"} == CHEMISTRY
