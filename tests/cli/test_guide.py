"""`wellward guide`: answers in full for words, in short without, and as a document."""

from __future__ import annotations

from tests.cli.conftest import Shell


def test_words_give_the_answers_in_full(shell: Shell) -> None:
    ran = shell("guide", "low-sodium")
    assert ran.code == 0
    assert "23. How much sodium" in ran.out
    assert "adds 54 mg/L of sodium: 14 mg a glass of 250 mL" in ran.out
    assert "Source: Connecticut DPH publication 29" in ran.out
    assert "See: the Water screen" in ran.out
    assert "24. " not in ran.out


def test_no_words_give_all_in_short(shell: Shell) -> None:
    lines = shell("guide").out.splitlines()
    assert sum(line.split(".")[0].isdigit() for line in lines) == 54
    assert not any(line.lstrip().startswith("Why:") for line in lines)
    assert "WELL AND PRESSURE" in lines


def test_words_that_no_question_has_are_said(shell: Shell) -> None:
    ran = shell("guide", "salt", "zebra")
    assert (ran.code, ran.err) == (0, "")
    assert "No question has all of these words" in ran.out


def test_the_document_has_answer_missing_and_where_to_go(shell: Shell) -> None:
    (one,) = [one for one in shell("guide", "bridge", "--json").document if one["id"] == "bridge"]
    assert one["to"] == "softener.break_bridge"
    assert one["answer"].startswith("Salt stood at")
    assert one["missing"][0]["command"] == "wellward read salt_depth VALUE in --at softener"
    assert shell("guide", "zebra", "--json").document == []
