"""Boiling kills germs and makes nitrate stronger: no sentence advises the one without the condition of the other."""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

import model
from model.plan import plan
from model.records.events import LabReport, Service
from model.upkeep.later_table import LATER
from tests.forecast.homes import STAGES, TODAY, home, raw_water, taken

MODEL = Path(model.__file__).parent
WORDS = sorted(MODEL.glob("**/*.toml"))
CODE = sorted((*MODEL.glob("**/*.py"), *(MODEL.parent / "tui").glob("**/*.py")))
SHORT = "boil what is drunk"
"""Said only by `model.forecast.exposed.house.instead`, where raw nitrate was measured and is low."""

GERMS = LabReport(on=TODAY, point="tap", taken=(taken("total_coliform", 1.0, "tap"),))
TESTED = Service(on=TODAY, task="well.coliform_test")
ADVISES = re.compile(r"\b(?:boil|boiled)\b|\b(?:by|without|after|until) boiling\b")
FORBIDS = re.compile(r"\b(?:never|not|no)(?: be)? boil(?:ed)?\b")
ON_CONDITION = "raw nitrate is known to be low"


def advice(text: str) -> list[str]:
    """The sentences that advise boiling."""
    sentences = re.split(r"(?<=[.!?])\s+", text.casefold())
    return [one for one in sentences if ADVISES.search(FORBIDS.sub("", one))]


def at_fault(text: str) -> list[str]:
    """Those of them that name no bottled water before it, or not the nitrate."""
    return [one for one in advice(text) if ON_CONDITION not in one or "bottled" not in one.partition("boil")[0]]


def strings(data: object) -> Iterator[str]:
    """Every text in a data file."""
    if isinstance(data, str):
        yield data
    elif isinstance(data, dict | list):
        for one in data.values() if isinstance(data, dict) else data:
            yield from strings(one)


def in_code(path: Path) -> Iterator[str]:
    """Every text in a module that is no docstring; what an f-string puts in stands as {}."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    apart = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            yield "".join(str(one.value) if isinstance(one, ast.Constant) else "{}" for one in node.values)
            apart |= {id(one) for one in node.values}
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in apart:
            yield node.value


@pytest.mark.parametrize(
    ("text", "faults"),
    [
        ("Boil drinking water until the laboratory clears it. Boiling makes nitrate stronger.", 1),
        ("Boil it; where nitrate is high use bottled water.", 1),
        ("Boiled where raw nitrate is known to be low, or bottled.", 1),
        ("A sample before anyone drinks without boiling.", 1),
        ("Bottled water, or boiled where raw nitrate is known to be low, until then. Call the laboratory.", 0),
        ("Do not boil it: boiling makes nitrate stronger. Never boiled.", 0),
        ("Boiling concentrates nitrate.", 0),
        ("Warm, not boiling, water; the chamber boils dry; a boiler.", 0),
    ],
)
def test_what_counts_as_advice_to_boil(text: str, faults: int) -> None:
    assert len(at_fault(text)) == faults


def test_no_data_file_advises_boiling_without_the_nitrate() -> None:
    texts = [text for path in WORDS for text in strings(tomllib.loads(path.read_text(encoding="utf-8")))]
    assert sum(bool(advice(text)) for text in texts) >= 20
    assert not [one for text in texts for one in at_fault(text)]


def test_nor_does_any_text_in_the_code() -> None:
    found = {str(path): [one for text in in_code(path) for one in at_fault(text)] for path in CODE}
    assert {name: said for name, said in found.items() if said} == {str(MODEL / "forecast/exposed/house.py"): [SHORT]}


def test_nor_do_the_follow_ups_that_the_plan_reads() -> None:
    assert not [one for rows in LATER.values() for row in rows for one in at_fault(row.text)]


@pytest.mark.parametrize(
    ("nitrate", "said"),
    [
        (None, "Meanwhile drink bottled water (boiling does not remove nitrate, which was never measured here)."),
        (1.0, "Meanwhile boil what is drunk (boiling does not remove nitrate)."),
        (6.0, "Meanwhile drink bottled water (boiling would concentrate the nitrate)."),
        (12.0, "Meanwhile drink bottled water (boiling would concentrate the nitrate)."),
    ],
)
def test_after_germs_the_next_sample_says_what_to_drink_by_the_nitrate(nitrate: float | None, said: str) -> None:
    known = () if nitrate is None else (raw_water(nitrate=nitrate),)
    shown = plan(home(*known, TESTED, GERMS, stages=STAGES), TODAY)
    (job,) = [one for one in shown.due if one.task == "well.coliform_test"]
    assert any(line.endswith(said) for line in job.why)
    assert any(("boil what is drunk" in line) == (nitrate == 1.0) for line in shown.exposure if "oliform" in line)
