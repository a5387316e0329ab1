"""The commands that record known changes of the water used."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.cli.conftest import Shell
from tests.cli.test_import import written


def last(shell: Shell, count: int = 1) -> list[dict[str, object]]:
    """The last events as stored, without what the store gives them."""
    given = {"id", "at", "by", "token", "what", "detail", "voided"}
    events = shell("log", "--last", str(count), "--json").document["events"]
    return [{name: value for name, value in event.items() if name not in given} for event in events]


def test_guests_are_recorded_once_noted_where_they_overlap_and_taken_back(shell: Shell) -> None:
    before = shell.path.read_bytes()
    ran = shell("guests", "2", "2026-12-24", "2026-12-27")
    assert (ran.code, ran.err) == (0, "")
    assert "4 days, both ends counted; 2 guests besides the 5 who live here." in ran.out
    assert last(shell) == [{"kind": "guests", "on": "2026-12-24", "until": "2026-12-27", "people": 2.0}]
    recorded = shell.path.read_bytes()
    assert recorded != before
    again = shell("guests", "2", "2026-12-24", "2026-12-27")
    assert (again.code, "recorded already" in again.err) == (1, True)
    assert shell.path.read_bytes() == recorded
    assert "they add up" in shell("guests", "1", "2026-12-27", "2026-12-30").err
    assert "Guests: 1 guest until 2026-12-30" in shell("undo").out
    assert shell("check").code == 0


def test_a_use_begins_and_ends_later(shell: Shell) -> None:
    shell("use", "Pool", "400", "--at", "hose", "--months", "6-8", "--from", "2027-06-01")
    shell("use", "pool", "--end", "--on", "2027-08-20")
    begun, ended = last(shell, 2)
    use = begun.pop("use")
    assert isinstance(use, dict)
    assert begun == {"kind": "use_added", "on": "2027-06-01"}
    assert use.pop("litres_per_week") == pytest.approx(400 * 3.785411784)
    assert use == {"title": "Pool", "point": "hose", "months": [6, 7, 8]}
    assert ended == {"kind": "use_ended", "on": "2027-08-20", "title": "Pool"}
    assert shell("check").code == 0


def test_a_use_counts_in_the_plan_from_its_day(shell: Shell) -> None:
    def litres_per_day(today: str) -> float:
        return float(shell("water", "--json", today=today).document["points"][0]["flow_l_per_day"])

    before = litres_per_day("2026-11-25"), litres_per_day("2026-12-15")
    assert shell("use", "Ice rink", "7000", "L", "--from", "2026-12-10").code == 0
    assert litres_per_day("2026-11-25") == pytest.approx(before[0], rel=1e-9)
    assert litres_per_day("2026-12-15") == pytest.approx(before[1] + 1000.0, abs=1.0)


def test_an_explanation_says_whether_it_goes_on(shell: Shell) -> None:
    for cause, more, over in (
        ("leak", [], False),
        ("leak", ["--over"], True),
        ("household", [], False),
        ("other", ["--goes-on"], False),
    ):
        ran = shell("explain", "2026-11-02", "2026-11-09", cause, *more)
        assert (ran.code, ran.err) == (0, "")
        answer = {"kind": "explained", "on": "2026-11-25", "start": "2026-11-02", "end": "2026-11-09"}
        assert last(shell) == [answer | {"cause": cause, "over": over}]


def test_an_explanation_of_days_without_readings_is_noted(shell: Shell) -> None:
    ran = shell("explain", "2026-11-03", "2026-11-08", "guests")
    assert ran.code == 0
    assert "explains nothing yet. Stretches then: 2026-11-02 to 2026-11-09." in ran.err


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["guests", "0", "2026-12-24", "2026-12-27"], "0.1 to 50"),
        (["guests", "nan", "2026-12-24", "2026-12-27"], "nan"),
        (["guests", "2", "2026-12-24", "2026-12-23"], "before"),
        (["guests", "2", "2026-12-24", "2037-12-30"], "ten years"),
        (["use", "Pool"], "a week"),
        (["use", "Pool", "400", "--on", "2026-12-01"], "--from"),
        (["use", "Pool", "--end"], "Greenhouse"),
        (["use", "Greenhouse", "40", "--end"], "--on"),
        (["use", "greenhouse", "40"], "already"),
        (["use", "Pool", "-4"], "-4"),
        (["use", "Pool", "4", "psi"], "psi"),
        (["use", "Pool", "4", "--months", "may"], "5-9"),
        (["use", "Pool", "4", "--from", "2028-12-01"], "two years"),
        (["explain", "2026-11-09", "2026-11-02", "leak"], "after"),
        (["explain", "2026-11-09", "2026-11-29", "leak"], "future"),
        (["explain", "2026-11-02", "2026-11-09", "misread", "--goes-on"], "does not go on"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else None,
)
def test_what_cannot_be_is_refused_in_one_line_and_changes_nothing(shell: Shell, words: list[str], says: str) -> None:
    before = shell.path.read_bytes()
    ran = shell(*words)
    assert (ran.code, ran.out, len(ran.err.splitlines())) == (1, "", 1)
    assert says in ran.err
    assert shell.path.read_bytes() == before


@pytest.mark.parametrize(
    "words",
    [
        ["explain", "2026-11-02", "2026-11-09", "x"],
        ["explain", "2026-11-02", "2026-11-09", "leak", "--over", "--goes-on"],
    ],
)
def test_wrong_usage(shell: Shell, words: list[str]) -> None:
    assert shell(*words).code == 2


def test_hourly_rows_give_the_nights_too_in_one_go_and_only_once(shell: Shell, tmp_path: Path) -> None:
    rows = [f"2026-11-{day}T{hour:02}:00,{57_500 + 100 * day + 2 * hour},gal" for day in (24, 25) for hour in range(6)]
    path = written(tmp_path, "date,reading,unit\n" + "\n".join(rows) + "\n", "hours.csv")
    events = shell("import", path, "--json").document["events"]
    assert [event["taken"]["quantity"] for event in events] == ["meter", "meter", "night_flow", "night_flow"]
    assert {event["group"] for event in events} == {events[0]["id"]}
    assert [event["on"] for event in events] == ["2026-11-24", "2026-11-25"] * 2
    for event in events[2:]:
        assert event["taken"] | {"value": 0, "entered": ""} == {
            "quantity": "night_flow",
            "value": 0,
            "point": "house",
            "entered": "",
            "method": "hourly meter",
        }
        assert event["taken"]["value"] == pytest.approx(2 * 3.785411784, abs=0.001)
    before = shell.path.read_bytes()
    assert "4 recorded already" in shell("import", path).out
    assert shell.path.read_bytes() == before
    assert shell("undo").out.count("Taken back: event") == 4


def test_a_night_flow_can_be_read_by_hand(shell: Shell) -> None:
    assert shell("read", "night_flow", "1", "--json").document["event"]["taken"]["value"] == pytest.approx(3.785411784)
    assert shell("read", "night_flow", "3 L/h", "--json").document["event"]["taken"]["value"] == 3.0
