"""The carbonate chemistry against the USGS program PHREEQC with its database phreeqc.dat, over a spread of waters."""

from __future__ import annotations

from functools import cache
from math import log10
from random import Random

import msgspec
import pytest
from phreeqpython import PhreeqPython, Solution

from model.water.carbonate import aerated_ph, dissolve, mix, ph_after_dose, speciate
from model.water.media import calcite_limit_mmol_l
from model.water.sample import Sample


class Case(msgspec.Struct, frozen=True):
    """A water, and a dose of each medium [mmol/L]."""

    sample: Sample
    caco3_mmol_l: float
    mgo_mmol_l: float


def spread(count: int) -> list[Case]:
    """Waters of 3-25 degC, pH 5-8.5, alkalinity 5-250 mg/L and ionic strength up to 0.02, in charge balance."""
    draw = Random(20240).uniform
    cases: list[Case] = []
    while len(cases) < count:
        alkalinity = 5.0 * 50.0 ** draw(0.0, 1.0)
        chloride, sulfate, nitrate = (2.0 * draw(0.0, 1.0) ** 3 * most for most in (5.0, 2.0, 1.0))
        meq = alkalinity / 50.0435 + chloride + sulfate + nitrate
        calcium, magnesium = meq * draw(0.05, 0.6), meq * draw(0.05, 0.35)
        sample = Sample(
            pH=draw(5.0, 8.5),
            temperature_c=draw(3.0, 25.0),
            alkalinity_mg_l_caco3=alkalinity,
            calcium_mg_l=calcium * 20.039,
            magnesium_mg_l=magnesium * 12.1525,
            sodium_mg_l=(meq - calcium - magnesium) * 22.990,
            chloride_mg_l=chloride * 35.45,
            sulfate_mg_l=sulfate * 48.028,
            nitrate_mg_l_n=nitrate * 14.007,
        )
        dose = draw(0.0, 0.8)
        share = draw(0.0, 1.0)
        case = Case(sample, dose * share, dose * (1.0 - share) * 0.5)
        if speciate(sample).ionic_strength <= 0.02 and dissolve(sample, case.caco3_mmol_l, case.mgo_mmol_l).pH < 9.5:
            cases.append(case)
    return cases


CASES = spread(200)


@cache
def phreeqc() -> PhreeqPython:
    return PhreeqPython(database="phreeqc.dat")


def solution(sample: Sample) -> Solution:
    """`sample` as PHREEQC takes it."""
    return phreeqc().add_solution(
        {
            "units": "mg/l",
            "temp": sample.temperature_c,
            "pH": sample.pH,
            "Alkalinity": f"{sample.alkalinity_mg_l_caco3} as CaCO3",
            "Ca": sample.calcium_mg_l,
            "Mg": sample.magnesium_mg_l,
            "Na": sample.sodium_mg_l,
            "Cl": sample.chloride_mg_l,
            "S(6)": f"{sample.sulfate_mg_l} as SO4",
            "N(5)": f"{sample.nitrate_mg_l_n} as N",
        }
    )


def dosed(case: Case) -> Solution:
    """The water of `case` after its dose, in PHREEQC."""
    return solution(case.sample).change({"CaCO3": case.caco3_mmol_l, "MgO": case.mgo_mmol_l})


def test_the_spread_covers_what_households_have() -> None:
    strengths = [speciate(case.sample).ionic_strength for case in CASES]

    assert min(strengths) < 0.001
    assert 0.015 < max(strengths) <= 0.02


def test_pH_after_a_dose() -> None:
    for case in CASES:
        expected = dosed(case).pH
        after = dissolve(case.sample, case.caco3_mmol_l, case.mgo_mmol_l)
        assert after.pH == pytest.approx(expected, abs=0.015), case
        assert ph_after_dose(case.sample, case.caco3_mmol_l, case.mgo_mmol_l) == pytest.approx(expected, abs=0.015), (
            case
        )


def test_species() -> None:
    for case in CASES:
        expected, found = solution(case.sample), speciate(case.sample)
        assert found.co2_mg_l == pytest.approx(expected.molality("CO2") * 44.009, rel=0.01), case
        assert found.total_carbon_mmol_l == pytest.approx(expected.total_element("C"), rel=0.01), case
        assert found.ionic_strength == pytest.approx(expected.I, rel=0.01), case
        assert found.calcite_saturation_index == pytest.approx(expected.si("Calcite"), abs=0.01), case


def test_saturation_index_after_a_dose() -> None:
    for case in CASES:
        after = speciate(dissolve(case.sample, case.caco3_mmol_l, case.mgo_mmol_l))
        assert after.calcite_saturation_index == pytest.approx(dosed(case).si("Calcite"), abs=0.02), case


def test_calcite_limit() -> None:
    for case in CASES[:60]:
        water = solution(case.sample)
        if water.si("Calcite") < -0.05:
            before = water.total_element("Ca")
            water.equalize(["Calcite"], [0.0], [10.0])
            expected = water.total_element("Ca") - before
            assert calcite_limit_mmol_l(case.sample) == pytest.approx(expected, rel=0.01, abs=0.005), case


def test_pH_in_air() -> None:
    for case in CASES[:60]:
        water = solution(case.sample).equalize(["CO2(g)"], [log10(420e-6)], [10.0])
        assert aerated_ph(case.sample) == pytest.approx(water.pH, abs=0.01), case


def test_pH_of_a_mixture() -> None:
    for a, b in zip(CASES[:60], CASES[60:120], strict=True):
        expected = phreeqc().mix_solutions({solution(a.sample): 0.4, solution(b.sample): 0.6}).pH
        assert mix(a.sample, b.sample, 0.6).pH == pytest.approx(expected, abs=0.01), (a, b)
