"""The commands that show, as people and as scripts read them."""

from __future__ import annotations

from datetime import date

import pytest

from tests.cli.conftest import Shell

STATES = {"overdue", "this_week", "soon", "later"}
DRIVERS = {"volume", "regenerations", "hours", "calendar", "condition"}


def test_due_lists_what_is_overdue_and_this_week(shell: Shell) -> None:
    ran = shell("due")
    assert ran.code == 0
    assert "OVERDUE" in ran.out
    assert "THIS WEEK" in ran.out
    assert "LATER" not in ran.out
    assert ran.err == ""


def test_due_as_json_has_the_documented_fields(shell: Shell) -> None:
    document = shell("due", "--days", "400", "--json").document
    assert set(document) == {"today", "exposure", "due", "alerts"}
    for item in document["due"]:
        assert list(item) == [
            "task",
            "title",
            "stage",
            "state",
            "act_on",
            "earliest",
            "latest",
            "driver",
            "remaining",
            "sure",
            "why",
        ]
        assert item["state"] in STATES
        assert item["driver"] in DRIVERS
        assert item["sure"] in {"measured", "forecast", "guess"}
        date.fromisoformat(item["act_on"])
        assert (item["remaining"] is None) == (item["driver"] == "calendar")
    for alert in document["alerts"]:
        assert set(alert) == {"level", "point", "text"}


@pytest.mark.parametrize(("days", "limit"), [("0", date(2026, 11, 24)), ("7", date(2026, 12, 1))])
def test_due_keeps_to_its_days(shell: Shell, days: str, limit: date) -> None:
    due = shell("due", "--days", days, "--json").document["due"]
    assert max(date.fromisoformat(item["act_on"]) for item in due) <= limit


def test_due_check_says_overdue_by_its_exit_code(shell: Shell) -> None:
    assert shell("due", "--check").code == 3
    shell.path.unlink()


def test_due_check_is_quiet_where_nothing_is_overdue(shell: Shell) -> None:
    overdue = [item["task"] for item in shell("due", "--days", "0", "--json").document["due"]]
    for task in overdue:
        assert shell("done", task, "--handles", "service").code == 0
    assert shell("due", "--check").code == 0


def test_water_as_json_has_points_and_stages(shell: Shell) -> None:
    document = shell("water", "--json").document
    points = {row["point"]: row for row in document["points"]}
    assert list(points) == [
        "source",
        "after_pressure_tank",
        "after_sediment_filter",
        "after_neutralizer",
        "after_softener",
        "after_sediment_filter_2",
        "tap",
        "ro",
        "hose",
    ]
    assert points["source"]["nitrate_planned_mg_l_n"] == 13.6
    assert points["source"]["hardness_mg_l_caco3"] < points["after_neutralizer"]["hardness_mg_l_caco3"]
    assert points["tap"]["hardness_mg_l_caco3"] < 10
    assert {"neutralizer", "softener", "reverse_osmosis", "pressure_tank", "drain"} <= set(document)
    assert set(document["ultraviolet"]) >= {"dose_mj_cm2"}


def test_costs_as_json_sum_up(shell: Shell) -> None:
    document = shell("costs", "--json", "--months", "7").document
    assert len(document["months"]) == 7
    assert document["currency"] == "USD"
    total = document["total"]["expected"]
    assert total == pytest.approx(sum(row["cash"]["expected"] for row in document["items"]))
    assert total == pytest.approx(sum(row["expected"] for row in document["months"]))


def test_costs_in_words(shell: Shell) -> None:
    ran = shell("costs")
    assert "Softener salt" in ran.out
    assert "2026-11" in ran.out


def test_log_shows_the_last(shell: Shell) -> None:
    assert len(shell("log", "--last", "5").out.splitlines()) == 5
    events = shell("log", "--last", "3", "--json").document["events"]
    assert [event["id"] for event in events] == sorted(event["id"] for event in events)
    assert len(events) == 3


@pytest.mark.parametrize("command", ["due", "water", "costs", "log"])
def test_a_blank_home_shows_without_complaint(shell: Shell, command: str) -> None:
    from model.home import House
    from model.store.repository import Repository

    shell.path.unlink()
    Repository(shell.path).create(House(name="New", started=date(2026, 11, 1)))
    for words in ([command], [command, "--json"]):
        ran = shell(*words)
        assert ran.code == 0
        assert ran.err == ""


def test_version(shell: Shell) -> None:
    ran = shell("--version")
    assert ran.code == 0
    assert ran.out.startswith("wellward ")
