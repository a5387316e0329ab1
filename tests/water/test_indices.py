"""What always holds of the indices, of a bottle warmed and of a water solved from two readings."""

from __future__ import annotations

import itertools
from math import isfinite

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from model.errors import BadInput
from model.water.carbonate import speciate
from model.water.indices import (
    ccpp_mg_l_caco3,
    langelier_a,
    langelier_b,
    langelier_index,
    saturation_ph,
    saturation_ph_by_formula,
    solved,
    warmed,
)
from model.water.media import calcite_limit_mmol_l
from model.water.sample import Sample
from tests.water.waters import water, waters

PAIRS = tuple(itertools.combinations(("pH", "alkalinity_mg_l_caco3", "co2_mg_l", "total_carbon_mmol_l"), 2))


@given(waters, st.sampled_from(PAIRS))
def test_any_two_readings_give_the_water_back(sample: Sample, pair: tuple[str, str]) -> None:
    full = speciate(sample)
    known = {
        "pH": sample.pH,
        "alkalinity_mg_l_caco3": sample.alkalinity_mg_l_caco3,
        "co2_mg_l": full.co2_mg_l,
        "total_carbon_mmol_l": full.total_carbon_mmol_l,
    }
    assume(known["alkalinity_mg_l_caco3"] < 2000.0 and known["co2_mg_l"] < 3000.0)
    again = solved(sample, **{name: known[name] for name in pair})

    assert again.pH == pytest.approx(sample.pH, abs=2e-4)
    assert again.alkalinity_mg_l_caco3 == pytest.approx(sample.alkalinity_mg_l_caco3, rel=1e-4, abs=2e-3)


@pytest.mark.parametrize(
    "known",
    [
        {},
        {"pH": 7.0},
        {"pH": 7.0, "co2_mg_l": 5.0, "total_carbon_mmol_l": 1.0},
        {"pH": 15.0, "co2_mg_l": 5.0},
        {"pH": 7.0, "co2_mg_l": -1.0},
        {"pH": 7.0, "co2_mg_l": float("nan")},
        {"co2_mg_l": 500.0, "total_carbon_mmol_l": 1.0},
    ],
)
def test_other_than_two_readings_or_impossible_ones_are_refused(known: dict[str, float]) -> None:
    with pytest.raises(BadInput):
        solved(water(), **known)


@given(waters, st.floats(0.0, 50.0))
def test_a_warmed_bottle_keeps_its_carbon_and_comes_back(sample: Sample, to_c: float) -> None:
    there = warmed(sample, to_c)

    assert there.alkalinity_mg_l_caco3 == sample.alkalinity_mg_l_caco3
    carbon = speciate(sample).total_carbon_mmol_l
    assert speciate(there).total_carbon_mmol_l == pytest.approx(carbon, rel=1e-7)
    assert warmed(there, sample.temperature_c).pH == pytest.approx(sample.pH, abs=1e-6)


def test_warming_makes_scale_likelier() -> None:
    hard = water(pH=7.6, alkalinity_mg_l_caco3=200.0, calcium_mg_l=80.0)

    assert ccpp_mg_l_caco3(warmed(hard, 45.0)) > ccpp_mg_l_caco3(hard) + 5.0


@pytest.mark.parametrize("to_c", [-1.0, 51.0, float("nan")])
def test_a_bottle_beyond_the_constants_is_refused(to_c: float) -> None:
    with pytest.raises(BadInput, match="0 to 50"):
        warmed(water(), to_c)


@given(waters)
def test_the_precipitation_potential_is_the_way_to_saturation(sample: Sample) -> None:
    potential = ccpp_mg_l_caco3(sample)

    assert isfinite(potential)
    if speciate(sample).calcite_saturation_index <= 0.0:
        assert potential == pytest.approx(-100.087 * calcite_limit_mmol_l(sample), abs=1e-9)
        return
    assert potential > 0.0
    left = solved(
        water(
            **{
                name: getattr(sample, name)
                for name in Sample.__struct_fields__
                if name not in ("assumed", "calcium_mg_l")
            },
            calcium_mg_l=sample.calcium_mg_l - potential * 40.078 / 100.087,
        ),
        alkalinity_mg_l_caco3=sample.alkalinity_mg_l_caco3 - potential,
        total_carbon_mmol_l=speciate(sample).total_carbon_mmol_l - potential / 100.087,
    )
    assert speciate(left).calcite_saturation_index == pytest.approx(0.0, abs=1e-4)


fresh = st.builds(
    water,
    pH=st.floats(6.5, 9.0),
    temperature_c=st.floats(1.0, 30.0),
    alkalinity_mg_l_caco3=st.floats(10.0, 250.0),
    calcium_mg_l=st.floats(2.0, 120.0),
    chloride_mg_l=st.floats(0.0, 80.0),
)


@given(fresh)
def test_langelier_lies_near_the_exact_index_in_fresh_water(sample: Sample) -> None:
    # The older constants of the tables run low in the cold; calcium on the basis of the ion would be 0.4 lower yet.
    assert -0.4 < langelier_index(sample) - speciate(sample).calcite_saturation_index < 0.2


def test_tables_are_read_between_their_rows_and_not_beyond() -> None:
    assert langelier_b(300.0) == pytest.approx(9.845)
    assert langelier_a(2.222) == pytest.approx(2.54, abs=1e-3)
    for beyond in (-1.0, 80.0):
        with pytest.raises(BadInput, match="table runs"):
            langelier_a(beyond)
    with pytest.raises(BadInput, match="table runs"):
        langelier_b(1500.0)


@pytest.mark.parametrize("sample", [water(pH=6.2), water(pH=9.6), water(pH=7.0, calcium_mg_l=0.0)])
def test_a_water_beyond_langelier_is_refused(sample: Sample) -> None:
    with pytest.raises(BadInput):
        langelier_index(sample)


def test_no_calcium_has_no_saturation_pH() -> None:
    with pytest.raises(BadInput):
        saturation_ph(10.0, 100.0, 0.0, 50.0)
    with pytest.raises(BadInput):
        saturation_ph_by_formula(10.0, 0.0, 50.0, 50.0)
