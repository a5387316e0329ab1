"""The neutralizer's media: limit, dose and mass balance."""

from __future__ import annotations

import msgspec
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from model.errors import BadInput
from model.water.balance import hardness_mg_l_caco3
from model.water.carbonate import dissolve, mix, speciate
from model.water.media import Dissolved, calcite_limit_mmol_l, dose_for_ph, media_limit, neutralize
from model.water.sample import Sample
from tests.water.waters import shares, water, waters

measured = st.none() | st.floats(5.0, 8.8)


def neutralized(raw: Sample, share: float, bypass: float, approach: float, pH: float | None) -> Dissolved:
    """The neutralized water, leaving out readings that no dose explains."""
    try:
        return neutralize(raw, share, bypass, approach, pH)
    except BadInput:
        assume(False)
        raise


@given(waters)
def test_the_calcite_limit_is_saturation(raw: Sample) -> None:
    limit = calcite_limit_mmol_l(raw)

    if speciate(raw).calcite_saturation_index >= 0.0:
        assert limit == 0.0
    else:
        saturated = speciate(dissolve(raw, limit, 0.0))
        assert saturated.calcite_saturation_index == pytest.approx(0.0, abs=1e-5)


@given(waters, st.floats(0.05, 1.0))
def test_mixed_media_stop_at_saturation_or_pH_10(raw: Sample, magnesia_share: float) -> None:
    caco3, mgo = media_limit(raw, magnesia_share)
    assume(caco3 + mgo > 0.0)
    after = speciate(dissolve(raw, caco3, mgo))

    assert max(after.calcite_saturation_index, after.pH - 10.0) == pytest.approx(0.0, abs=1e-4)
    assert caco3 * 100.087 * magnesia_share == pytest.approx(mgo * 40.304 * (1.0 - magnesia_share), abs=1e-9)


@given(waters, st.floats(5.0, 8.8), shares)
def test_a_dose_for_a_pH_gives_that_pH(raw: Sample, target: float, magnesia_share: float) -> None:
    assume(speciate(raw).co2_mg_l < 1000.0)
    try:
        caco3, mgo = dose_for_ph(raw, target, magnesia_share)
    except BadInput:
        assert target > 8.0
        assert magnesia_share < 0.2
        return
    if target <= raw.pH:
        assert (caco3, mgo) == (0.0, 0.0)
    else:
        assert dissolve(raw, caco3, mgo).pH == pytest.approx(target, abs=1e-6)
        assert caco3 * 100.087 * magnesia_share == pytest.approx(mgo * 40.304 * (1.0 - magnesia_share), abs=1e-9)


def test_a_higher_pH_needs_more_media() -> None:
    doses = [dose_for_ph(water(), pH, 0.1)[0] for pH in (6.5, 7.0, 7.5, 8.0, 8.5)]

    assert doses == sorted(doses)
    assert len(set(doses)) == 5


def test_a_pH_that_calcite_cannot_reach_is_refused() -> None:
    with pytest.raises(BadInput, match=r"No amount of this media brings water of pH 6\.2 to pH 12\.0"):
        dose_for_ph(water(), 12.0, 0.0)


@given(waters, shares, shares, shares, measured)
def test_media_dissolved_are_the_alkalinity_and_hardness_gained(
    raw: Sample, magnesia_share: float, bypass: float, approach: float, pH: float | None
) -> None:
    done = neutralized(raw, magnesia_share, bypass, approach, pH)

    gained = done.calcite_g_per_m3 + done.magnesia_g_per_m3 * 100.087 / 40.304
    assert done.sample.alkalinity_mg_l_caco3 - raw.alkalinity_mg_l_caco3 == pytest.approx(gained, rel=1e-9, abs=1e-9)
    assert hardness_mg_l_caco3(done.sample) - hardness_mg_l_caco3(raw) == pytest.approx(gained, rel=1e-9, abs=1e-9)
    for name in ("sodium_mg_l", "chloride_mg_l", "sulfate_mg_l", "nitrate_mg_l_n", "iron_mg_l", "temperature_c"):
        assert getattr(done.sample, name) == getattr(raw, name)


@given(waters, shares, shares, shares)
def test_the_house_water_is_the_bed_mixed_with_its_bypass(
    raw: Sample, magnesia_share: float, bypass: float, approach: float
) -> None:
    caco3, mgo = media_limit(raw, magnesia_share)
    bed = dissolve(raw, approach * caco3, approach * mgo)

    house = neutralize(raw, magnesia_share, bypass, approach, None).sample

    by_hand = mix(bed, raw, bypass)
    assert house.pH == pytest.approx(by_hand.pH, abs=1e-6)
    assert house.calcium_mg_l == pytest.approx(by_hand.calcium_mg_l, abs=1e-9)


@given(waters, shares, st.floats(6.0, 8.0))
def test_a_measured_pH_makes_bypass_and_approach_irrelevant(raw: Sample, bypass: float, pH: float) -> None:
    assert neutralized(raw, 0.1, bypass, 0.3, pH) == neutralized(raw, 0.1, 0.0, 0.9, pH)


def test_a_measured_pH_below_that_of_the_raw_water_takes_no_media() -> None:
    assert neutralize(water(), 0.1, 0.0, 0.8, 5.9) == Dissolved(
        calcite_g_per_m3=0.0, magnesia_g_per_m3=0.0, sample=water()
    )


def test_magnesia_alone_raises_a_water_without_calcium_to_its_own_limit() -> None:
    raw = msgspec.structs.replace(water(), calcium_mg_l=0.0)

    assert neutralize(raw, 1.0, 0.0, 1.0, None).sample.pH == pytest.approx(10.0, abs=1e-4)
