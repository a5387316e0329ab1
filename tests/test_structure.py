"""Who may know whom, in a clean interpreter; and that every public piece says what it is."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
MODEL = sorted((ROOT / "model").rglob("*.py"))
SIZE_LIMIT, BODY_LIMIT = 500, 40


def _module(path: Path) -> str:
    parts = path.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def _loaded(code: str) -> set[str]:
    shown = subprocess.run(
        [sys.executable, "-c", f"{code}\nimport sys; print(*sys.modules)"],
        capture_output=True,
        text=True,
        check=True,
        cwd=ROOT,
    )
    return {name.partition(".")[0] for name in shown.stdout.split()}


def test_the_model_loads_without_any_screen() -> None:
    code = "\n".join(f"import {_module(path)}" for path in MODEL)
    assert not {"textual", "rich", "tui"} & _loaded(code)


def test_the_model_outside_its_store_loads_without_a_database() -> None:
    code = "\n".join(f"import {_module(path)}" for path in MODEL if "store" not in path.parts)
    assert not {"tinydb", "filelock"} & _loaded(code)


def test_the_due_command_loads_no_screen(tmp_path: Path) -> None:
    home = tmp_path / "home.json"
    run = "from tui.cli.main import main; assert main"
    loaded = _loaded(
        f"{run}(['demo', '--copy', {str(home)!r}]) == 0\nassert main(['due', '--file', {str(home)!r}]) == 0"
    )
    assert not {"textual", "rich"} & loaded
    assert "tinydb" in loaded


def test_plots_are_loaded_with_the_first_chart() -> None:
    assert "plotille" not in _loaded("import tui.app, tui.screens.week, tui.screens.water, tui.screens.costs")


def test_files_and_functions_stay_small() -> None:
    too_long: list[str] = []
    for path in sorted([*MODEL, *(ROOT / "tui").rglob("*.py")]):
        text = path.read_text(encoding="utf-8")
        too_long += [_module(path)] if len(text.splitlines()) > SIZE_LIMIT else []
        too_long += [
            f"{_module(path)}.{node.name}"
            for node in ast.walk(ast.parse(text))
            if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
            and node.end_lineno is not None
            and node.end_lineno - node.body[0].lineno + 1 > BODY_LIMIT
        ]
    assert not too_long


def _public(tree: ast.Module) -> list[ast.FunctionDef | ast.ClassDef]:
    return [n for n in tree.body if isinstance(n, ast.FunctionDef | ast.ClassDef) and not n.name.startswith("_")]


def test_every_public_piece_of_the_model_says_what_it_is() -> None:
    missing: list[str] = []
    for path in MODEL:
        tree = ast.parse(path.read_text(encoding="utf-8"))
        missing += [] if ast.get_docstring(tree) else [_module(path)]
        missing += [f"{_module(path)}.{node.name}" for node in _public(tree) if not ast.get_docstring(node)]
    assert not missing


RELATIONS = [path for path in MODEL if "relations" in path.parts and path.name != "check.py"]
RELATIONS += [ROOT / "model" / "water" / "constants.py", ROOT / "model" / "water" / "balance.py"]
HELPERS = {"constants_at", "complete", "hardness_of"}
"""Functions among the relations that only gather others."""


@pytest.mark.parametrize(
    ("path", "function"),
    [
        (path, node)
        for path in RELATIONS
        for node in _public(ast.parse(path.read_text(encoding="utf-8")))
        if isinstance(node, ast.FunctionDef) and node.name not in HELPERS
    ],
    ids=lambda value: value.name if isinstance(value, ast.FunctionDef) else _module(value),
)
def test_a_relation_names_its_units_and_source(path: Path, function: ast.FunctionDef) -> None:
    said = ast.get_docstring(function) or ""
    assert "[" in said, "no unit in brackets"
    assert "Source" in said or "common practice, no source" in said.lower() or "from memory" in said.lower()
