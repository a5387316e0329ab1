"""The commands that record, and what they refuse."""

from __future__ import annotations

import json
import stat
from pathlib import Path

import pytest

from tests.cli.conftest import Shell
from tui.cli import main


def test_a_service_is_recorded_with_the_checklists_parts(shell: Shell) -> None:
    before = {item["task"]: item for item in shell("due", "--days", "999", "--json").document["due"]}
    event = shell("done", "ultraviolet.clean_sleeve", "--handles", "service", "--json").document["event"]
    assert event["kind"] == "service"
    after = {item["task"]: item for item in shell("due", "--days", "999", "--json").document["due"]}
    assert before["ultraviolet.clean_sleeve"]["state"] == "overdue"
    assert after["ultraviolet.clean_sleeve"]["act_on"] > before["ultraviolet.clean_sleeve"]["act_on"]


def test_parts_used_are_taken_as_given_in_any_unit(shell: Shell) -> None:
    event = shell("done", "softener.refill_salt", "--used", "salt=40lb", "--handles", "service", "--json").document[
        "event"
    ]
    assert event["used"]["salt"] == pytest.approx(18.14, abs=0.01)


def test_readings_go_with_a_service(shell: Shell) -> None:
    words = ("--read", "salt_depth=20 in", "--used", "salt=0", "--handles", "service", "--json")
    event = shell("done", "softener.refill_salt", *words).document["event"]
    (taken,) = event["taken"]
    assert taken["point"] == "softener"
    assert taken["value"] == pytest.approx(50.8)


def test_undo_takes_back_the_last_and_the_named(shell: Shell) -> None:
    before = shell("due", "--json").document
    shell("done", "ultraviolet.glance")
    assert shell("due", "--json").document != before
    assert shell("undo").code == 0
    assert shell("due", "--json").document == before
    number = shell("done", "ultraviolet.glance", "--json").document["event"]["id"]
    shell("buy", "salt", "40 lb")
    assert shell("undo", str(number)).code == 0
    again = shell("undo", str(number))
    assert again.code == 1
    assert "already" in again.err


def test_reading_buying_and_being_away(shell: Shell) -> None:
    assert shell("read", "meter", "58000", "gal").code == 0
    assert shell("read", "nitrate", "6", "mg/L as N", "--at", "after_softener").code == 0
    assert shell("buy", "lamp", "1", "--price", "94.50").code == 0
    assert shell("away", "2026-12-20", "2027-01-03").code == 0
    kinds = [event["kind"] for event in shell("log", "--last", "4", "--json").document["events"]]
    assert kinds == ["reading", "reading", "purchase", "absence"]


def test_what_is_only_unlikely_is_recorded_with_a_note(shell: Shell) -> None:
    ran = shell("read", "pH", "9.9", "--at", "after_neutralizer")
    assert ran.code == 0
    assert "note" in ran.err


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["done", "softener.polish"], "softener.refill_salt"),
        (["done", "boiler.clean"], "Stages"),
        (["done", "ultraviolet.replace_lamp", "--on", "2027-02-30", "--handles", "service"], "2027-02-30"),
        (["done", "ultraviolet.replace_lamp", "--on", "2026-11-26", "--handles", "service"], "future"),
        (["done", "ultraviolet.replace_lamp"], "--handles"),
        (["done", "ultraviolet.glance", "--used", "lamps=1"], "Supplies"),
        (["done", "ultraviolet.glance", "--used", "lamp=-1"], "-1"),
        (["done", "ultraviolet.glance", "--used", "lamp=nan"], "nan"),
        (["done", "ultraviolet.glance", "--read", "lamp_hours"], "no value"),
        (["read", "pH", "15"], "15"),
        (["read", "pH", "NaN"], "NaN"),
        (["read", "pH", "inf"], "inf"),
        (["read", "hardness", "-3", "gpg"], "-3"),
        (["read", "hardness", "1e300", "gpg"], "1e300"),
        (["read", "nitrate", "6"], "as N"),
        (["read", "nitrate", "6", "mg/L"], "as N"),
        (["read", "nitrate", "6", "furlongs"], "furlongs"),
        (["read", "salt_depth", "90", "in"], "brine tank"),
        (["read", "taste", "6"], "taste"),
        (["read", "pH", "7", "--at", "attic"], "attic"),
        (["read", "meter", "10", "gal"], "meter"),
        (["buy", "gold", "1"], "gold"),
        (["buy", "salt", "0"], "0"),
        (["buy", "salt", "1", "--price", "-5"], "-5"),
        (["away", "2026-12-10", "2026-12-01"], "before"),
        (["away", "2026-12-10", "3026-12-01"], "ten years"),
        (["undo", "99999"], "99999"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else None,
)
def test_what_cannot_be_is_refused_in_one_line_and_changes_nothing(shell: Shell, words: list[str], says: str) -> None:
    before = shell.path.read_bytes()
    ran = shell(*words)
    assert ran.code == 1
    assert ran.out == ""
    assert len(ran.err.splitlines()) == 1
    assert ran.err.startswith("wellward: ")
    assert says in ran.err
    assert shell.path.read_bytes() == before


@pytest.mark.parametrize(
    "words", [["due", "--days", "-1"], ["costs", "--months", "0"], ["polish"], ["read"], ["log", "--last", "x"]]
)
def test_wrong_usage_exits_with_2(shell: Shell, words: list[str]) -> None:
    assert shell(*words).code == 2


@pytest.mark.parametrize("text", ["", "{", "[]", '{"name": "something else"}', "\x00\x01", '{"events": NaN}'])
@pytest.mark.parametrize("command", [["due"], ["water"], ["costs"], ["log"], ["read", "pH", "7"], ["undo"]])
def test_an_unreadable_or_foreign_file_is_one_clear_line_and_stays(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], text: str, command: list[str]
) -> None:
    path = tmp_path / "home.json"
    path.write_text(text)
    assert main([*command, "--file", str(path)]) == 1
    out, err = capsys.readouterr()
    assert out == ""
    assert str(path) in err
    assert len(err.splitlines()) == 1
    assert path.read_text() == text


@pytest.mark.parametrize("command", [["due"], ["check"], ["restore", "x"], ["read", "pH", "7"], ["buy", "salt", "1"]])
def test_a_missing_file_or_folder_is_one_clear_line(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], command: list[str]
) -> None:
    assert main([*command, "--file", str(tmp_path / "nowhere" / "home.json")]) == 1
    assert len(capsys.readouterr().err.splitlines()) == 1
    assert not (tmp_path / "nowhere").exists()


def test_check_finds_nothing_wrong_and_then_what_is(shell: Shell) -> None:
    assert shell("check").code == 0
    document = json.loads(shell.path.read_text())
    document["events"]["9"]["on"] = "yesterday"
    document["house"]["1"]["people"] = "many"
    shell.path.write_text(json.dumps(document))
    ran = shell("check", "--json")
    assert ran.code == 1
    assert len(ran.document["problems"]) >= 2


def test_restore_brings_the_newest_good_backup_back_and_keeps_the_damaged_file(shell: Shell) -> None:
    shell("read", "pH", "6.1")
    good = shell("log", "--json").document
    shell("read", "pH", "6.3")
    shell.path.write_text("damaged")
    assert shell("due").code == 1
    (newest, *_) = shell("restore", "--json").document["backups"]
    assert shell("restore", newest["name"]).code == 0
    assert shell("log", "--json").document == good
    assert any(one.read_text() == "damaged" for one in shell.path.parent.glob("home.json.*") if one.is_file())


def test_the_demo_copy_is_private_and_never_overwrites(shell: Shell) -> None:
    assert stat.S_IMODE(shell.path.stat().st_mode) == 0o600
    before = shell.path.read_bytes()
    assert main(["demo", "--copy", str(shell.path)]) == 1
    assert shell.path.read_bytes() == before


def test_every_command_has_help(shell: Shell) -> None:
    for command in ("due", "done", "read", "buy", "away", "log", "undo", "water", "costs", "demo", "check", "restore"):
        ran = shell(command, "--help")
        assert ran.code == 0
        assert "usage: wellward" in ran.out
    assert "salt_depth" in shell("read", "--help").out
