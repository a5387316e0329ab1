"""The README: its commands run as typed, in its order, and its table knows every command."""

from __future__ import annotations

import argparse
import importlib.util
import re
import shlex
from pathlib import Path

import pytest

from tui.cli import main
from tui.cli.parser import build_parser
from tui.commands import COMMANDS

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
KEYS = re.compile(r"(?<=`)(?:[a-z0-9]|F\d+)(?=`)|[Cc]trl\+[A-Za-z]")
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


def _uses() -> list[tuple[list[str], list[str]]]:
    """The commands before each sample of output, all of them since the one before, and the lines of the sample."""
    found: list[tuple[list[str], list[str]]] = []
    commands: list[str] = []
    sample: list[str] | None = None
    for line in README.splitlines():
        if sample is not None and line == "```":
            found.append((commands, sample))
            commands, sample = [], None
        elif sample is not None:
            sample.append(line)
        elif line == "```text":
            sample = []
        elif line.startswith("    wellward ") and HOME in line:
            commands.append(line.strip())
    return found


def test_the_three_uses_print_what_they_are_said_to_print(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for commands, sample in (uses := _uses()):
        for line in commands:
            words = [str(tmp_path / "home.json") if word == HOME else word for word in shlex.split(line)[1:]]
            assert main(words) == 0
        printed = iter(capsys.readouterr().out.splitlines())
        assert len(commands) + len(sample) <= 12
        for wanted in sample:
            assert wanted == "..." or wanted in printed, wanted
    asked = [{line.split()[1] for line in commands} for commands, _ in uses]
    assert [{"due"} <= asked[0], {"done", "undo"} <= asked[1], {"costs"} <= asked[2]] == [True] * 3


def test_every_key_that_is_named_is_a_key() -> None:
    prose = (line for line in README.splitlines() if not line.startswith(("|", "    ")))
    named = {key.lower() for line in prose for key in KEYS.findall(line)}
    bound = {key for one in COMMANDS for key in one.key.split(",")}
    assert {"m", "f9", "ctrl+t"} <= named <= bound


def test_every_option_and_setting_that_is_named_is_there() -> None:
    (commands,) = (one for one in build_parser(["--help"])._actions if isinstance(one, argparse._SubParsersAction))
    for row in TABLE:
        for name in re.findall(r"^\| `wellward ([a-z-]+)", row):
            help_ = commands.choices[name].format_help()
            subs = [one for one in commands.choices[name]._actions if isinstance(one, argparse._SubParsersAction)]
            help_ += "".join(reader.format_help() for one in subs for reader in one.choices.values())
            assert not [
                option for option in re.findall(r"(?<![\w-])--[a-z-]+", row.split("|")[1]) if option not in help_
            ]
    settings = re.findall(r'`"([a-z_.]+)" = ', README)
    assert settings
    assert set(settings) <= {one.id for one in COMMANDS}


def test_every_path_and_module_that_the_developers_page_names_is_there() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    named = re.findall(r"`((?:model|tui|tests|sample_data)/[\w./<>*]*)`", text)
    assert len(named) > 30
    assert not [one for one in named if not list(ROOT.glob(re.sub(r"<[^>]*>", "*", one).rstrip("/")))]
    bare = set(re.findall(r"`([\w*]+\.py)`", text))
    assert not [one for one in bare if not list(ROOT.rglob(one))]
    modules = re.findall(r"python -m (tests(?:\.\w+)+)", text)
    assert not [one for one in modules if importlib.util.find_spec(one) is None]


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
