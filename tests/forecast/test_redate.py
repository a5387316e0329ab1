"""The sample home, on any day of the year: fourteen months that end today, with something in every state."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from model.clock import add_months
from model.forecast.situation import Situation
from model.home import Home
from model.plan import plan
from model.records.events import Absence, HandleMoved, LabReport, LocalRule, MeterReplaced, Purchase, Reading
from model.records.rules import current_rules
from model.redate import redated
from model.store.repository import Repository
from sample_data import SAMPLE

STORY = Repository(SAMPLE).load()
DAYS = [date(2026, 11, 25) + timedelta(days=31 * k) for k in range(12)] + [
    date(2028, 2, 29),
    date(2027, 1, 1),
    date(2027, 4, 1),
]


@pytest.fixture(params=DAYS, ids=str)
def today(request: pytest.FixtureRequest) -> date:
    day = request.param
    assert isinstance(day, date)
    return day


@pytest.fixture
def copy(today: date) -> Home:
    return redated(STORY, today)


def test_something_is_overdue_due_this_week_and_coming(copy: Home, today: date) -> None:
    states = [item.state for item in plan(copy, today).due]
    assert {"overdue", "this_week", "later"} <= set(states)
    assert states.count("overdue") <= 12


def test_the_story_is_fourteen_months_long_and_ends_today(copy: Home, today: date) -> None:
    readings = [event.on for event in copy.events if isinstance(event, Reading)]
    assert min(readings) >= add_months(today, -14)
    assert (min(readings) - add_months(today, -14)).days <= 35
    assert today - timedelta(days=21) <= max(readings) < today


def test_each_reading_keeps_its_month(copy: Home) -> None:
    """A temperature, say, was read in the same month of the year in the story."""
    original = {(e.on.month, e.on.day, e.taken) for e in STORY.events if isinstance(e, Reading)}
    for event in copy.events:
        if isinstance(event, Reading):
            assert (event.on.month, event.on.day, event.taken) in original


def test_reports_receipts_and_an_absence_are_in_it(copy: Home) -> None:
    for kind, least in ((LabReport, 4), (Purchase, 5), (Absence, 1)):
        assert sum(isinstance(event, kind) for event in copy.events) >= least


def test_the_meter_joins_over_its_replacement(today: date) -> None:
    shown = plan(redated(STORY, today), today)
    assert not [alert for alert in shown.alerts if "backwards" in alert.text]


def test_the_replaced_meter_is_in_the_story() -> None:
    assert any(isinstance(event, MeterReplaced) for event in STORY.events)


def test_what_stood_on_bypass_and_the_rules_are_carried_into_the_copy() -> None:
    last = max(event.id for event in STORY.events)
    out = HandleMoved(on=date(2024, 6, 1), handle="softener.bypass", position="bypass", note="leak", id=last + 1)
    rule = LocalRule(
        on=date(2024, 6, 1), topic="brine", text="no", said_by="x", checked_on=date(2024, 5, 1), id=last + 2
    )
    copy = redated(Home(STORY.house, (*STORY.events, out, rule)), date(2026, 11, 25))
    now = Situation(copy, date(2026, 11, 25))
    (away,) = [one for one in now.positions if one.away]
    assert (away.handle.id, away.since, away.words) == ("softener.bypass", date(2025, 6, 1), "leak")
    assert current_rules(now.history)["brine"].checked_on == date(2025, 5, 1)


def test_the_copy_is_stored_and_loaded_like_any_home(tmp_path: object) -> None:
    from pathlib import Path

    assert isinstance(tmp_path, Path)
    made = redated(STORY, date(2026, 11, 25))
    store = Repository(tmp_path / "home.json")
    store.create(made.house, made.events)
    assert Repository(tmp_path / "home.json").load() == made
    assert Repository(tmp_path / "home.json").problems() == ()
