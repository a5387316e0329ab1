"""What always holds of salt and water sent to the drain."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.equipment.relations import drain
from model.errors import BadInput

amounts = st.floats(0.0, 1000.0)


@given(amounts)
def test_sodium_and_chloride_make_up_the_salt(salt_kg: float) -> None:
    assert drain.sodium_kg(salt_kg) + drain.chloride_kg(salt_kg) == pytest.approx(salt_kg, abs=1e-9)


@given(amounts, st.floats(1.0, 10_000.0), st.floats(0.0, 1000.0))
def test_a_longer_run_regenerates_no_oftener(use: float, run: float, more: float) -> None:
    assert drain.regenerations_per_week(use, run + more) <= drain.regenerations_per_week(use, run)


@given(st.floats(0.0, 20.0), st.floats(0.0, 10.0))
def test_nothing_goes_out_where_nothing_goes_in(regenerations: float, dose_kg: float) -> None:
    assert drain.salt_kg_per_week(0.0, dose_kg) == 0.0
    assert drain.salt_kg_per_week(regenerations, dose_kg) >= 0.0


@pytest.mark.parametrize(
    "asked",
    [
        lambda: drain.regenerations_per_week(100.0, 0.0),
        lambda: drain.regenerations_per_week(-1.0, 100.0),
        lambda: drain.salt_kg_per_week(1.0, -1.0),
        lambda: drain.water_l_per_week(float("nan"), 100.0),
        lambda: drain.chloride_kg(-1.0),
        lambda: drain.sodium_kg(float("inf")),
    ],
)
def test_what_cannot_be_is_refused(asked: Callable[[], float]) -> None:
    with pytest.raises(BadInput):
        asked()
