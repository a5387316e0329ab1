"""The calendar, read by a parser that shares nothing with the library that wrote it."""

from __future__ import annotations

import re
from datetime import UTC, date, datetime, timedelta
from typing import Any

import pytest
import vobject
from hypothesis import given
from hypothesis import strategies as st

from model.equipment.softener import Softener
from model.forecast.situation import Situation
from model.home import Home, House
from model.pages.calendar import Entry, calendar_file, entries, sequence_of
from model.pages.home_id import id_in
from model.plan import plan
from model.records.events import PlaybookStarted, PlaybookStep, Service, Setting
from model.store.repository import Repository
from sample_data import SAMPLE

TODAY = date(2027, 1, 11)
STAMP = datetime(2027, 1, 11, 9, 30, tzinfo=UTC)
HOUSE = House(
    name="Fern, Hill; End",
    started=date(2026, 12, 2),
    stages=(Softener(id="softener", title="Resin", installed_on=date(2026, 12, 2), cation_resin_l=28.0),),
)


def made(home: Home, today: date = TODAY) -> tuple[Entry, ...]:
    return entries(Situation(home, today), plan(home, today))


def file_of(home: Home, *rows: Entry, today: date = TODAY) -> bytes:
    return calendar_file(home, home.house.name, rows or made(home, today), STAMP, sequence_of(home, today))


def read(text: bytes) -> Any:  # noqa: ANN401  the parser has no types
    return vobject.readOne(text.decode())


def by_uid(text: bytes) -> dict[str, Any]:
    return {event.uid.value: event for event in read(text).vevent_list}


def entry(summary: str = "Salt", text: str = "Refill", on: date = TODAY, *, over: bool = False) -> Entry:
    return Entry(uid="1@wellward", on=on, task="softener.salt", summary=summary, text=text, health=True, over=over)


def test_every_due_job_is_one_event_on_its_day_to_act() -> None:
    home = Home(HOUSE)
    found, due = by_uid(file_of(home)), plan(home, TODAY).due
    assert len(found) == len(due) > 5
    for item in due:
        event = found[id_in(home, item.task)]
        assert event.dtstart.value == max(item.act_on, TODAY)
        assert event.dtend.value == event.dtstart.value + timedelta(days=1)
        assert item.title in event.summary.value
        assert event.summary.value.startswith("Overdue since ") == (item.state == "overdue")


def test_cautions_come_first_then_when_and_why_then_the_steps() -> None:
    home, today = Repository(SAMPLE).load(), date(2026, 4, 1)
    text = by_uid(file_of(home, today=today))[id_in(home, "softener.refill_salt")].description.value
    marks = ["CAUTIONS FIRST\n- Bags weigh 40 to 50 lb", "\nAct by ", "\nWHY\n- ", "\nSTEPS\n1. Measure the salt depth"]
    places = [text.index(mark) for mark in marks]
    assert places == sorted(places)
    assert places[0] == 0
    assert "8 of 10 cases" in text
    assert "wellward done softener.refill_salt" in text
    assert "health authority and licensed trades come before" in text


def test_each_event_rings_at_eight_on_its_day() -> None:
    for event in read(file_of(Home(HOUSE))).vevent_list:
        assert event.valarm.action.value == "DISPLAY"
        assert event.valarm.trigger.value == timedelta(hours=8)
        assert event.valarm.description.value == event.summary.value


def test_a_file_made_again_moves_the_same_events() -> None:
    first = Home(HOUSE)
    later = Home(
        HOUSE,
        (
            Setting(id=1, on=TODAY, path="name", value="Another name", was=HOUSE.name),
            Service(id=2, on=TODAY, task="softener.salt_check"),
        ),
    )
    before, after = by_uid(file_of(first)), by_uid(file_of(later))
    assert set(before) == set(after)
    task = id_in(first, "softener.salt_check")
    assert before[task].dtstart.value < after[task].dtstart.value
    assert int(before[task].sequence.value) == 40
    assert int(after[task].sequence.value) == 42
    assert before[task].dtstamp.value == STAMP


def test_another_home_has_other_ids() -> None:
    other = Home(House(name="Elsewhere", started=HOUSE.started, stages=HOUSE.stages))
    assert not set(by_uid(file_of(Home(HOUSE)))) & set(by_uid(file_of(other)))


def test_steps_of_a_playbook_are_there_and_go_when_they_are_closed() -> None:
    begun = PlaybookStarted(id=1, on=TODAY, playbook="power_cut")
    home = Home(HOUSE, (begun,))
    event = by_uid(file_of(home))[id_in(home, "step 1.clock")]
    assert event.dtstart.value == TODAY
    assert event.description.value.startswith("CAUTIONS FIRST\n- While the power is off draw no water to drink")
    assert "wellward event done 1.clock" in event.description.value

    closed = Home(HOUSE, (begun, PlaybookStep(id=2, on=TODAY, started=1, step="clock", outcome="done")))
    event = by_uid(file_of(closed))[id_in(home, "step 1.clock")]
    assert event.status.value == "CANCELLED"
    assert not hasattr(event, "valarm")


def test_lines_end_as_the_standard_says_and_none_is_longer_than_75_octets() -> None:
    text = file_of(Home(HOUSE), entry("Größe " * 60, "日本語" * 200), entry("x" * 300))
    assert text.endswith(b"\r\n")
    lines = text.split(b"\r\n")
    assert max(len(line) for line in lines) <= 75
    assert not any(b"\n" in line or b"\r" in line for line in lines)
    assert sum(line.startswith(b" ") for line in lines) > 10


def test_the_last_day_there_is_has_no_day_after_it() -> None:
    assert not hasattr(read(file_of(Home(HOUSE), entry(on=date.max))).vevent, "dtend")


@given(st.text(max_size=200), st.text(max_size=400))
def test_whatever_people_wrote_comes_back_and_begins_nothing_of_its_own(summary: str, text: str) -> None:
    event = read(file_of(Home(HOUSE), entry(f"a{summary}z", f"a{text}z"))).vevent
    assert event.summary.value == f"a{shown(summary)}z"
    assert event.description.value == f"a{shown(text)}z"


@pytest.mark.parametrize(
    "text", ["END:VEVENT\nBEGIN:VEVENT", "a\r\nATTACH:file:///x", 'q";,:\\', "\\n", "tab\there", "\x85\u2028\ufeff"]
)
def test_marks_of_the_format_are_only_words(text: str) -> None:
    found = read(file_of(Home(HOUSE), entry(f"a{text}z")))
    assert len(found.vevent_list) == 1
    assert not hasattr(found.vevent, "attach")
    assert found.vevent.summary.value == f"a{shown(text)}z"


def shown(text: str) -> str:
    """Control marks become signs: those below the space their pictures, the others a question mark."""
    text = re.sub("[\x00-\x09\x0b-\x1f]", lambda found: chr(0x2400 + ord(found[0])), text).replace("\x7f", "\u2421")
    return re.sub("[\x80-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ud800-\udfff]", "\ufffd", text)
