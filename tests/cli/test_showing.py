"""The commands that show, as people and as scripts read them."""

from __future__ import annotations

import json
from datetime import date

import pytest

from tests.cli.conftest import TODAY, Shell

STATES = {"overdue", "this_week", "soon", "later"}
DRIVERS = {"volume", "regenerations", "hours", "calendar", "condition"}


def test_due_lists_what_is_overdue_and_this_week(shell: Shell) -> None:
    ran = shell("due")
    assert ran.code == 0
    assert "OVERDUE" in ran.out
    assert "THIS WEEK" in ran.out
    assert "LATER" not in ran.out
    assert ran.err == ""


def test_due_gives_every_reason_of_what_is_near_and_three_of_the_rest(shell: Shell) -> None:
    near, far = 0, 0
    text = shell("due", "--days", "400").out
    for item in shell("due", "--days", "400", "--json").document["due"]:
        lines = text[text.index(f"[{item['task']}]") :].splitlines()[2:]
        reasons = lines[: next((at for at, line in enumerate(lines) if not line.startswith("      - ")), len(lines))]
        soon = item["state"] in ("overdue", "this_week")
        assert [line.removeprefix("      - ") for line in reasons] == (item["why"] if soon else item["why"][:3])
        near, far = max(near, len(item["why"]) if soon else 0), max(far, 0 if soon else len(item["why"]))
    assert near > 3
    assert far > 3


def test_due_tells_dangers_and_warnings_after_the_exposure(shell: Shell) -> None:
    document = shell("due", "--json").document
    told = [line.removeprefix("! ") for line in shell("due").out.splitlines() if line.startswith("! ")]
    count = len(document["exposure"])
    assert told[:count] == document["exposure"]
    wanted = [alert for alert in document["alerts"] if alert["level"] in ("danger", "warning")]
    assert wanted
    assert len(told) == count + len(wanted)
    for alert in wanted:
        assert any(line.startswith(f"{alert['level']}: ") and alert["text"] in line for line in told[count:])
    assert "warning: Kitchen RO tap: pH" in "\n".join(told)


def test_due_as_json_has_the_documented_fields(shell: Shell) -> None:
    document = shell("due", "--days", "400", "--json").document
    assert set(document) == {"today", "exposure", "due", "alerts", "findings"}
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


def test_the_ten_years_as_json(shell: Shell) -> None:
    years = shell("costs", "--json").document["ten_years"]
    assert years["to"] == f"{int(TODAY[:4]) + 10}{TODAY[4:]}"
    parts = {part["task"]: part for part in years["parts"]}
    tank = parts["pressure_tank.replace_tank"]
    assert TODAY <= tank["earliest"] < tank["middle"] < tank["latest"]
    assert tank["cash"]["low"] <= tank["cash"]["expected"] <= tank["cash"]["high"]
    assert "cash" not in parts["well.replace_pump"]
    slow = sum(part["cash"]["expected"] for part in parts.values() if "cash" in part)
    assert slow < years["total"]["low"] <= years["total"]["expected"] <= years["total"]["high"]


def test_the_ten_years_in_words(shell: Shell) -> None:
    text = shell("costs").out
    assert "Ten years to" in text
    tank = next(line for line in text.splitlines() if line.startswith("Replace the pressure tank"))
    assert "%" in tank
    assert "Replace the pump: no price known" in text


def test_costs_in_words(shell: Shell) -> None:
    ran = shell("costs")
    assert "Softener salt" in ran.out
    assert "2026-11" in ran.out


def metric(shell: Shell) -> None:
    document = json.loads(shell.path.read_text())
    document["house"]["1"]["units"] = "metric"
    shell.path.write_text(json.dumps(document))


def test_words_are_in_the_owners_units_and_json_is_not(shell: Shell) -> None:
    documents = [shell(command, "--json").document for command in ("water", "costs")]
    water, costs = (shell(command).out for command in ("water", "costs"))
    due = shell("due", "--days", "60").out
    litres = float(water.split(" gal a day")[0].rsplit(" ", 1)[1]) * 3.785411784
    assert " gal a day" in water.splitlines()[0]
    assert next(line for line in water.splitlines() if line.endswith("mg/L")).split()[0] == "gpg"
    salt = next(row for row in documents[1]["items"] if row["supply"] == "salt")
    assert salt["unit"] == "kg"
    assert f"{salt['quantity'] / 0.45359237:,.0f} lb" in costs
    assert " lb above its line" in due
    source = documents[0]["points"][0]
    row = next(line for line in water.splitlines() if line.startswith("Well "))
    assert float(row.split()[2]) == pytest.approx(source["hardness_mg_l_caco3"] / 17.118, abs=0.06)

    metric(shell)
    assert [shell(command, "--json").document["today"] for command in ("water", "due")] == [TODAY, TODAY]
    water, costs = (shell(command).out for command in ("water", "costs"))
    due = shell("due", "--days", "60").out
    assert float(water.split(" L a day")[0].rsplit(" ", 1)[1]) == pytest.approx(litres, rel=0.01)
    assert next(line for line in water.splitlines() if line.endswith("mg/L")).split()[0] == "mg/L"
    assert f"{salt['quantity']:,.0f} kg" in costs
    assert " L left" in due


def test_costs_explain_the_months_that_do_not_add_up(shell: Shell) -> None:
    assert "do not add up" in shell("costs").out
    assert "do not add up" not in shell("costs", "--months", "1").out


def test_the_log_names_jobs_supplies_and_places(shell: Shell) -> None:
    text = shell("log").out
    assert "Service: Change the sediment cartridge, Coarse filter [sediment_filter.replace_cartridge]" in text
    assert "Bought: 160 lb Softener salt" in text
    assert "salt depth 16.5 in at Softener with nitrate resin" in text
    assert "pH 6.2 at the source, pH 7.1 after Calcite tank" in text
    assert " kg " not in text
    assert not [line for line in text.splitlines() if line.rstrip().endswith(":")]
    taken = next(line for line in text.splitlines() if "Taken back: " in line and "(taken back)" not in line)
    number = taken.split("Taken back: event ")[1].split()[0]
    assert next(line for line in text.splitlines() if line.split()[0] == number).split(") ")[1] in taken


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
