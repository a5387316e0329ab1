"""The visits of a home: what joins them, what they take from the shelf, and that playbooks count with the jobs."""

from __future__ import annotations

from datetime import timedelta

from model.forecast.situation import Situation
from model.forecast.visits import Visit, visits
from model.plan import plan_of
from model.records.events import AnyEvent, PlaybookStarted, Purchase, Service
from model.upkeep.checklist import load_checklist
from tests.forecast.homes import TODAY, home, raw_water

DAY = timedelta(days=1)


def found(*events: AnyEvent, within_days: int = 14) -> tuple[Visit, ...]:
    now = Situation(home(raw_water(), *events), TODAY)
    return visits(now, plan_of(now, with_numbers=False), within_days)


def tasks(some: tuple[Visit, ...]) -> dict[str, Visit]:
    return {one.job.task: visit for visit in some for one in visit.jobs}


def test_only_work_with_the_water_off_or_with_acid_or_bleach_joins() -> None:
    some = tasks(found(within_days=60))
    assert "ultraviolet.clean_sleeve" in some
    assert "ultraviolet.glance" not in some
    assert "well.coliform_test" not in some
    assert all(
        sheet.visit == "water_off" or sheet.chemistry != "none"
        for sheet in (load_checklist(*task.split(".")) for task in some)
    )


def test_the_minutes_are_those_of_the_checklists() -> None:
    for visit in found():
        sheets = [load_checklist(*one.job.task.split(".")) for one in visit.jobs]
        assert visit.minutes == sum(sheet.minutes for sheet in sheets)
        assert visit.wait_minutes == sum(step.wait_minutes for sheet in sheets for step in sheet.steps)


def test_a_playbook_s_jobs_join_and_its_bleach_stays_off_the_day_of_the_acid() -> None:
    alarm = PlaybookStarted(on=TODAY, playbook="uv_alarm")
    some = tasks(found(alarm))
    acid, bleach = some["ultraviolet.clean_sleeve"], some["ultraviolet.sanitize_pipes"]
    assert (acid.on, bleach.on) == (TODAY, TODAY + 3 * DAY)
    assert "ultraviolet.replace_lamp" in tasks((acid,))
    assert [one.task for one in acid.apart if "poison" in one.why] == ["ultraviolet.sanitize_pipes"]


def test_parts_are_counted_against_the_shelf_over_all_visits() -> None:
    """Nothing known to be new: the lamp and the filters were never changed; the shelf has one cartridge and no lamp."""
    some = found()
    lacking = {part.supply: part for visit in some for part in visit.supplies}
    assert (lacking["cartridge"].needed, lacking["cartridge"].on_shelf, lacking["cartridge"].lacks) == (1.0, 1.0, 0.0)
    assert (lacking["lamp"].on_shelf, lacking["lamp"].lacks) == (0.0, 1.0)
    bought = found(Purchase(on=TODAY, supply="lamp", quantity=1.0))
    assert {part.supply: part.lacks for visit in bought for part in visit.supplies}["lamp"] == 0.0


def test_a_job_done_leaves_the_visit() -> None:
    done = Service(on=TODAY, task="ultraviolet.clean_sleeve")
    assert "ultraviolet.clean_sleeve" not in tasks(found(done))


def test_the_membrane_s_feed_is_closed_before_anything() -> None:
    for visit in found():
        assert "RO feed" in visit.off_first[0]
        assert "aquarium" in visit.off_first[1]
