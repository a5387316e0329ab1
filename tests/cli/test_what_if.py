"""The command that tries settings: it prints both homes and writes nothing."""

from __future__ import annotations

import pytest

from tests.cli.conftest import Shell


def test_it_prints_both_and_writes_nothing(shell: Shell) -> None:
    before = shell.path.read_bytes()
    ran = shell("what-if", "people=10", "stages.softener.salt_dose_kg=20 lb")
    assert (ran.code, ran.err) == (0, "")
    assert "Then" in ran.out
    assert "Nothing was written down." in ran.out
    document = shell("what-if", "people=10", "--json").document
    figures = {one["id"]: one for one in document["figures"]}
    assert document["changes"] == [{"path": "people", "value": 10.0}]
    assert figures["softener.salt"]["difference"] > 0.0
    assert len(document["months"]) == 12
    assert shell.path.read_bytes() == before


def test_without_changes_it_lists_what_can_be(shell: Shell) -> None:
    out = shell("what-if").out
    assert all(path in out for path in ("people ", "stages.neutralizer.target_pH", "supplies.salt.price", "uses.More"))


@pytest.mark.parametrize(
    "change",
    ["people=-4", "people=nan", "people", "stages.softener.kind=well", "stages.softener.anion_type=gold", "id=3"],
)
def test_what_makes_no_sense_is_refused(shell: Shell, change: str) -> None:
    ran = shell("what-if", change)
    assert (ran.code, ran.out) == (1, "")
    assert ran.err.startswith("wellward: ")
