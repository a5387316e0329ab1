"""Waters that others bring in a file, dosed."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from model.errors import BadInput
from model.water.carbonate import dissolve
from tests.benchmarks.doses import answers, question
from tests.water.waters import water

FULL = {name: getattr(water(), name) for name in water().__struct_fields__ if name != "assumed"}
SHORT = {"pH": 6.5, "alkalinity_mg_l_caco3": 40.0, "caco3_mmol_l": 0.2, "mgo_mmol_l": 0.05}


def test_a_file_is_answered_in_its_order(tmp_path: Path) -> None:
    path = tmp_path / "waters.json"
    path.write_text(json.dumps([FULL | {"caco3_mmol_l": 0.4, "mgo_mmol_l": 0.1}, SHORT | {"id": "spring"}]))
    found = answers(path)

    assert found[0]["pH"] == pytest.approx(dissolve(water(), 0.4, 0.1).pH, abs=1e-9)
    assert 6.5 < found[1]["pH"] < 9.0
    assert len(found) == 2


def test_missing_ions_are_filled_in() -> None:
    sample = question(SHORT, 1).sample

    assert sample.calcium_mg_l == 0.0
    assert sample.sodium_mg_l == pytest.approx(40.0 / 50.0435 * 22.990)


@pytest.mark.parametrize(
    ("row", "words"),
    [
        ([], "not an analysis"),
        ({"pH": 7.0}, "lacks alkalinity_mg_l_caco3, caco3_mmol_l, mgo_mmol_l"),
        (SHORT | {"pH": 2.0}, "outside 4 to 9.5"),
        (SHORT | {"pH": "7"}, "not a number"),
        (SHORT | {"pH": True}, "not a number"),
        (SHORT | {"caco3_mmol_l": -0.1}, "cannot be"),
        (SHORT | {"caco3_mmol_l": 100.0}, "cannot be"),
        (SHORT | {"calcium": 20.0}, "'calcium' is not known"),
        (SHORT | {"temperature_c": 80.0}, "outside 0 to 50"),
        (SHORT | {"sodium_mg_l": 400.0, "chloride_mg_l": 0.0, "sulfate_mg_l": 0.0}, "differ by"),
    ],
)
def test_a_bad_row_is_named(row: Any, words: str) -> None:  # noqa: ANN401
    with pytest.raises(BadInput, match="Row 3") as refused:
        question(row, 3)
    assert words in str(refused.value)


@pytest.mark.parametrize("text", ["{}", "no json", "[NaN]"])
def test_a_file_that_is_no_list_is_refused(tmp_path: Path, text: str) -> None:
    path = tmp_path / "waters.json"
    path.write_text(text)

    with pytest.raises(BadInput):
        answers(path)
    with pytest.raises(BadInput, match="cannot be read"):
        answers(tmp_path / "absent.json")
