"""Clocks set back, zones changed, an hour twice, the leap day: every day stays the one that the owner meant."""

from __future__ import annotations

import time
from collections.abc import Iterator
from datetime import date, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from freezegun import freeze_time

from model import clock
from model.errors import BadInput
from model.records.events import Correction, Incident, Service
from model.records.history import History
from model.records.typed import parse_date
from model.store.backups import list_backups
from model.store.repository import Repository
from tests.tui.helpers import CARTRIDGE, HOUSE, a_store, see, shown, until
from tui.app import WellwardApp
from tui.view import Session


@pytest.fixture(autouse=True)
def zone(monkeypatch: pytest.MonkeyPatch) -> Iterator[pytest.MonkeyPatch]:
    """In UTC at first; afterwards the machine's own zone again."""
    monkeypatch.setenv("TZ", "UTC")
    time.tzset()
    yield monkeypatch
    monkeypatch.undo()
    time.tzset()


@pytest.fixture
def path(tmp_path: Path) -> Path:
    Repository(tmp_path / "home.json").create(HOUSE, a_store().home.events)
    return tmp_path / "home.json"


def test_a_clock_set_back_keeps_what_is_recorded_and_its_order(path: Path) -> None:
    with freeze_time("2026-11-25 10:00"):
        session = Session(Repository(path), clock.today)
        session.record(Incident(on=clock.today(), what="frost"))
    with freeze_time("2026-11-20 10:00"):
        assert session.refresh().today == date(2026, 11, 20)
        assert session.view.home.events[-1].on == date(2026, 11, 25)
        assert not session.view.history.of(Incident), "it has not happened yet"
        session.record(Incident(on=clock.today(), what="thaw"))
        session.record(Correction(on=clock.today(), voids=session.view.home.events[-2].id))
    with freeze_time("2026-11-25 11:00"):
        events = session.refresh().home.events
        assert [one.id for one in events] == sorted(one.id for one in events)
        assert [one.what for one in session.view.history.of(Incident)] == ["thaw"]
        assert all(one.readable for one in list_backups(path))
        assert Repository(path).load().events == events


async def test_the_screen_follows_midnight_and_a_clock_set_back(path: Path) -> None:
    with freeze_time("2026-11-25 23:59:30", real_asyncio=True, ignore=["textual"]) as frozen:
        app = WellwardApp(Session(Repository(path), clock.today))
        async with app.run_test(size=(100, 30)) as pilot:
            await see(pilot, app, "Wed 25 Nov")
            frozen.tick(60)
            app.look_again()
            await see(pilot, app, "Thu 26 Nov")
            frozen.move_to("2026-11-24 08:00")
            app.look_again()
            await see(pilot, app, "Tue 24 Nov")
            app.record(Service(on=clock.today(), task=CARTRIDGE))
            await until(pilot, lambda: "Not on disk" not in shown(app))
            assert Repository(path).load().events[-1].on == date(2026, 11, 24)


@pytest.mark.parametrize("name", ["Pacific/Kiritimati", "Etc/GMT+12", "America/New_York", "Asia/Kathmandu"])
def test_today_is_that_of_the_place_where_the_computer_stands(zone: pytest.MonkeyPatch, name: str) -> None:
    zone.setenv("TZ", name)
    time.tzset()
    before = datetime.now(ZoneInfo(name)).date()
    found = clock.today()
    assert found in (before, datetime.now(ZoneInfo(name)).date())


def test_a_journey_over_zones_moves_no_day_that_is_recorded(path: Path) -> None:
    """The same moment is the 26th at home and the 25th far to the west."""
    with freeze_time("2026-11-25 23:30", tz_offset=13):
        session = Session(Repository(path), clock.today)
        session.record(Incident(on=clock.today(), what="frost"))
    with freeze_time("2026-11-25 23:30", tz_offset=-8):
        assert clock.today() == date(2026, 11, 25)
        assert Repository(path).load().events[-1].on == date(2026, 11, 26)


def test_the_hour_that_comes_twice_is_recorded_in_order(path: Path, zone: pytest.MonkeyPatch) -> None:
    """In New York 01:30 comes twice on 1 November 2026: at 05:30 and 06:30 UTC."""
    zone.setenv("TZ", "America/New_York")
    time.tzset()
    for moment in ("2026-11-01 05:30", "2026-11-01 06:30"):
        with freeze_time(moment):
            Repository(path).append(Incident(on=date(2026, 11, 1), what=moment))
    at = [one.at for one in Repository(path).load().events[-2:]]
    assert at == ["2026-11-01T05:30:00Z", "2026-11-01T06:30:00Z"]


def test_days_between_are_counted_alike_where_one_has_23_or_25_hours(zone: pytest.MonkeyPatch) -> None:
    zone.setenv("TZ", "America/New_York")
    time.tzset()
    for first, last in (("2026-03-07", "2026-03-09"), ("2026-10-31", "2026-11-02")):
        history = History((Incident(on=date.fromisoformat(first), what="frost", id=1),), date.fromisoformat(last))
        assert (history.today - history.of(Incident)[0].on).days == 2


def test_the_leap_day_is_kept_and_its_year_ends_on_the_last_of_february(path: Path) -> None:
    leap = date(2028, 2, 29)
    with freeze_time("2028-02-29 12:00"):
        Session(Repository(path), clock.today).record(Service(on=clock.today(), task=CARTRIDGE))
    assert Repository(path).load().events[-1].on == leap
    assert clock.add_months(leap, 12) == date(2029, 2, 28)
    assert clock.add_months(leap, 48) == date(2032, 2, 29)
    assert parse_date("2028-02-29", leap) == leap
    with pytest.raises(BadInput, match="no day"):
        parse_date("2027-02-29", leap)
