"""A copy of the sample home, as it stands on one day, and a way to run commands on it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from tui.cli import main

TODAY = "2026-11-25"


class Ran(NamedTuple):
    """What a command did."""

    code: int
    out: str
    err: str

    @property
    def document(self) -> Any:  # noqa: ANN401  a JSON document
        return json.loads(self.out)


class Shell:
    """Runs commands on one home on one day."""

    def __init__(self, path: Path, capture: pytest.CaptureFixture[str]) -> None:
        self.path = path
        self._capture = capture

    def __call__(self, *words: str, today: str = TODAY) -> Ran:
        try:
            code = main([*words, "--file", str(self.path), "--today", today])
        except SystemExit as left:
            code = int(left.code or 0)
        out, err = self._capture.readouterr()
        return Ran(code, out, err)


@pytest.fixture
def shell(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> Shell:
    path = tmp_path / "home.json"
    assert main(["demo", "--copy", str(path), "--today", TODAY]) == 0
    capsys.readouterr()
    return Shell(path, capsys)
