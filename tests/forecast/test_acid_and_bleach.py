"""Acid and bleach never share a day: not in what is offered, not in what is begun, and said where it was done."""

from __future__ import annotations

from datetime import date, timedelta

from model.forecast.acid_and_bleach import apart
from model.forecast.situation import Situation
from model.forecast.visits import visits
from model.plan import plan_of
from model.records.events import AnyEvent, PlaybookStarted, Service
from tests.forecast.homes import TODAY, home, meter, raw_water

ALARM = PlaybookStarted(on=TODAY - timedelta(days=1), playbook="uv_alarm")
ACID = Service(on=TODAY, task="ultraviolet.clean_sleeve", handles="service")
BLEACH = Service(on=TODAY, task="ultraviolet.sanitize_pipes", handles="service")


def now(*events: AnyEvent) -> Situation:
    return Situation(home(raw_water(), *meter(400.0), *events), TODAY)


def days_of(situation: Situation, task: str) -> list[date]:
    found = visits(situation, plan_of(situation))
    return [one.on for one in found for each in one.jobs if each.job.task == task]


def test_bleach_work_waits_for_tomorrow_where_acid_was_used_today() -> None:
    alarm = PlaybookStarted(on=TODAY - timedelta(days=9), playbook="uv_alarm")
    assert days_of(now(alarm), "ultraviolet.sanitize_pipes") == [TODAY + timedelta(days=1)], "the sleeve comes first"
    assert days_of(now(alarm, ACID), "ultraviolet.sanitize_pipes") == [TODAY + timedelta(days=1)]


def test_acid_work_waits_for_tomorrow_where_bleach_was_used_today() -> None:
    assert days_of(now(ALARM), "ultraviolet.clean_sleeve") == [TODAY]
    assert days_of(now(ALARM, BLEACH), "ultraviolet.clean_sleeve") == [TODAY + timedelta(days=1)]


def test_recording_the_second_of_them_says_so() -> None:
    assert "keep bleach work for another day" in apart(now(ACID), BLEACH.task, TODAY)
    assert "keep acid work for another day" in apart(now(BLEACH), ACID.task, TODAY)
    assert apart(now(ACID), BLEACH.task, TODAY + timedelta(days=1)) == ""
    assert apart(now(ACID), ACID.task, TODAY) == ""
    assert apart(now(), BLEACH.task, TODAY) == ""
    assert apart(now(ACID), "softener.refill_salt", TODAY) == ""


def test_two_playbooks_whose_acid_and_bleach_steps_meet_are_told() -> None:
    """The alarm cleans the sleeve before it sanitizes; coliform found two days later brings its own days."""

    def told(*begun: PlaybookStarted) -> list[str]:
        return [alert.text for alert in plan_of(now(*begun)).alerts if "both fall on" in alert.text]

    both = [
        told(ALARM, PlaybookStarted(on=TODAY + timedelta(days=after), playbook="coliform_found")) for after in range(4)
    ]
    assert any(both)
    assert all("the acid first, the bleach on a later day" in text for each in both for text in each)
    assert told(ALARM) == []
