"""The commands that record, and what they refuse."""

from __future__ import annotations

import json
import stat
import time
from pathlib import Path

import pytest
from freezegun import freeze_time

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


def test_a_coarse_test_for_germs_is_refused_and_a_full_one_is_absent(shell: Shell) -> None:
    before = shell.path.read_bytes()
    ran = shell("read", "e_coli", "<200", "MPN/100 mL", "--at", "tap")
    assert (ran.code, shell.path.read_bytes()) == (1, before)
    assert "absent or present" in ran.err
    event = shell("read", "e_coli", "<1", "MPN/100 mL", "--at", "tap", "--json").document["event"]
    assert (event["taken"]["value"], event["taken"].get("qualifier", "=")) == (0.0, "=")


@pytest.mark.parametrize(
    ("words", "kilograms", "says"),
    [
        (["3"], 3.0, "Understood as 3 kg (6.6 lb), 0.165 packs of 40 lb."),
        (["3 packs"], 54.42, "Understood as 54.42 kg (120 lb), 3 packs of 40 lb."),
        (["3", "bags"], 54.42, "3 packs of 40 lb."),
        (["2pack"], 36.28, "2 packs of 40 lb."),
        (["1", "BAG"], 18.14, "1 pack of 40 lb."),
        (["40lb"], 18.1437, "1 packs of 40 lb."),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else None,
)
def test_buying_says_what_was_understood(shell: Shell, words: list[str], kilograms: float, says: str) -> None:
    ran = shell("buy", "salt", *words)
    assert ran.code == 0
    assert says in ran.out
    (event,) = shell("log", "--last", "1", "--json").document["events"]
    assert event["quantity"] == pytest.approx(kilograms, abs=0.001)


def test_what_is_counted_in_pieces_comes_in_packs_of_one(shell: Shell) -> None:
    assert "Understood as 3 pieces." in shell("buy", "lamp", "3").out
    assert shell("buy", "lamp", "2 packs", "--json").document["event"]["quantity"] == 2.0


def test_a_bare_number_below_a_pack_is_noted(shell: Shell) -> None:
    assert 'for packs write "3 packs"' in shell("buy", "salt", "3").err
    for words in (["3 kg"], ["3 packs"], ["20"]):
        assert shell("buy", "salt", *words).err == ""


@pytest.mark.parametrize(
    ("words", "noted"),
    [
        (["buy", "salt", "9999lb"], True),
        (["buy", "lamp", "500"], True),
        (["buy", "salt", "10 bags"], False),
        (["buy", "lamp", "2"], False),
        (["done", "softener.refill_salt", "--used", "salt=9999lb", "--handles", "service"], True),
        (["done", "softener.refill_salt", "--used", "salt=120lb", "--handles", "service"], False),
        (["done", "softener.refill_salt", "--used", "salt=3 bags", "--handles", "service"], False),
        (["done", "ultraviolet.glance", "--used", "cartridge_20=40"], True),
        (["done", "ultraviolet.glance"], False),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, list) else None,
)
def test_absurd_amounts_are_recorded_with_a_note(shell: Shell, words: list[str], noted: bool) -> None:
    count = len(shell("log", "--json").document["events"])
    ran = shell(*words)
    assert ran.code == 0
    assert ("far more than" in ran.err) is noted
    assert len(ran.err.splitlines()) == noted
    assert len(shell("log", "--json").document["events"]) == count + 1


def test_redo_brings_back_the_last_and_the_named_long_after(shell: Shell) -> None:
    for day in ("2026-11-20", "2026-11-21"):
        assert shell("buy", "salt", "3", "--on", day).code == 0
    first, second = (one["id"] for one in shell("log", "--last", "2", "--json").document["events"])
    assert "Nothing was recorded" in shell("redo", str(first)).err
    assert shell("undo", str(first)).code == 0
    assert shell("undo", str(second)).code == 0
    for number in range(1, 4):
        assert shell("buy", "salt", "1", today=f"2027-11-0{number}").code == 0
    assert "Brought back" in shell("redo", today="2027-12-01").out
    assert "Brought back" in shell("redo", str(first), today="2027-12-01").out
    voided = {one["id"]: one["voided"] for one in shell("log", "--json").document["events"]}
    assert not voided[first]
    assert not voided[second]
    assert shell("redo", "99999").code == 1
    assert shell("undo", str(first)).code == 0
    assert shell("redo", str(first)).code == 0


def test_nothing_to_redo_is_said(shell: Shell) -> None:
    while (ran := shell("redo")).code == 0:
        pass
    assert "nothing to bring back" in ran.err


def test_the_log_tells_who_recorded_when_and_by_a_command(shell: Shell, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("LOGNAME", "ann")
    with freeze_time("2026-11-25 10:30"):
        assert shell("buy", "lamp", "1").code == 0
    assert "[recorded 2026-11-25 10:30 UTC by ann (command)]" in shell("log", "--last", "1", "--who").out
    assert "recorded" not in shell("log", "--last", "1").out


def test_undo_names_what_it_takes_back_and_the_way_back(shell: Shell) -> None:
    before = shell("due", "--json").document
    event = shell("done", "ultraviolet.glance", "--on", "2026-11-24", "--json").document["event"]["id"]
    after = shell("due", "--json").document
    taken = shell("undo").out
    assert f"Taken back: event {event} of 2026-11-24, Service: Look at the lamp" in taken
    assert f"`wellward undo {event + 1}` brings it back" in taken
    assert shell("due", "--json").document == before
    again = shell("undo", str(event))
    assert (again.code, again.out) == (1, "")
    assert f"already taken back. `wellward undo {event + 1}` brings it back." in again.err
    brought = shell("undo", str(event + 1)).out
    assert f"Brought back: event {event} of 2026-11-24, Service: Look at the lamp" in brought
    assert f"`wellward undo {event + 2}` takes it back again" in brought
    assert shell("due", "--json").document == after
    twice = shell("undo", str(event + 1))
    assert twice.code == 1
    assert f"`wellward undo {event}` takes event {event} back again." in twice.err
    assert shell("undo", str(event)).code == 0
    assert f"`wellward undo {event + 3}` brings event {event} back." in shell("undo", str(event + 1)).err
    assert shell("due", "--json").document == before


def test_what_was_recorded_in_one_go_goes_and_comes_back_in_one_go(shell: Shell, tmp_path: Path) -> None:
    rows = "date,reading,unit\n2026-11-24,57500,gal\n2026-11-25,57700,gal\n"
    (tmp_path / "meter.csv").write_text(rows)
    shell("import", str(tmp_path / "meter.csv"))
    before = shell("water", "--json").document
    first, second = (event["id"] for event in shell("log", "--last", "2", "--json").document["events"])
    taken = shell("undo", str(second)).out
    assert [line.split(",")[0] for line in taken.splitlines()[:2]] == [
        f"Taken back: event {first} of 2026-11-24",
        f"Taken back: event {second} of 2026-11-25",
    ]
    assert f"`wellward undo {second + 2}` brings it back." in shell("undo", str(second)).err
    brought = shell("undo", str(second + 2)).out
    assert brought.count("Brought back: event") == 2
    assert shell("water", "--json").document == before


def test_the_same_absence_twice_is_refused_and_an_overlap_noted(shell: Shell) -> None:
    assert shell("away", "2026-12-20", "2027-01-03").err == ""
    before = shell.path.read_bytes()
    again = shell("away", "2026-12-20", "2027-01-03")
    assert (again.code, again.out) == (1, "")
    assert "recorded already" in again.err
    assert shell.path.read_bytes() == before
    overlap = shell("away", "2027-01-03", "2027-01-09")
    assert overlap.code == 0
    assert "note: That overlaps the absence from 2026-12-20 to 2027-01-03" in overlap.err
    assert shell("away", "2027-01-10", "2027-01-12").err == ""
    shell("undo")
    assert shell("away", "2027-01-10", "2027-01-12").code == 0


@pytest.mark.parametrize("last_read", ["2026-11-24", "2026-11-25"])
def test_a_meter_that_jumps_overnight_or_on_one_day_is_noted(shell: Shell, last_read: str) -> None:
    assert shell("read", "meter", "56300", "--on", last_read).err == ""
    ran = shell("read", "meter", "99999")
    assert ran.code == 0
    assert "check the digits" in ran.err


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


def test_restore_where_nothing_was_there(shell: Shell) -> None:
    shell("read", "pH", "6.1")
    for words in ([], ["--json"]):
        shell.path.unlink()
        (newest, *_) = shell("restore", "--json").document["backups"]
        ran = shell("restore", newest["name"], *words)
        assert ran.code == 0
        assert "There was nothing at" in ran.out if not words else ran.document["kept"] is None
        assert shell("due").code == 0


@pytest.mark.skipif(not Path("/proc/self").exists(), reason="no folder that takes no files")
def test_a_folder_that_takes_no_files_is_not_another_program(capsys: pytest.CaptureFixture[str]) -> None:
    started = time.monotonic()
    assert main(["demo", "--copy", "/proc/foo.json"]) == 1
    error = capsys.readouterr().err
    assert time.monotonic() - started < 5.0
    assert "takes no new files" in error
    assert "program" not in error


def test_the_demo_copy_is_private_and_never_overwrites(shell: Shell) -> None:
    assert stat.S_IMODE(shell.path.stat().st_mode) == 0o600
    before = shell.path.read_bytes()
    assert main(["demo", "--copy", str(shell.path)]) == 1
    assert shell.path.read_bytes() == before


WATER = ("guests", "use", "explain")


def test_every_command_has_help(shell: Shell) -> None:
    for command in (
        "due",
        "done",
        "read",
        "buy",
        "away",
        "log",
        "undo",
        "water",
        "costs",
        "demo",
        "check",
        "restore",
        *WATER,
    ):
        ran = shell(command, "--help")
        assert ran.code == 0
        assert "usage: wellward" in ran.out
    assert "salt_depth" in shell("read", "--help").out
