"""The full screen where there is none to be had: one line, exit code 1, nothing left behind."""

from __future__ import annotations

import os
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest

from model.errors import WellwardError
from model.records.events import Incident
from model.store.repository import Repository
from tests.cli.conftest import TODAY, Shell
from tui import app
from tui.cli import main
from tui.view import Session

ROOT = Path(__file__).parents[2]


@pytest.fixture(autouse=True)
def _no_screen(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    def run(session: Session) -> int:
        raise WellwardError("There is no terminal here.", "Use the commands.")

    monkeypatch.setattr(app, "run", run)
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))


def test_a_demo_leaves_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["demo", "--today", TODAY]) == 1
    assert capsys.readouterr().err == "wellward: There is no terminal here. Use the commands.\n"
    assert list(tmp_path.iterdir()) == []


def test_a_first_home_leaves_nothing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for path in (tmp_path / "home.json", tmp_path / "new" / "home.json"):
        assert main(["--file", str(path)]) == 1
        assert len(capsys.readouterr().err.splitlines()) == 1
    assert list(tmp_path.iterdir()) == []


def test_a_home_that_was_there_stays(shell: Shell) -> None:
    before = shell.path.read_bytes()
    assert main(["--file", str(shell.path)]) == 1
    assert shell.path.read_bytes() == before


def test_a_first_home_written_before_the_terminal_was_lost_stays(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def run(session: Session) -> int:
        session.begin(session.view.house, [Incident(on=session.view.today, what="storm")])
        raise WellwardError("The terminal is gone.")

    monkeypatch.setattr(app, "run", run)
    path = tmp_path / "home.json"
    assert main(["--file", str(path)]) == 1
    assert len(Repository(path).load().events) == 1


@pytest.mark.parametrize("words", [[], ["demo"]])
def test_without_a_terminal_it_is_one_line(tmp_path: Path, words: list[str]) -> None:
    command = [sys.executable, "-c", "import sys; from tui.cli import main; sys.exit(main())", *words]
    ran = subprocess.run(
        [*command, "--file", str(tmp_path / "home.json")],
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        cwd=ROOT,
        env=os.environ | {"TMPDIR": str(tmp_path)},
        timeout=30,
    )
    assert ran.returncode == 1
    assert ran.stdout == ""
    assert len(ran.stderr.splitlines()) == 1
    assert ran.stderr.startswith("wellward: ")
    assert list(tmp_path.iterdir()) == []
