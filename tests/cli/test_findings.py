"""Findings from the shell: told with what is due, listed, answered, never silently gone."""

from __future__ import annotations

import pytest

from tests.cli.conftest import Shell

ODD = "odd_pH.source"


@pytest.fixture
def odd(shell: Shell) -> Shell:
    """The sample home with a raw pH of 12."""
    assert shell("read", "pH", "12", "--at", "source").code == 0
    return shell


def answered(shell: Shell) -> dict[str, str]:
    return {one["id"]: one.get("answer", "") for one in shell("due", "--json").document["findings"]}


def test_due_tells_a_finding_with_causes_and_what_is_next(odd: Shell) -> None:
    text = odd("due").out
    told = text[text.index("FINDINGS") :]
    assert f"note: House: A pH that well water seldom has [{ODD}]" in told
    assert "pH 12.0 on 25 Nov" in told
    assert "      - The meter is not calibrated" in told
    assert "Accepting leads to: Read pH before and after the neutralizer [neutralizer.ph_check]." in told


def test_due_as_json_holds_the_finding(odd: Shell) -> None:
    (one,) = [row for row in odd("due", "--json").document["findings"] if row["id"] == ODD]
    event = one["rests_on"][0].pop("event")
    assert one["rests_on"] == [{"on": "2026-11-25", "what": "pH", "where": "source", "value": "12.0"}]
    assert odd("log", "--last", "1", "--json").document["events"][0]["id"] == event
    assert [cause["id"] for cause in one["causes"]] == ["meter", "typed", "media"]
    assert (one["task"], one["read"], "answer" in one) == ("neutralizer.ph_check", None, False)


def test_a_dismissed_finding_is_counted_and_comes_back_with_a_reading(odd: Shell) -> None:
    assert odd("finding", ODD, "dismiss").code == 1
    ran = odd("finding", ODD, "dismiss", "--reason", "a [b]new[/b] meter")
    assert "dismissed (a [b]new[/b] meter)" in ran.out
    text = odd("due").out
    assert ODD not in text
    assert "1 finding put away (1 dismissed): `wellward finding` lists them." in text
    assert "Dismissed on 2026-11-25: a [b]new[/b] meter." in odd("finding", ODD).out
    assert odd("read", "pH", "11.8", "--at", "source").code == 0
    assert answered(odd) == {ODD: ""}


def test_accepted_snoozed_done_and_taken_back(odd: Shell) -> None:
    assert "Next: Read pH before and after the neutralizer [neutralizer.ph_check]." in odd("finding", ODD, "accept").out
    assert answered(odd) == {ODD: "accepted"}
    assert "You accepted the finding" in odd("due", "--days", "8").out
    assert odd("undo").code == 0
    assert answered(odd) == {ODD: ""}
    assert odd("finding", ODD, "snooze", "--until", "2026-12-20").code == 0
    assert answered(odd) == {ODD: "snoozed"}
    assert {one["id"]: one.get("answer", "") for one in odd("due", "--json", today="2026-12-20").document["findings"]}[
        ODD
    ] == ""
    assert odd("finding", ODD, "accept").code == 0
    assert odd("finding", ODD, "done").code == 0
    assert answered(odd) == {ODD: "done"}
    assert odd("check").code == 0


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["salt.nowhere"], "There is no finding"),
        ([ODD, "snooze"], "Until when"),
        ([ODD, "snooze", "--until", "2026-11-25"], "not after today"),
        ([ODD, "--reason", "x"], "goes with an answer"),
    ],
)
def test_what_makes_no_sense_is_refused(odd: Shell, words: list[str], said: str) -> None:
    before = odd.path.read_bytes()
    ran = odd("finding", *words)
    assert (ran.code, said in ran.err) == (1, True)
    assert odd.path.read_bytes() == before
