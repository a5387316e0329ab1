"""A water meter's file: readings as they stand, uses added up, and what refuses it."""

from __future__ import annotations

from datetime import date
from itertools import pairwise

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.records.events import AnyEvent, MeterReplaced, Reading, Service, Taken
from model.records.history import History
from model.records.meter_csv import MeterCsv, meter_column, read_meter_csv
from tests.records.houses import house

HOUSE = house()
TODAY = date(2026, 11, 25)
GALLON_L = 3.785411784


def log(*events: AnyEvent) -> History:
    numbered = (msgspec.structs.replace(event, id=number) for number, event in enumerate(events, 1))
    return History(tuple(numbered), TODAY)


def shown(on: date, litres: float) -> Reading:
    return Reading(on=on, taken=Taken(quantity="meter", value=litres, point="house"))


def read(text: str, *events: AnyEvent, rolls: float | None = None) -> MeterCsv:
    data = text.encode()
    there = msgspec.structs.replace(HOUSE, meter_rolls_over_at_l=rolls)
    return read_meter_csv(data, meter_column(data), there, log(*events))


def days(found: MeterCsv) -> list[tuple[int, object]]:
    assert not found.problems
    return [(on.day, pytest.approx(taken.value)) for on, taken in found.readings]


READINGS = "Date, Reading ,Unit\n2026-11-02,20,m3\n2026-11-01T08:00,19000,L\n2026-11-02T18:00,20100,L\n"


@pytest.mark.parametrize(
    ("header", "column"),
    [
        (b"date,reading,unit", "reading"),
        (b"\xef\xbb\xbf Unit ,DATE,Use\n", "use"),
        (b"date,point,analyte,value,unit", ""),
        (b"\xff\xfe", ""),
        (b"", ""),
    ],
)
def test_the_first_line_says_which_file_it_is(header: bytes, column: str) -> None:
    assert meter_column(header) == column


def test_readings_are_sorted_and_the_last_of_a_day_is_kept() -> None:
    assert days(read(READINGS)) == [(1, 19000.0), (2, 20100.0)]


@pytest.mark.parametrize(
    ("unit", "litres"), [("gal", GALLON_L), ("L", 1.0), ("m3", 1000.0), ("ft3", 28.316846592)], ids=str
)
def test_units(unit: str, litres: float) -> None:
    assert days(read(f"date,reading,unit\n2026-11-02,10,{unit}\n")) == [(2, 10.0 * litres)]


def test_uses_are_added_up_from_the_reading_before() -> None:
    text = "date,use,unit\n2026-11-02,100,L\n2026-11-03,200,L\n2026-11-03T20:00,50,L\n"
    assert days(read(text)) == [(2, 100.0), (3, 350.0)]
    assert days(read(text, shown(date(2026, 11, 1), 5000.0))) == [(2, 5100.0), (3, 5350.0)]


@pytest.mark.parametrize("text", [READINGS, "date,use,unit\n2026-11-02,100,L\n2026-11-03,200,L\n"])
def test_taking_it_in_again_adds_nothing(text: str) -> None:
    before = shown(date(2026, 10, 31), 18000.0)
    first = read(text, before)
    again = read(text, before, *(Reading(on=on, taken=taken) for on, taken in first.readings))
    assert again.readings == ()
    assert again.problems == ()
    assert again.already == 2


@pytest.mark.parametrize(
    ("text", "line", "says"),
    [
        ("date,reading,unit\n", 0, "no readings"),
        ("date,reading,unit\n2026-11-26,10,L\n", 2, "future"),
        ("date,reading,unit\n2026-11-31,10,L\n", 2, "2026-11-31"),
        ("date,reading,unit\n2026-11-20,-1,L\n", 2, "-1"),
        ("date,reading,unit\n2026-11-20,nan,L\n", 2, "nan"),
        ("date,reading,unit\n2026-11-20,10,\n", 2, "unit"),
        ("date,reading,unit\n2026-11-20,10,psi\n", 2, "psi"),
        ("date,reading,unit\n2026-11-20,,L\n", 2, "missing"),
        ("date,reading,unit\n2026-11-20,10\n", 2, "fields"),
        ("date,reading,unit\n2026-11-20,1000,L\n2026-11-21,900,L\n", 3, "less than"),
        ("date,reading,unit\n2026-11-10,99,L\n", 2, "2026-11-10"),
        ("date,reading,unit\n2026-10-02,900,L\n", 2, "less than"),
        ("date,use,unit\n2026-11-20,10,L\n2026-11-19,9,L\n", 3, "oldest first"),
        ("date,use,unit\n2026-11-20,10,L\n2026-11-21,9,L\n", 2, "not known"),
        ("date,use,unit\n2026-09-30,10,L\n", 2, "meter itself"),
    ],
)
def test_what_is_wrong_refuses_it_with_its_line(text: str, line: int, says: str) -> None:
    found = read(text, shown(date(2026, 10, 1), 100.0), shown(date(2026, 10, 3), 800.0))
    (problem,) = found.problems
    assert found.readings == ()
    assert problem.line == line
    assert says in problem.what


def test_a_new_meter_or_a_full_dial_may_show_less() -> None:
    text = "date,reading,unit\n2026-11-20,990,L\n2026-11-21,10,L\n"
    assert read(text).problems
    assert days(read(text, rolls=1000.0)) == [(20, 990.0), (21, 10.0)]
    replaced = MeterReplaced(on=date(2026, 11, 21), old_reading_l=995.0)
    assert days(read(text, replaced)) == [(20, 990.0), (21, 10.0)]
    assert days(read(text, Service(on=date(2026, 11, 21), task="well.replace_meter"))) == [(20, 990.0), (21, 10.0)]


@given(st.sampled_from(["reading", "use"]), st.text(max_size=80), st.lists(st.floats(0, 1e6), max_size=5))
def test_any_text_gives_readings_or_problems(column: str, rest: str, uses: list[float]) -> None:
    rows = "".join(f"2026-11-{day:02},{use!r},L\n" for day, use in enumerate(uses, 1))
    found = read_meter_csv(f"date,{column},unit\n{rows}{rest}".encode("utf-8", "ignore"), column, HOUSE, log())
    assert bool(found.problems) != bool(found.readings)


@given(st.lists(st.floats(0.0, 5000.0), min_size=1, max_size=20))
def test_differences_of_added_uses_are_the_uses(uses: list[float]) -> None:
    found = read("date,use,unit\n" + "".join(f"2026-11-{day:02},{use!r},L\n" for day, use in enumerate(uses, 1)))
    counts = [0.0, *(taken.value for _, taken in found.readings)]
    assert [after - before for before, after in pairwise(counts)] == pytest.approx(uses, abs=1e-6)


# Nights. The expected flows are worked out by hand from the rows.


def nights(found: MeterCsv) -> list[tuple[int, float, str]]:
    assert not found.problems
    return [(on.day, taken.value, taken.method) for on, taken in found.nights]


def counts(day: int, *litres: float, minutes: int = 60, header: bool = True) -> str:
    """Rows from midnight on, one every so many minutes."""
    rows = (f"2026-11-{day:02}T{k * minutes // 60:02}:{k * minutes % 60:02},{x},L\n" for k, x in enumerate(litres))
    return ("date,reading,unit\n" if header else "") + "".join(rows)


@pytest.mark.parametrize(
    ("text", "least"),
    [
        (counts(2, 100, 110, 113, 119, 125, 130), [3.0]),
        (counts(2, 100, 110, 110, 119), [0.0]),
        (counts(2, 100, 101.5, 101.5, 101.5, 103.5, 105, 105, 107, 109, minutes=15), [3.5]),
        (counts(2, 100, 110), []),
        (counts(2, 100, 104, 108, minutes=150), []),
        (counts(2, 990, 995, 5, 12), [5.0]),
        ("date,reading,unit\n2026-11-02,100,L\n2026-11-02,105,L\n2026-11-02,110,L\n", []),
        ("date,reading,unit\n2026-11-02T00:00Z,1,L\n2026-11-02T01:00Z,9,L\n2026-11-02T02:00Z,20,L\n", []),
        (
            "date,reading,unit\n2026-11-02T00:00-05:00,1,L\n2026-11-02T01:00-05:00,9,L\n2026-11-02T02:00-05:00,20,L\n",
            [8.0],
        ),
        (
            "date,use,unit\n2026-11-02T00:00,90,L\n2026-11-02T01:00,4,L\n2026-11-02T02:00,6,L\n2026-11-02T06:00,1,L\n",
            [4.0],
        ),
    ],
    ids=[
        "hourly",
        "still",
        "quarter hours",
        "two rows",
        "rows too far apart",
        "rolled over",
        "days only",
        "universal",
        "zone",
        "uses",
    ],
)
def test_the_stillest_hour_of_a_night(text: str, least: list[float]) -> None:
    assert nights(read(text, rolls=1000.0)) == [(2, one, "hourly meter") for one in least]


def test_one_value_a_night_and_none_the_second_time() -> None:
    text = counts(2, 100, 110, 113, 119) + counts(3, 200, 206, 220, header=False)
    first = read(text)
    assert nights(first) == [(2, 3.0, "hourly meter"), (3, 6.0, "hourly meter")]
    assert days(first) == [(2, 119.0), (3, 220.0)]
    again = read(text, *(Reading(on=on, taken=taken) for on, taken in (*first.readings, *first.nights)))
    assert (again.readings, again.nights, again.already) == ((), (), 4)
