"""Whom to call: written down by a command, listed, taken off and brought back, and kept by the demo."""

from __future__ import annotations

import pytest

from tests.cli.conftest import Shell


def test_contacts_are_listed_changed_taken_off_and_brought_back(shell: Shell) -> None:
    assert "poison: not written down (Poison line)" in shell("contact").out
    assert shell("contact", "Poison line", "555-0199").code == 0
    assert shell("contact", "second neighbour", "555 0118", "Ida,", "by the creek").code == 0
    assert shell("contact", "contractor", "555-0143", "Larkspur Wells").code == 0
    rows = shell("contact", "--json").document["contacts"]
    assert [(one["role"], one["name"], one["phone"]) for one in rows if one["role"] not in ("owner", "neighbour")] == [
        ("contractor", "Larkspur Wells", "555-0143"),
        ("electrician", "Voss Electric", "555-0168"),
        ("laboratory", "Quarry Road Water Lab", "555-0125"),
        ("health", "County health office", "555-0133"),
        ("poison", "", "555-0199"),
        ("second neighbour", "Ida, by the creek", "555 0118"),
    ]
    assert "Contact, contractor: nobody any more" in shell("contact", "contractor", "--remove").out
    assert "contractor: not written down" in shell("contact").out
    assert shell("undo").code == 0
    assert "contractor: Larkspur Wells, 555-0143" in shell("contact").out
    assert shell("check").code == 0


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("contractor",), "What is the number"),
        (("contractor", "Larkspur"), "no telephone number"),
        (("contractor", "5" * 41), "no telephone number"),
        (("contractor", "555-0142", "x" * 61), "too long"),
        ((" ", "555-0142"), "Whom is it about"),
        (("plumber", "--remove"), "Nobody is written down"),
    ],
)
def test_what_cannot_be_is_refused_in_one_line(shell: Shell, words: tuple[str, ...], said: str) -> None:
    before = shell.path.read_bytes()
    ran = shell("contact", *words)
    assert (ran.code, len(ran.err.splitlines())) == (1, 1)
    assert said in ran.err
    assert shell.path.read_bytes() == before
