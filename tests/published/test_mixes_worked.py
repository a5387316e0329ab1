"""Mixes against worked examples; the id is where they come from."""

from __future__ import annotations

import pytest

from model.water.mixes import blend, blend_for_hardness, share_for_hardness
from tests.published.plain import plain

DH_CALCIUM = 7.147
"""1 dH is 7.147 mg/L of calcium: common practice, no source."""

TAP = plain(pH=7.5, alkalinity_mg_l_caco3=200.0, calcium_mg_l=20 * DH_CALCIUM, nitrate_mg_l_n=20.0, sodium_mg_l=8.0)
RO = plain(pH=6.0, alkalinity_mg_l_caco3=10.0, calcium_mg_l=1 * DH_CALCIUM)


@pytest.mark.parametrize(
    ("wanted", "tap_parts", "ro_parts"),
    [pytest.param(5.0, 4, 15, id="keepers of fish, common practice, no source: 20 dH and 1 dH to 5 dH")],
)
def test_parts_for_a_hardness(wanted: float, tap_parts: int, ro_parts: int) -> None:
    assert share_for_hardness(TAP, RO, wanted, "dH") == pytest.approx(tap_parts / (tap_parts + ro_parts), abs=5e-4)


def test_nitrate_follows_the_same_parts() -> None:
    """21 % of a tap with 88 mg/L of nitrate makes about 19: by hand, regression only."""
    made = blend_for_hardness({"tap": TAP, "ro": RO}, 5.0, "dH")

    assert made.shares["tap"] == pytest.approx(0.21, abs=0.001)
    assert made.nitrate_mg_l_no3 == pytest.approx(19.0, abs=0.5)
    assert made.unfit == ()
    assert blend({"tap": TAP, "ro": RO}, {"tap": 1.0}).unfit[0].startswith("Not for drinking: nitrate 20.0")


@pytest.mark.parametrize(
    ("unit", "wanted"),
    [("mg/L", 89.24), ("gpg", 5.213), ("dH", 5.0)],
    ids=lambda value: f"FAO glossary and grain by definition: {value}",
)
def test_one_hardness_in_three_units(unit: str, wanted: float) -> None:
    assert share_for_hardness(TAP, RO, wanted, unit) == pytest.approx(0.2105, abs=2e-4)
