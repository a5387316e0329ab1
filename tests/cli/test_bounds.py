"""A file with a setting or a value that cannot be: one clear line with the way to it, never a traceback."""

from __future__ import annotations

import json

import pytest

from tests.cli.conftest import Shell

COMMANDS = (["due"], ["water"], ["costs"], ["log"], ["read", "pH", "7"])


@pytest.mark.parametrize(
    ("way", "value", "says"),
    [
        (("people",), -5, "people"),
        (("people",), 1e300, "people"),
        (("risk_health",), 2, "risk_health"),
        (("started",), "9999-01-01", "started"),
        (("elevation_m",), 1e6, "elevation_m"),
        (("supplies", 0, "pack"), 0, "pack"),
        (("supplies", 0, "price"), -1, "price"),
        (("supplies", 0, "lead_days"), 99999, "lead_days"),
        (("uses", 0, "litres_per_week"), -1, "litres_per_week"),
        (("uses", 0, "months"), [13], "months"),
        (("stages", 1, "cut_in_bar"), 9.0, "cut_in_bar"),
        (("stages", 2, "change_drop_bar"), 0.0, "change_drop_bar"),
        (("stages", 3, "bypass_share"), 1, "bypass_share"),
        (("stages", 3, "tank_diameter_cm"), 0, "tank_diameter_cm"),
        (("stages", 4, "brine_tank_diameter_cm"), 0, "brine_tank_diameter_cm"),
        (("stages", 4, "salt_low_cm"), 90.0, "salt_low_cm"),
        (("stages", 4, "anion_type"), "magic", "anion_type"),
        (("stages", 6, "lit_hours_per_day"), 25, "lit_hours_per_day"),
        (("stages", 7, "recovery"), 0, "recovery"),
    ],
    ids=lambda value: ".".join(map(str, value)) if isinstance(value, tuple) else None,
)
def test_a_setting_that_cannot_be_is_named(shell: Shell, way: tuple[str | int, ...], value: object, says: str) -> None:
    document = json.loads(shell.path.read_text())
    place = document["house"]["1"]
    for step in way[:-1]:
        place = place[step]
    place[way[-1]] = value
    shell.path.write_text(json.dumps(document))
    before = shell.path.read_bytes()
    for command in COMMANDS:
        ran = shell(*command)
        assert ran.code == 1
        assert len(ran.err.splitlines()) == 1
        assert says in ran.err
    checked = shell("check")
    assert checked.code == 1
    assert says in checked.out
    assert shell.path.read_bytes() == before


@pytest.mark.parametrize("value", [1e300, -3.0, 14.0])
@pytest.mark.parametrize(("quantity", "point"), [("pH", "after_neutralizer"), ("salt_depth", "softener")])
def test_a_value_no_one_could_have_read_ends_no_command(shell: Shell, quantity: str, point: str, value: float) -> None:
    document = json.loads(shell.path.read_text())
    number = str(1 + max(int(key) for key in document["events"]))
    document["events"][number] = {
        "kind": "reading",
        "id": int(number),
        "on": "2026-11-24",
        "taken": {"quantity": quantity, "value": value, "point": point},
    }
    shell.path.write_text(json.dumps(document))
    for command in COMMANDS[:-1]:
        assert shell(*command).code == 0
    possible = 0.0 <= value <= (14.0 if quantity == "pH" else 500.0)
    assert (shell("check").code == 0) is possible
