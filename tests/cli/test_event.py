"""The commands that begin and answer playbooks, how `due` shows what is open, and the visits put together."""

from __future__ import annotations

from tests.cli.conftest import Shell


def begun(shell: Shell) -> int:
    """Begin a power cut; gives the id of the event."""
    ran = shell("event", "power_cut", "--note", "storm [x]", "--json")
    assert (ran.code, ran.err) == (0, "")
    assert ran.document["event"]["kind"] == "playbook_started"
    return int(ran.document["event"]["id"])


def test_reading_one_records_nothing_and_begins_with_the_cautions(shell: Shell) -> None:
    before = shell("log", "--last", "1").out
    lines = shell("event", "uv_alarm", "--show").out.splitlines()
    assert lines[1].startswith("! Stop drinking")
    assert any(line.startswith("  day +14") and "[well.coliform_test]" in line for line in lines)
    assert shell("log", "--last", "1").out == before


def test_beginning_prints_cautions_first_and_every_step(shell: Shell) -> None:
    ran = shell("event", "power_cut")
    assert ran.code == 0
    assert ran.out.index("! While the power is off") < ran.out.index("Flush each tap")
    assert "0 of 9 steps closed" in ran.out
    assert "Playbook begun: Power cut" in shell("log", "--last", "1").out


def test_due_shows_open_steps_beside_the_jobs(shell: Shell) -> None:
    plain = shell("due", "--json").document
    number = begun(shell)
    found = shell("due", "--json").document
    assert found["due"] == plain["due"], "scripts that read the jobs see the same jobs"
    assert "events" not in plain
    keys = [step["key"] for step in found["events"]]
    assert keys[0] == f"{number}.note"
    assert f"{number}.sample" not in keys, "two weeks away"
    lamp = next(step for step in found["events"] if step["key"] == f"{number}.lamp")
    assert (lamp["task"], lamp["act_on"], lamp["health"]) == ("ultraviolet.glance", "2026-11-25", True)
    text = shell("due").out
    assert f"EVENT {number}: Power cut, from 2026-11-25\n! While the power is off" in text


def test_steps_are_done_left_out_or_closed_by_their_service(shell: Shell) -> None:
    number = begun(shell)
    assert shell("event", "done", f"{number}.flush").code == 0
    assert "Step left out: Power cut, If water" in shell("event", "skip", f"{number}.sanitize", "--because", "none").out
    assert shell("done", "ultraviolet.glance").code == 0
    open_now = [
        step["key"]
        for one in shell("event", "--json").document["begun"]
        for step in one["steps"]
        if step["outcome"] == "open"
    ]
    assert {f"{number}.flush", f"{number}.sanitize", f"{number}.lamp"}.isdisjoint(open_now)
    assert shell("undo", str(number)).code == 0
    assert "EVENT" not in shell("due").out


def test_what_cannot_be_is_refused_with_what_to_do(shell: Shell) -> None:
    number = begun(shell)
    for words, told in (
        (("event", "meteor"), "Playbooks: absence_long"),
        (("event", "power_cut"), "already"),
        (("event", "done", f"{number}.lamp"), "wellward done ultraviolet.glance"),
        (("event", "skip", f"{number}.flush"), "without a reason"),
        (("event", "skip"), "Which step?"),
        (("event", "flood", "x"), "go with done or skip"),
        (("event", "flood", "--on", "2029-01-01"), "too far"),
    ):
        ran = shell(*words)
        assert ran.code == 1, words
        assert told in ran.err


def test_an_overdue_step_makes_the_check_fail_and_is_said_to_be_late(shell: Shell) -> None:
    number = begun(shell)
    later = shell("due", "--check", today="2026-11-27")
    assert later.code == 3
    assert "2026-11-25 OVERDUE  Flush each tap" in later.out
    assert f"[{number}.flush]" in later.out


def test_an_absence_offers_its_playbook_and_begins_none(shell: Shell) -> None:
    ran = shell("away", "2026-12-01", "2026-12-20")
    assert "wellward event absence_long --on 2026-12-01" in ran.out
    assert shell("event", "--json").document["begun"] == []


def test_a_visit_says_what_is_off_first_the_order_and_what_is_lacking(shell: Shell) -> None:
    text = shell("visit").out
    order = ["VISIT", "RO feed", "aquarium", "1. ", "2. ", "Part: ", "Have ready: ", "Afterwards"]
    places = [text.index(one) for one in order]
    assert places == sorted(places)
    assert "LACKING" in text


def test_visits_keep_acid_and_bleach_apart_and_agree_with_due(shell: Shell) -> None:
    shell("event", "uv_alarm")
    found = shell("visit", "--days", "30", "--json").document["visits"]
    due = {one["task"]: one["act_on"] for one in shell("due", "--days", "31", "--json").document["due"]}
    kinds = [{job["chemistry"] for job in one["jobs"]} for one in found]
    assert {"acid", "bleach"} <= set().union(*kinds)
    assert not any({"acid", "bleach"} <= one for one in kinds)
    for one in found:
        for job in one["jobs"]:
            assert one["on"] <= max(due.get(job["task"], job["act_on"]), "2026-11-25")
    assert shell("visit", "--days", "999").code == 2
    assert [one["on"] for one in shell("visit", "--days", "0", "--json").document["visits"]] == ["2026-11-25"]
