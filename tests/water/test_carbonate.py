"""What always holds of dosing, mixing and airing."""

from __future__ import annotations

from math import isfinite

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model.water.balance import anions_meq_l, cations_meq_l, hardness_mg_l_caco3
from model.water.carbonate import (
    aerated_ph,
    dissolve,
    ionic_strength_mol_l,
    mix,
    ph_after_dose,
    ph_of,
    speciate,
    with_alkalinity,
    with_total_carbon,
)
from model.water.sample import Sample
from tests.water.waters import doses, shares, water, waters

IONS = [name for name in Sample.__struct_fields__ if name not in ("pH", "assumed")]


@given(waters)
def test_total_carbon_gives_the_pH_back(sample: Sample) -> None:
    carbon = speciate(sample).total_carbon_mmol_l

    assert with_total_carbon(sample, carbon).pH == pytest.approx(sample.pH, abs=1e-7)


@given(waters, doses, doses)
def test_dissolving_adds_mass_and_charge(sample: Sample, caco3: float, mgo: float) -> None:
    after = dissolve(sample, caco3, mgo)

    assert after.calcium_mg_l - sample.calcium_mg_l == pytest.approx(40.078 * caco3, abs=1e-9)
    assert after.magnesium_mg_l - sample.magnesium_mg_l == pytest.approx(24.305 * mgo, abs=1e-9)
    assert after.alkalinity_mg_l_caco3 - sample.alkalinity_mg_l_caco3 == pytest.approx(100.087 * (caco3 + mgo))
    assert hardness_mg_l_caco3(after) - hardness_mg_l_caco3(sample) == pytest.approx(100.087 * (caco3 + mgo))
    assert cations_meq_l(after) - anions_meq_l(after) == pytest.approx(
        cations_meq_l(sample) - anions_meq_l(sample), abs=1e-9
    )


@given(waters, doses, doses)
def test_dissolving_adds_carbon_of_calcite_alone(sample: Sample, caco3: float, mgo: float) -> None:
    before, after = speciate(sample), speciate(dissolve(sample, caco3, mgo))

    assert after.total_carbon_mmol_l == pytest.approx(before.total_carbon_mmol_l + caco3, rel=1e-7)


@given(waters, doses, st.floats(1e-3, 0.5))
def test_pH_rises_with_the_dose(sample: Sample, caco3: float, more: float) -> None:
    less = dissolve(sample, caco3, 0.0).pH

    assert dissolve(sample, caco3, more).pH > less
    if less < 8.3:
        assert dissolve(sample, caco3 + more, 0.0).pH > less


@given(waters, waters, shares)
def test_mixing_keeps_ions_carbon_and_charge(a: Sample, b: Sample, share: float) -> None:
    mixed = mix(a, b, share)

    for name in IONS:
        expected = (1.0 - share) * getattr(a, name) + share * getattr(b, name)
        assert getattr(mixed, name) == pytest.approx(expected, abs=1e-9), name
    carbon = (1.0 - share) * speciate(a).total_carbon_mmol_l + share * speciate(b).total_carbon_mmol_l
    assert speciate(mixed).total_carbon_mmol_l == pytest.approx(carbon, rel=1e-7, abs=1e-9)
    charge = [cations_meq_l(w) - anions_meq_l(w) for w in (a, b, mixed)]
    assert charge[2] == pytest.approx((1.0 - share) * charge[0] + share * charge[1], abs=1e-9)


@given(waters)
def test_a_water_mixed_with_itself_is_itself(sample: Sample) -> None:
    assert mix(sample, sample, 0.37).pH == pytest.approx(sample.pH, abs=1e-7)


def test_pH_is_not_averaged_by_mixing() -> None:
    acid, hard = water(pH=5.5), water(pH=8.2, alkalinity_mg_l_caco3=150.0, calcium_mg_l=60.0)

    assert abs(mix(acid, hard, 0.5).pH - 0.5 * (acid.pH + hard.pH)) > 0.2


def test_mixing_names_what_either_water_assumed() -> None:
    a = msgspec.structs.replace(water(), assumed=("iron_mg_l",))
    b = msgspec.structs.replace(water(), assumed=("sodium_mg_l", "iron_mg_l"))

    assert mix(a, b, 0.5).assumed == ("iron_mg_l", "sodium_mg_l")


@given(waters)
def test_air_loses_what_is_too_much_and_gives_what_is_missing(sample: Sample) -> None:
    aired = msgspec.structs.replace(sample, pH=aerated_ph(sample))
    co2 = speciate(aired).co2_mg_l

    assert 0.5 < co2 < 1.5  # 420 ppm times Henry's constant: 0.55 mg/L at 30 degC, 1.34 at 1 degC
    assert (aired.pH > sample.pH) == (speciate(sample).co2_mg_l > co2)


@given(waters, st.floats(0.02, 1.0))
def test_a_membrane_lets_carbon_dioxide_pass(sample: Sample, share: float) -> None:
    after = with_alkalinity(sample, share * sample.alkalinity_mg_l_caco3)

    assert speciate(after).co2_mg_l == pytest.approx(speciate(sample).co2_mg_l, rel=1e-6)
    assert after.pH <= sample.pH + 1e-7


def test_a_membrane_may_be_told_the_carbon_dioxide_of_its_feed() -> None:
    after = with_alkalinity(water(), 2.0, co2_mg_l=25.0)

    assert speciate(after).co2_mg_l == pytest.approx(25.0, rel=1e-6)


@given(waters, doses, doses)
@settings(max_examples=200)
def test_the_quick_pH_is_that_of_dissolve(sample: Sample, caco3: float, mgo: float) -> None:
    exact = dissolve(sample, caco3, mgo).pH

    assert ph_after_dose(sample, caco3, mgo) == pytest.approx(exact, abs=0.003 if exact < 9.5 else 0.02)


@pytest.mark.parametrize("pH", [3.0, 4.0, 5.5, 7.0, 8.3, 9.5, 10.5, 11.5, 12.0])
@pytest.mark.parametrize("carbon_mmol_l", [0.0, 0.01, 1.0, 10.0])
def test_pH_of_finds_the_root_of_the_alkalinity_from_pH_3_to_12(pH: float, carbon_mmol_l: float) -> None:
    # Rounded constants at 25 degC, no activities: the alkalinity is built here by hand.
    h = 10.0**-pH
    k1, k2, kw = 10.0**-6.352, 10.0**-10.329, 10.0**-13.995
    whole = h * h + k1 * h + k1 * k2
    alkalinity = carbon_mmol_l * (k1 * h + 2.0 * k1 * k2) / whole + 1e3 * (kw / h - h)

    assert ph_of(alkalinity, carbon_mmol_l, 25.0, 0.0) == pytest.approx(pH, abs=0.002)


def test_ionic_strength_is_half_the_sum_of_c_z_squared() -> None:
    salt = water(alkalinity_mg_l_caco3=0.0, calcium_mg_l=0.0, magnesium_mg_l=0.0, potassium_mg_l=0.0,
                 nitrate_mg_l_n=0.0, sodium_mg_l=2.0 * 22.990, chloride_mg_l=0.0, sulfate_mg_l=96.06)  # fmt: skip

    assert ionic_strength_mol_l(salt) == pytest.approx(3e-3, rel=1e-4)


def test_a_water_without_ions_is_solved() -> None:
    pure = Sample(
        pH=7.0, temperature_c=25.0, alkalinity_mg_l_caco3=0.0, calcium_mg_l=0.0, magnesium_mg_l=0.0, sodium_mg_l=0.0
    )

    assert speciate(pure).co2_mg_l == pytest.approx(0.0, abs=1e-3)
    assert speciate(pure).calcite_saturation_index < -5.0
    assert with_total_carbon(pure, 0.0).pH == pytest.approx(6.998, abs=0.002)


def test_alkalinity_below_that_of_hydroxide_finds_no_carbon() -> None:
    odd = water(pH=10.5, alkalinity_mg_l_caco3=1.0)

    assert speciate(odd).total_carbon_mmol_l == 0.0


@given(st.floats(0.0, 14.0), st.floats(0.0, 600.0), st.floats(0.0, 400.0), st.floats(0.0, 3.0))
def test_an_absurd_water_gives_finite_numbers(pH: float, alkalinity: float, calcium: float, dose: float) -> None:
    odd = water(pH=pH, alkalinity_mg_l_caco3=alkalinity, calcium_mg_l=calcium)
    numbers = (*msgspec.structs.astuple(speciate(odd)), aerated_ph(odd), dissolve(odd, dose, dose).pH)

    assert all(isfinite(number) for number in numbers)
