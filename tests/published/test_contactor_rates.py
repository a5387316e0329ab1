"""Rates of dissolution and the bed they act in, against printed constants and PHREEQC; the id is the source."""

from __future__ import annotations

from functools import cache

import pytest
from phreeqpython import PhreeqPython, Solution

from model.water import contactor, equilibrium
from model.water.carbonate import dissolve, speciate
from model.water.constants import constants_at
from model.water.contactor import Bed, approach_share, bed_doses, contact_minutes
from model.water.dissolution import (
    MAGNESIA_ROUGHNESS,
    brucite_saturation_index,
    calcite_rate_constants,
    calcite_rate_mmol_cm2_s,
    calcium_diffusion_cm2_s,
    film_cm_s,
    kinematic_viscosity_cm2_s,
    log_k_brucite,
    magnesia_rate_constants,
)
from model.water.neutralizing import brucite_limit_mmol_l
from model.water.sample import Sample
from tests.published.plain import plain

PWP = "Plummer, Wigley and Parkhurst 1978"
PK = "Palandri and Kharaka 2004, table 32"


@pytest.mark.parametrize(
    ("which", "expected"),
    [
        pytest.param(0, 0.051, id=f"{PWP}, 25 degC, from memory: k1 0.051 cm/s"),
        pytest.param(1, 3.45e-5, id=f"{PWP}, 25 degC, from memory: k2 3.45e-5 cm/s"),
        pytest.param(2, 1.19e-7, id=f"{PWP}, 25 degC, from memory: k3 1.19e-7 mmol/(cm2 s)"),
    ],
)
def test_calcite_rate_constants(which: int, expected: float) -> None:
    assert calcite_rate_constants(25.0)[which] == pytest.approx(expected, rel=0.01)


def test_the_two_water_terms_of_calcite_meet_at_25_degrees() -> None:
    assert calcite_rate_constants(25.001)[2] == pytest.approx(calcite_rate_constants(25.0)[2], rel=0.02)


@pytest.mark.parametrize(
    ("which", "log_k"),
    [
        pytest.param(0, -4.73, id=f"{PK}: brucite in acid, mol/(m2 s)"),
        pytest.param(1, -8.24, id=f"{PK}: brucite in neutral water, mol/(m2 s)"),
    ],
)
def test_magnesia_rate_constants(which: int, log_k: float) -> None:
    assert magnesia_rate_constants(25.0)[which] == pytest.approx(0.1 * 10.0**log_k, rel=1e-6)


@pytest.mark.parametrize(
    ("which", "kj_per_mol"),
    [pytest.param(0, 59.0, id=f"{PK}: energy in acid"), pytest.param(1, 42.0, id=f"{PK}: energy in neutral water")],
)
def test_magnesia_is_slower_in_the_cold(which: int, kj_per_mol: float) -> None:
    # exp(E / R (1/298.15 - 1/283.15)) by hand: 0.2834 for 59 kJ/mol, 0.4075 for 42.
    by_hand = {59.0: 0.2834, 42.0: 0.4075}[kj_per_mol]
    assert magnesia_rate_constants(10.0)[which] / magnesia_rate_constants(25.0)[which] == pytest.approx(
        by_hand, rel=2e-3
    )


@pytest.mark.parametrize(
    ("celsius", "cm2_s"),
    [(5, 0.01519), (10, 0.01307), (15, 0.01139), (20, 0.01004), (25, 0.00893)],
    ids=lambda value: f"viscosity of water, tables, from memory: {value}",
)
def test_viscosity(celsius: float, cm2_s: float) -> None:
    assert kinematic_viscosity_cm2_s(celsius) == pytest.approx(cm2_s, rel=0.025)


def test_transport_from_grains_by_hand() -> None:
    """0.2 cm/s past 1 mm grains at 25 degC: Re 2.24, j = 1.09/0.4 x 0.584 = 1.592, Sc 1126, k = 0.318/108.2 = 2.94e-3.

    Source of the equation: Wilson and Geankoplis 1966, from memory.
    """
    assert calcium_diffusion_cm2_s(25.0) == pytest.approx(7.93e-6)
    assert film_cm_s(0.2, 0.1, 0.4, 25.0) == pytest.approx(2.94e-3, rel=0.01)


def test_transport_is_faster_in_a_faster_flow_and_to_finer_grains() -> None:
    flows = [film_cm_s(v, 0.1, 0.4, 10.0) for v in (0.001, 0.01, 0.1, 1.0, 5.0, 8.0, 10.0)]

    assert flows == sorted(flows)
    assert film_cm_s(0.2, 0.05, 0.4, 10.0) > film_cm_s(0.2, 0.1, 0.4, 10.0)


@pytest.mark.parametrize(
    ("si_at", "sign"),
    [
        pytest.param(-0.5, 1, id=f"{PWP}: dissolves below saturation"),
        pytest.param(0.5, -1, id=f"{PWP}: grows above it"),
    ],
)
def test_sign_of_the_calcite_rate(si_at: float, sign: int) -> None:
    saturated = speciate(WATERS[0]).calcite_saturation_index
    sample = plain(**(_fields(WATERS[0]) | {"pH": WATERS[0].pH - saturated + si_at}))
    k = constants_at(sample.temperature_c)
    state = equilibrium.at_ph(k, equilibrium.totals_of(sample), sample.pH)
    assert calcite_rate_mmol_cm2_s(k, state, sample.temperature_c) * sign > 0.0


def _fields(sample: Sample) -> dict[str, float]:
    return {name: getattr(sample, name) for name in Sample.__struct_fields__ if name != "assumed"}


WATERS = (
    plain(pH=6.2, temperature_c=10.0, alkalinity_mg_l_caco3=30.0, calcium_mg_l=9.0, magnesium_mg_l=3.0, sodium_mg_l=8.0,
          chloride_mg_l=12.0, sulfate_mg_l=10.0),
    plain(pH=5.5, temperature_c=18.0, alkalinity_mg_l_caco3=8.0, calcium_mg_l=2.0, magnesium_mg_l=1.0, sodium_mg_l=5.0,
          chloride_mg_l=6.0),
    plain(pH=6.9, temperature_c=25.0, alkalinity_mg_l_caco3=120.0, calcium_mg_l=30.0, magnesium_mg_l=8.0,
          sodium_mg_l=10.0, chloride_mg_l=5.0),
)  # fmt: skip


@cache
def phreeqc() -> PhreeqPython:
    return PhreeqPython(database="phreeqc.dat")


def solution(sample: Sample) -> Solution:
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
        }
    )


def kinetics(start: Solution, rate: str, block: str, seconds: float) -> str:
    """PHREEQC's own integration of a rate in a closed bottle, saved over the solution it starts from."""
    return (
        f"{rate}\nUSE solution {start.number}\nKINETICS 1\n{block}\n-steps {seconds}\n-tol 1e-10\n-cvode true\n"
        f"SAVE solution {start.number}\nEND\n"
    )


@pytest.mark.parametrize("sample", WATERS, ids=lambda s: f"PHREEQC, {PWP}, phreeqc.dat: pH {s.pH}")
@pytest.mark.parametrize("minutes", [0.5, 3.0, 15.0])
def test_calcite_against_phreeqc_kinetics(sample: Sample, minutes: float) -> None:
    """A bed without film resistance is a bottle with the same grain area per litre for the same time."""
    porosity, grain_cm = 0.4, 0.1
    velocity = 0.1
    bed = bed_at(velocity, minutes, porosity, grain_cm)
    area_cm2_per_l = 1000.0 * 6.0 * (1.0 - porosity) / grain_cm / porosity
    theirs = solution(sample)
    before = theirs.total_element("Ca")
    phreeqc().ip.run_string(
        kinetics(theirs, "", f"Calcite\n-m0 10\n-parms {area_cm2_per_l / 10.0} 0", 60 * minutes * porosity)
    )
    ours = doses_without_film(sample, bed)[0]

    assert ours == pytest.approx(theirs.total_element("Ca") - before, rel=0.02, abs=0.002)
    assert dissolve(sample, ours, 0.0).pH == pytest.approx(theirs.pH, abs=0.03)


def bed_at(velocity: float, empty_minutes: float, porosity: float, grain_cm: float, magnesia: float = 0.0) -> Bed:
    area = 500.0
    return Bed(
        bed_cm=velocity * 60.0 * empty_minutes,
        tank_diameter_cm=(area * 4.0 / 3.141592653589793) ** 0.5,
        flow_l_min=velocity * 60.0 * area / 1000.0,
        grain_mm=10.0 * grain_cm,
        porosity=porosity,
        magnesia_share=magnesia,
    )


def doses_without_film(sample: Sample, bed: Bed) -> tuple[float, float]:
    """The doses [mmol/L] with transport made endless, so that the rate at the surface alone is left."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(contactor, "film_cm_s", lambda *_: 1e9)
        return bed_doses(sample, bed)


def test_transport_slows_the_bed_a_little() -> None:
    bed = bed_at(0.1, 3.0, 0.4, 0.1)
    free, held = doses_without_film(WATERS[0], bed)[0], bed_doses(WATERS[0], bed)[0]

    assert 0.8 * free < held < 0.995 * free


BRUCITE = """PHASES
Brucite
Mg(OH)2 + 2H+ = Mg+2 + 2H2O
log_k 16.84
delta_h -27.1 kcal
RATES
Magnesia
-start
10 t = 1/TK - 1/298.15
20 r = 10^(-4.73) * EXP(-59/8.314462618e-3*t) * ACT("H+")^0.5 + 10^(-8.24) * EXP(-42/8.314462618e-3*t)
30 SAVE PARM(1) * r * (1 - SR("Brucite")) * TIME
-end
"""


@pytest.mark.parametrize("sample", WATERS, ids=lambda s: f"PHREEQC, {PK}: pH {s.pH}")
@pytest.mark.parametrize("minutes", [1.0, 10.0, 60.0])
def test_magnesia_against_phreeqc_kinetics(sample: Sample, minutes: float) -> None:
    porosity, grain_cm, velocity = 0.4, 0.1, 0.1
    bed = bed_at(velocity, minutes, porosity, grain_cm, magnesia=1.0)
    area_m2_per_l = 0.1 * 6.0 * (1.0 - porosity) / grain_cm / porosity * MAGNESIA_ROUGHNESS
    theirs = solution(sample)
    before = theirs.total_element("Mg")
    phreeqc().ip.run_string(
        kinetics(theirs, BRUCITE, f"Magnesia\n-formula MgO\n-m0 10\n-parms {area_m2_per_l}", 60 * minutes * porosity)
    )
    ours = doses_without_film(sample, bed)[1]

    assert ours == pytest.approx(theirs.total_element("Mg") - before, rel=0.03, abs=0.003)
    assert dissolve(sample, 0.0, ours).pH == pytest.approx(theirs.pH, abs=0.06)


@pytest.mark.parametrize(
    ("celsius", "log_k"),
    [
        pytest.param(25.0, 16.84, id="wateq4f.dat: brucite, 25 degC"),
        pytest.param(10.0, 17.89, id="wateq4f.dat: enthalpy"),
    ],
)
def test_brucite_constant(celsius: float, log_k: float) -> None:
    assert log_k_brucite(celsius) == pytest.approx(log_k, abs=0.01)


@pytest.mark.parametrize("mgo_mmol_l", [0.3, 0.9])
def test_brucite_saturation_by_phreeqc(mgo_mmol_l: float) -> None:
    phreeqc().ip.run_string(BRUCITE)
    dosed = dissolve(WATERS[0], 0.0, mgo_mmol_l)
    theirs = solution(WATERS[0]).change({"MgO": mgo_mmol_l})
    totals = equilibrium.totals_of(dosed)
    state = equilibrium.at_ph(constants_at(10.0), totals, dosed.pH)

    assert brucite_saturation_index(totals, state, 10.0) == pytest.approx(theirs.si("Brucite"), abs=0.05)


@pytest.mark.parametrize("sample", WATERS, ids=lambda s: f"PHREEQC, wateq4f.dat's brucite: pH {s.pH}")
def test_brucite_limit_by_phreeqc(sample: Sample) -> None:
    phreeqc().ip.run_string(BRUCITE)
    theirs = solution(sample)
    before = theirs.total_element("Mg")
    theirs.equalize(["Brucite"], [0.0], [10.0])
    limit = brucite_limit_mmol_l(sample)

    assert limit == pytest.approx(theirs.total_element("Mg") - before, rel=0.03)
    assert dissolve(sample, 0.0, limit).pH == pytest.approx(theirs.pH, abs=0.05)


def test_contact_time_by_hand() -> None:
    """38.0 L of bed at 8 L/min: 4.75 min. Geometry."""
    assert contact_minutes(Bed(bed_cm=75.0, tank_diameter_cm=25.4, flow_l_min=8.0)) == pytest.approx(4.75, abs=0.01)


def test_a_bed_sized_by_the_usual_contact_time_comes_near_its_limit() -> None:
    """20 to 40 minutes in the empty bed: from memory; owner's default."""
    slow = Bed(bed_cm=75.0, tank_diameter_cm=25.4, flow_l_min=38.0 / 20.0)

    assert approach_share(WATERS[0], slow) > 0.95
