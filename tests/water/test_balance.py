"""Filling in an analysis, and its sums."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.water.balance import charge_balance_error_percent, complete, hardness_mg_l_caco3, tds_mg_l
from model.water.sample import Sample
from tests.water.waters import water

ALL = [name for name in Sample.__struct_fields__ if name != "assumed"]


@pytest.mark.parametrize(
    "known",
    [
        {},
        {"pH": 6.5, "alkalinity_mg_l_caco3": 40.0},
        {"pH": 6.5, "hardness_mg_l_caco3": 40.0},
        {"alkalinity_mg_l_caco3": 40.0, "calcium_mg_l": 10.0},
        {"pH": 6.5, "alkalinity_mg_l_caco3": 40.0, "magnesium_mg_l": 10.0},
    ],
)
def test_too_little_is_no_sample(known: dict[str, float]) -> None:
    assert complete(known) is None


def test_hardness_alone_is_split_three_to_one() -> None:
    sample = complete({"pH": 6.5, "alkalinity_mg_l_caco3": 40.0, "hardness_mg_l_caco3": 100.087})

    assert sample is not None
    assert sample.calcium_mg_l == pytest.approx(0.75 * 40.078)
    assert sample.magnesium_mg_l == pytest.approx(0.25 * 24.305)
    assert {"calcium_mg_l", "magnesium_mg_l", "sodium_mg_l", "temperature_c"} <= set(sample.assumed)
    assert not {"pH", "alkalinity_mg_l_caco3"} & set(sample.assumed)


@pytest.mark.parametrize(
    ("given_name", "given_mg_l", "other", "expected_mg_l"),
    [
        ("calcium_mg_l", 20.039, "magnesium_mg_l", 12.1525),
        ("magnesium_mg_l", 6.07625, "calcium_mg_l", 30.0585),
        ("calcium_mg_l", 60.0, "magnesium_mg_l", 0.0),
    ],
)
def test_one_of_the_pair_and_hardness_give_the_other(
    given_name: str, given_mg_l: float, other: str, expected_mg_l: float
) -> None:
    sample = complete(
        {"pH": 7.0, "alkalinity_mg_l_caco3": 40.0, "hardness_mg_l_caco3": 100.087, given_name: given_mg_l}
    )

    assert sample is not None
    assert getattr(sample, other) == pytest.approx(expected_mg_l, abs=1e-3)
    assert other in sample.assumed
    assert given_name not in sample.assumed


def test_missing_sodium_closes_the_balance() -> None:
    sample = complete(
        {
            "pH": 6.5,
            "alkalinity_mg_l_caco3": 50.0435,
            "calcium_mg_l": 0.0,
            "magnesium_mg_l": 0.0,
            "chloride_mg_l": 35.45,
        }
    )

    assert sample is not None
    assert sample.sodium_mg_l == pytest.approx(2.0 * 22.990)
    assert sample.sulfate_mg_l == pytest.approx(0.0, abs=1e-9)


def test_missing_chloride_takes_the_cations_that_are_left() -> None:
    sample = complete({"pH": 6.5, "alkalinity_mg_l_caco3": 50.0435, "calcium_mg_l": 40.078, "magnesium_mg_l": 0.0})

    assert sample is not None
    assert sample.sodium_mg_l == 0.0
    assert sample.chloride_mg_l == pytest.approx(35.45)


def test_a_full_analysis_is_taken_as_it_is() -> None:
    known = {name: getattr(water(), name) for name in ALL}

    assert complete(known) == water()


@given(st.dictionaries(st.sampled_from([*ALL, "hardness_mg_l_caco3"]), st.floats(0.1, 100.0)))
def test_what_is_known_stays_and_what_is_filled_in_is_named(known: dict[str, float]) -> None:
    sample = complete(known)
    if sample is None:
        return

    for name in ALL:
        assert getattr(sample, name) >= 0.0
        assert (name in sample.assumed) == (name not in known)
        if name in known:
            assert getattr(sample, name) == known[name]
    if "sodium_mg_l" not in known and "chloride_mg_l" not in known:
        assert charge_balance_error_percent(sample) == pytest.approx(0.0, abs=1e-6)


def test_sums_by_hand() -> None:
    sample = water(iron_mg_l=5.0)

    assert hardness_mg_l_caco3(sample) == pytest.approx(2.4973 * 9.0 + 4.118 * 3.0, rel=1e-3)
    assert tds_mg_l(sample) == pytest.approx(0.6 * 30.0 + 8.0 + 1.0 + 9.0 + 3.0 + 12.0 + 10.0 + 4.427 * 3.0, rel=1e-3)
