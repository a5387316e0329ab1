"""The plan against reading the same file with the standard library's json."""

from __future__ import annotations

import json
import tempfile
from datetime import date, timedelta
from pathlib import Path

import msgspec

from model.home import Home
from model.plan import plan
from model.records.events import AnyEvent, Purchase, Reading, Service, Taken
from model.store.repository import Repository
from sample_data import SAMPLE
from tests.benchmarks.measure import Measure, ratio, seconds

TODAY = date(2026, 11, 25)


def long_home(events: int) -> Home:
    """The sample house with ten years of log, spread evenly: meter, salt, pH, services, purchases."""
    start = TODAY - timedelta(days=3650)
    house = msgspec.structs.replace(Repository(SAMPLE).load().house, started=start)
    return Home(house, tuple(_event(number, start, events) for number in range(1, events + 1)))


def _event(number: int, start: date, count: int) -> AnyEvent:
    on = start + timedelta(days=number * 3640 // count)
    at = f"{on}T18:00:00Z"
    which = number % 10
    if which < 4:
        return Reading(id=number, on=on, at=at, taken=_taken("meter", 650.0 * (on - start).days, "house", "gal"))
    if which < 6:
        return Reading(id=number, on=on, at=at, taken=_taken("salt_depth", 30.0 + number % 17, "softener", "in"))
    if which < 7:
        return Reading(id=number, on=on, at=at, taken=_taken("pH", 7.0 + number % 4 / 10, "after_neutralizer", ""))
    if which < 9:
        return Service(id=number, on=on, at=at, task="softener.refill_salt", used={"salt": 36.28}, note="two bags")
    return Purchase(id=number, on=on, at=at, supply="salt", quantity=36.28, price=17.2)


def _taken(quantity: str, value: float, point: str, unit: str) -> Taken:
    return Taken(quantity=quantity, value=value, point=point, entered=f"{value:.1f} {unit}")


def plan_5000() -> Measure:
    """Plan of a loaded home of 5,000 events."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "home.json"
        made = long_home(5_000)
        Repository(path).create(made.house, made.events)
        home, text = Repository(path).load(), path.read_text(encoding="utf-8")
        value = ratio(lambda: seconds(lambda: plan(home, TODAY)), lambda: seconds(lambda: json.loads(text)), rounds=15)
    return Measure("plan_5000", value, 3.0, "json.loads of the same file")


def plan_growth() -> Measure:
    """Plan of a home of 100,000 events against that of 10,000."""
    many, few = long_home(100_000), long_home(10_000)
    value = ratio(lambda: seconds(lambda: plan(many, TODAY)), lambda: seconds(lambda: plan(few, TODAY)), rounds=5)
    return Measure("plan_growth", value, 12.0, "the plan at 10,000 events")
