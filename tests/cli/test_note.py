"""`wellward note`: what happened, in the owner's words."""

from __future__ import annotations

import pytest

from tests.cli.conftest import Shell


def test_a_note_is_in_the_log_as_typed_and_can_be_taken_back(shell: Shell) -> None:
    ran = shell("note", "Manure on the [north] field", "--on", "2026-11-20")
    assert (ran.code, ran.err) == (0, "")
    assert "Happened: Manure on the [north] field" in ran.out
    assert "2026-11-20 Happened: Manure on the [north] field" in shell("log", "--last", "1").out
    assert shell("undo").code == 0
    assert "Taken back" in shell("log", "--last", "1").out


def test_words_without_quotes_are_one_note_of_today(shell: Shell) -> None:
    event = shell("note", "tile", "work", "in", "the", "east", "--json").document["event"]
    assert (event["kind"], event["what"], event["on"]) == ("incident", "tile work in the east", "2026-11-25")
    assert shell("check").code == 0


def test_control_marks_never_get_in(shell: Shell) -> None:
    event = shell("note", "dry\x1b[2J well\nsince May", "--json").document["event"]
    assert event["what"] == "dry [2J well since May"


def test_a_power_cut_says_what_it_counts_as(shell: Shell) -> None:
    ran = shell("note", "power cut, two hours")
    assert "wellward event power_cut" in ran.out
    assert "Power cut on 25 Nov" in shell("due").out
    assert "wellward event" not in shell("note", "hay cut").out


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("note", " "), "What happened?"),
        (("note", "a" * 601), "600 at most"),
        (("note", "rain", "--on", "2026-11-26"), "future"),
        (("note", "rain", "--on", "soon"), "not a date"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_written(shell: Shell, words: tuple[str, ...], said: str) -> None:
    before = shell.path.read_bytes()
    ran = shell(*words)
    assert (ran.code, len(ran.err.splitlines())) == (1, 1)
    assert said in ran.err
    assert shell.path.read_bytes() == before


def test_without_words_it_is_wrong_usage(shell: Shell) -> None:
    assert shell("note").code == 2
