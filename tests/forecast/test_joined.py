"""Where parts meet: playbooks and exposure, states of readings and findings, rules and the guide."""

from __future__ import annotations

from datetime import date, timedelta

import msgspec

from model.forecast.situation import Situation
from model.guide.book import answer, matching
from model.guide.own import Own
from model.plan import plan
from model.records.events import AnyEvent, LabReport, LocalRule, PlaybookStarted, Reading, Service, Taken
from tests.forecast.homes import TODAY, home, meter, raw_water, salt_filled, taken

LIVED: list[AnyEvent] = [raw_water(), *meter(500.0, weeks=12), salt_filled(date(2026, 11, 1), 50.0)]


def exposed(*more: AnyEvent) -> tuple[str, ...]:
    return plan(home(*LIVED, *more), TODAY).exposure


def test_the_alarm_playbook_is_an_alarm_until_the_lamp_is_seen_to_and_the_tap_tests_clean() -> None:
    begun = PlaybookStarted(on=TODAY - timedelta(days=2), playbook="uv_alarm")
    assert any("alarm" in line for line in exposed(begun))
    sanitized, seen = (Service(on=TODAY, task=f"ultraviolet.{job}") for job in ("sanitize_pipes", "glance"))
    clean = LabReport(on=TODAY, point="tap", taken=(taken("total_coliform", 0.0, "tap"),))
    assert any("alarm" in line for line in exposed(begun, sanitized, seen))
    assert not any("alarm" in line for line in exposed(begun, sanitized, seen, clean))
    ahead = PlaybookStarted(on=TODAY + timedelta(days=2), playbook="uv_alarm")
    assert not any("alarm" in line for line in exposed(ahead))


def test_a_power_cut_begun_as_a_playbook_leaves_the_lamp_dark() -> None:
    begun = PlaybookStarted(on=TODAY - timedelta(days=1), playbook="power_cut")
    germs = LabReport(on=date(2026, 5, 1), point="source", taken=(taken("total_coliform", 1.0, "source"),))
    assert any(line.startswith("Power cut") for line in exposed(begun, germs))


def test_an_infant_told_by_the_playbook_comes_first() -> None:
    assert exposed(PlaybookStarted(on=TODAY, playbook="infant"))[0].startswith("Infant in the house")
    assert not exposed()[0].startswith("Infant in the house")


def read(value: float, **more: object) -> Reading:
    plain = Taken(quantity="pH", value=value, point="after_neutralizer")
    return Reading(on=TODAY, taken=msgspec.structs.replace(plain, **more))


def titles(*more: AnyEvent) -> set[str]:
    return {one.id.split(".")[0] for one in plan(home(*LIVED, *more), TODAY).findings}


def test_a_high_ph_of_standing_water_is_told_from_that_of_flowing_water() -> None:
    stood, flowed = titles(read(9.6, state="at_rest")), titles(read(9.6, state="flowing"))
    assert stood - flowed
    assert flowed - stood
    assert not titles() & (stood | flowed)


def test_a_disagreeing_salt_depth_is_told_once() -> None:
    """As a finding, and not by an alert as well."""
    again = Reading(on=TODAY, taken=taken("salt_depth", 70.0, "softener"))
    shown = plan(home(*LIVED, again, *meter(500.0, weeks=12)), TODAY)
    assert any(one.id.startswith("salt_bridge") for one in shown.findings)
    assert not any("bridge" in alert.text for alert in shown.alerts)


def test_the_guide_knows_the_rule_that_was_written_down() -> None:
    rule = LocalRule(on=TODAY, topic="brine", text="not into the field", said_by="county office", checked_on=TODAY)
    (question,) = [one for one in matching("septic") if one.id == "septic"]
    now = Situation(home(*LIVED, rule), TODAY)
    assert "not into the field" in answer(question, Own(now)).said
