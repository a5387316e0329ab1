"""Columns that others bring in a file: answered, or refused with the row and the fault."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from model.errors import BadInput
from tests.benchmarks.columns import answer, answers

WELL: dict[str, Any] = {
    "feed_meq_l": {"HCO3": 4.0, "Cl": 0.6, "NO3": 1.43, "SO4": 0.6},
    "separation_factors": {"HCO3": 0.3, "NO3": 3.2, "SO4": 9.1},
    "capacity_eq_l": 1.0,
    "porosity": 0.4,
}
EPA: dict[str, Any] = {
    "label": "US EPA, Water_Treatment_Models, example",
    "feed_meq_l": {"Cl": 1.51, "SO4": 0.52, "HCO3": 4.23, "NO3": 0.74},
    "selectivity_coefficients": {"NO3": 5.0, "HCO3": 0.6, "SO4": 0.10},
    "capacity_meq_l": 586.0,
    "porosity": 0.38,
    "bead_radius_cm": 0.0345,
    "film_cm_s": 2.2e-3,
    "surface_diffusion_cm2_s": 5e-8,
    "bed_diameter_cm": 25.908,
    "bed_depth_cm": 86.36,
    "flow_l_per_min": 18.927,
}


def test_both_kinds_of_row(tmp_path: Path) -> None:
    path = tmp_path / "columns.json"
    path.write_text(json.dumps([WELL, EPA]), encoding="utf-8")
    even, blurred = answers(path)
    assert even["method"] == "equilibrium"
    assert even["bv_at_half_plateau"] == pytest.approx(395.0, rel=0.03)  # 20 cells by PHREEQC
    assert even["peak_over_feed"] == pytest.approx(1.347, rel=0.005)
    assert blurred["method"] == "kinetic"
    assert blurred["bv_at_10_percent_of_feed"] == pytest.approx(202.0, rel=0.08)
    assert blurred["bv_at_50_percent_of_feed"] == pytest.approx(277.0, rel=0.06)
    json.dumps([even, blurred], allow_nan=False)


def test_bed_litres_or_contact_time_do_as_well() -> None:
    sizes = ("bed_diameter_cm", "bed_depth_cm", "flow_l_per_min")
    bare = {name: value for name, value in EPA.items() if name not in sizes}
    first = answer(EPA)["bv_at_10_percent_of_feed"]
    by_litres = answer({**bare, "bed_l": 45.528, "flow_l_per_min": 18.927})["bv_at_10_percent_of_feed"]
    by_time = answer({**bare, "contact_s": 144.33})["bv_at_10_percent_of_feed"]
    assert by_litres == pytest.approx(first, rel=1e-3)
    assert by_time == pytest.approx(first, rel=1e-3)


def test_a_film_left_out_comes_from_the_correlation() -> None:
    found = answer({name: value for name, value in EPA.items() if name != "film_cm_s"})
    assert found["method"] == "kinetic"


@pytest.mark.parametrize(
    ("change", "said"),
    [
        ({"feed_meq_l": {"HCO3": 4.0, "Cl": 1.0, "SO4": 1.0}}, "NO3"),
        ({"feed_meq_l": {"HCO3": "4", "NO3": 1.0}}, "not a number"),
        ({"feed_meq_l": {"HCO3": -4.0, "NO3": 1.0, "SO4": 1.0}}, "feed"),
        ({"feed_meq_l": [4.0]}, "feed_meq_l"),
        ({"separation_factors": {"HCO3": 0.3, "SO4": 9.1}}, "NO3"),
        ({"separation_factors": {"HCO3": 0.3, "NO3": 0.0, "SO4": 9.1}}, "factor"),
        ({"separation_factors": {"HCO3": 0.3, "NO3": 3.2, "SO4": 9.1, "F": 1.0}}, "F"),
        ({"selectivity_coefficients": {"SO4": 0.1}}, "SO4"),
        ({"capacity_meq_l": 1000.0}, "capacity"),
        ({"capacity_eq_l": 0.0}, "capacity"),
        ({"porosity": 1.0}, "porosity"),
        ({"porosity": None}, "porosity"),
        ({"flow_l_per_min": 10.0}, "missing"),
        ({"bead_radius_cm": 0.0}, "bead_radius_cm"),
        ({"colour": 1.0}, "colour"),
        ({"resin_fractions": {"Cl": 0.0}}, "resin"),
        (
            {
                "selectivity_coefficients": {"SO4": 0.1},
                "separation_factors": {"HCO3": 0.3, "NO3": 3.0},
                "valences": {"SO4": 3},
            },
            "valence",
        ),
    ],
)
def test_a_bad_row_is_refused_and_named(change: dict[str, Any], said: str, tmp_path: Path) -> None:
    path = tmp_path / "columns.json"
    path.write_text(json.dumps([WELL, {**WELL, **change}]), encoding="utf-8")
    with pytest.raises(BadInput, match=r"Row 2: ") as refused:
        answers(path)
    assert said.lower() in str(refused.value).lower()


@pytest.mark.parametrize("text", ["", "{}", "[1]", "[null]", '[{"feed_meq_l": {"NO3": NaN}}]'])
def test_a_file_that_is_no_list_of_columns_is_refused(text: str, tmp_path: Path) -> None:
    path = tmp_path / "columns.json"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(BadInput):
        answers(path)


def test_a_missing_file_is_refused(tmp_path: Path) -> None:
    with pytest.raises(BadInput):
        answers(tmp_path / "none.json")
