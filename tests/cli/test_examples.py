"""The examples that --help shows, and the script that completes them."""

from __future__ import annotations

import shlex
import shutil
import subprocess

import pytest

from tests.cli.conftest import Shell
from tui.cli.examples import EXAMPLES
from tui.cli.parser import _NAMES, Asked, build_parser


def test_every_command_has_an_example() -> None:
    assert set(EXAMPLES) == set(_NAMES)


@pytest.mark.parametrize("line", [line for lines in EXAMPLES.values() for line in lines])
def test_each_example_is_understood(line: str) -> None:
    words = shlex.split(line.partition(" > ")[0])
    assert words[0] == "wellward"
    asked = build_parser(words[1:]).parse_args(words[1:], namespace=Asked())
    assert callable(asked.run)


def test_help_shows_them(shell: Shell, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        build_parser(["due", "--help"]).parse_args(["due", "--help"])
    assert "examples:\n  wellward due\n" in capsys.readouterr().out


def test_the_script_for_a_shell_knows_commands_and_options(shell: Shell) -> None:
    for name in ("bash", "zsh", "fish"):
        ran = shell("completion", name)
        assert ran.code == 0
        assert all(word in ran.out for word in ("what-if", "--months", "calendar"))


@pytest.mark.skipif(shutil.which("bash") is None, reason="no bash here")
def test_bash_completes_a_command(shell: Shell) -> None:
    script = shell("completion", "bash").out
    asks = 'COMP_WORDS=(wellward ca); COMP_CWORD=1; _shtab_wellward; echo "${COMPREPLY[@]}"'
    ran = subprocess.run(["bash", "-c", f"{script}\n{asks}"], capture_output=True, text=True, check=False, timeout=20)
    assert ran.stdout.split() == ["calendar"]
