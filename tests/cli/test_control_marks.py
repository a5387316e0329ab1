"""No escape sequence of what somebody wrote reaches the terminal, from text or from JSON."""

from __future__ import annotations

import pytest

from model.store.repository import Repository
from tests.cli.conftest import Shell
from tests.tui.nasty import NASTY, a_nasty_store

_HARM = {chr(mark) for mark in (*range(32), *range(127, 160), 0x202E)} - {"\n"}
SIGNS = "␛[31m␛]0;t␇�2J␀␡␍"


@pytest.fixture
def nasty(shell: Shell) -> Shell:
    """A home with such texts everywhere."""
    home = a_nasty_store().home
    shell.path.unlink()
    Repository(shell.path).create(home.house, home.events)
    return shell


@pytest.mark.parametrize("command", ["due", "water", "costs", "log", "event", "handle", "rule", "round", "guide salt"])
def test_control_marks_are_signs_in_what_is_printed(nasty: Shell, command: str) -> None:
    ran = nasty(*command.split())
    assert ran.code in (0, 3)
    assert not _HARM & set(ran.out + ran.err)
    if command not in ("event", "guide salt"):
        assert SIGNS in ran.out


def test_json_keeps_the_text_and_has_no_control_mark(nasty: Shell) -> None:
    ran = nasty("water", "--json")
    assert not _HARM & set(ran.out)
    assert f"After {NASTY}" in [point["title"] for point in ran.document["points"]]


def test_what_is_asked_for_is_harmless_in_messages(nasty: Shell) -> None:
    for words in (["explain", "\x1b[2J", "x", "leak"], ["done", "\x1b[2J"], ["\x9b2J"]):
        ran = nasty(*words)
        assert ran.code in (1, 2)
        assert not _HARM & set(ran.out + ran.err)
