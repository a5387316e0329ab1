"""Salt that goes down the drain."""

from __future__ import annotations

import pytest

from model.equipment.relations.drain import (
    chloride_kg,
    regenerations_per_week,
    salt_kg_per_week,
    sodium_kg,
    water_l_per_week,
)

POUND_KG = 0.45359237
GALLON_L = 3.785411784


def test_chloride_of_a_year() -> None:
    """600 lb of salt hold 364 lb (165 kg) of chloride: atomic weights IUPAC 2013."""
    assert chloride_kg(600 * POUND_KG) / POUND_KG == pytest.approx(364, rel=0.001)
    assert chloride_kg(600 * POUND_KG) == pytest.approx(165, rel=0.001)


def test_sodium_of_a_pound_in_a_gallon() -> None:
    """Common practice, no source: 47,159 mg/L printed, with rounded factors."""
    assert sodium_kg(POUND_KG) / GALLON_L * 1e6 == pytest.approx(47_159, rel=0.001)


def test_a_week() -> None:
    """Common practice, no source: 400 gpd at 1,333 gal a run and 6 lb: 2.1 runs and 12.6 lb; 40 to 70 gal each."""
    runs = regenerations_per_week(400 * GALLON_L, 1333 * GALLON_L)

    assert runs == pytest.approx(2.1, abs=0.01)
    assert salt_kg_per_week(runs, 6 * POUND_KG) / POUND_KG == pytest.approx(12.6, abs=0.05)
    assert water_l_per_week(runs, 50 * GALLON_L) / GALLON_L == pytest.approx(105, abs=0.5)
