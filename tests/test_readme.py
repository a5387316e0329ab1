"""The README: its commands run as typed, in its order, and its table knows every command."""

from __future__ import annotations

import argparse
import re
import shlex
from pathlib import Path

import pytest

from tui.cli import main
from tui.cli.parser import build_parser

README = (Path(__file__).parents[1] / "README.md").read_text(encoding="utf-8")
BLOCKS = [line[4:] for line in README.splitlines() if line.startswith("    ")]
TYPED = [line for line in BLOCKS if line.split()[0] == "wellward"]
TABLE = [line for line in README.splitlines() if line.startswith("| ")]
EXAMPLES = [typed for row in TABLE for typed in re.findall(r"`(wellward [^`]+)`", row.split("|")[2])]
HOME = "/tmp/home.json"


def _opens_a_screen(words: list[str]) -> bool:
    return words == [] or (words[0] == "demo" and "--copy" not in words)


def test_every_command_runs_as_typed(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    home, ran = str(tmp_path / "home.json"), set()
    for line in TYPED:
        words = shlex.split(line)[1:]
        if _opens_a_screen(words):
            continue
        assert HOME in words, f"{line}: would work on the reader's own home"
        assert main([home if word == HOME else word for word in words]) == 0, capsys.readouterr().err
        ran.add(words[0])
    assert {"demo", "due", "done", "undo", "costs"} <= ran


def test_the_shell_can_find_the_command() -> None:
    assert ". .venv/bin/activate" in BLOCKS
    assert BLOCKS.index(". .venv/bin/activate") < BLOCKS.index(TYPED[0])


def test_every_command_is_in_the_table() -> None:
    (commands,) = (one for one in build_parser(["--help"])._actions if isinstance(one, argparse._SubParsersAction))
    listed = {name for row in TABLE for name in re.findall(r"`wellward ([a-z-]+)", row)}
    assert listed == set(commands.choices)


@pytest.mark.parametrize("typed", EXAMPLES)
def test_the_examples_of_the_table_run(typed: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    home = tmp_path / "home.json"
    assert main(["demo", "--copy", str(home)]) == 0
    assert main([*shlex.split(typed)[1:], "--file", str(home)]) == 0, capsys.readouterr().err


def test_the_table_has_examples() -> None:
    assert len(EXAMPLES) >= 2


def test_the_names_that_the_parser_looks_for_are_those_of_its_commands() -> None:
    from tui.cli.parser import _NAMES

    (commands,) = (one for one in build_parser(["--help"])._actions if isinstance(one, argparse._SubParsersAction))
    assert set(commands.choices) == _NAMES
