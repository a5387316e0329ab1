"""The carbonate chemistry of one water: what is dissolved, and its pH after dosing, mixing or standing in air.

pH is never mixed or averaged: alkalinity and total carbon are, and the pH is then solved.
"""

from __future__ import annotations

from math import log10

import msgspec

from model.water import equilibrium
from model.water.constants import (
    CACO3_MG_PER_MEQ,
    CALCIUM_G_PER_MOL,
    CO2_G_PER_MOL,
    MAGNESIUM_G_PER_MOL,
    activity_coefficient,
    constants_at,
)
from model.water.equilibrium import State, Totals
from model.water.sample import Sample

AIR_CO2_PPM = 420.0


class Carbonate(msgspec.Struct, frozen=True, kw_only=True):
    """Carbonate species of one water.

    `co2_mg_l` is free CO2, `bicarbonate_mmol_l` and `carbonate_mmol_l` the free ions, `total_carbon_mmol_l` all
    inorganic carbon with ion pairs, `ionic_strength` in [mol/L]. A `calcite_saturation_index` below 0 dissolves
    calcite, above 0 forms scale.
    """

    pH: float
    co2_mg_l: float
    bicarbonate_mmol_l: float
    carbonate_mmol_l: float
    total_carbon_mmol_l: float
    ionic_strength: float
    calcite_saturation_index: float


def ionic_strength_mol_l(sample: Sample) -> float:
    """Ionic strength [mol/L] of `sample` with all alkalinity as bicarbonate, before ion pairs: I = 1/2 sum(c z^2).

    A few percent above `Carbonate.ionic_strength`, which leaves out what is paired.
    Source: Stumm and Morgan 1996, Aquatic Chemistry (from memory).
    """
    return equilibrium.strength_of(equilibrium.totals_of(sample))


def speciate(sample: Sample) -> Carbonate:
    """Carbonate species from pH, alkalinity, temperature and ions.

    Alkalinity = HCO3 + 2 CO3 + pairs + OH - H; CO2 = H HCO3 / K1. Range: pH 4-9.5, 0-50 degC, ionic strength to
    0.05 mol/L. Where the alkalinity is less than what OH- alone makes up, no carbon is found.
    Source: constants of Plummer and Busenberg 1982; Mg and SO4 pairs and ion sizes of phreeqc.dat (USGS).
    """
    state = _state(sample)
    return Carbonate(
        pH=sample.pH,
        co2_mg_l=state.co2 * CO2_G_PER_MOL * 1e3,
        bicarbonate_mmol_l=state.bicarbonate * 1e3,
        carbonate_mmol_l=state.carbonate * 1e3,
        total_carbon_mmol_l=state.total_carbon * 1e3,
        ionic_strength=state.ionic_strength,
        calcite_saturation_index=equilibrium.saturation_index(constants_at(sample.temperature_c), state),
    )


def ph_of(
    alkalinity_meq_l: float, total_carbon_mmol_l: float, temperature_c: float, ionic_strength: float = 0.0
) -> float:
    """pH from alkalinity [meq/L], total carbon [mmol/L], temperature [degC] and ionic strength [mol/L], no ion pairs.

    Alkalinity = C (b + 2 d/h) / (a h + b + d/h) + Kw/h - h, which falls all the way as h = 10^-pH rises: one root,
    found by Newton steps kept inside a shrinking bracket, pH -1 to 15.
    Source: constants of Plummer and Busenberg 1982, Kw of phreeqc.dat.
    """
    k = constants_at(temperature_c)

    def gamma(charge: int, size: float) -> float:
        return activity_coefficient(ionic_strength, charge, size, 0.0, temperature_c)

    weights = (
        10.0 ** (-0.1 * ionic_strength) / k.k1,
        1.0 / gamma(1, 5.4),
        k.k2 / gamma(2, 5.4),
        k.kw / gamma(1, 3.5),
        1.0 / gamma(1, 9.0),
    )
    h = equilibrium.hydrogen_of(alkalinity_meq_l * 1e-3, total_carbon_mmol_l * 1e-3, weights, 1e-7, 1e-12)
    return -log10(h)


def with_total_carbon(sample: Sample, total_carbon_mmol_l: float) -> Sample:
    """`sample` with the pH that its alkalinity and `total_carbon_mmol_l` [mmol/L] give."""
    k = constants_at(sample.temperature_c)
    state = equilibrium.at_carbon(k, equilibrium.totals_of(sample), total_carbon_mmol_l * 1e-3)
    return msgspec.structs.replace(sample, pH=state.pH)


def dissolve(sample: Sample, caco3_mmol_l: float, mgo_mmol_l: float) -> Sample:
    """`sample` after dissolving calcite and magnesia [mmol/L], no gas lost and nothing precipitating.

    CaCO3 + CO2 + H2O = Ca++ + 2 HCO3-; MgO + 2 CO2 + H2O = Mg++ + 2 HCO3-. Alkalinity rises by 2 meq per mmol of
    either, total carbon by 1 mmol per mmol of CaCO3. Range: results up to about pH 9.5.
    Source: reactions, Hasson and Bendrihem (Technion) for calcite; that for magnesia common practice, no source.
    """
    if caco3_mmol_l == 0.0 and mgo_mmol_l == 0.0:
        return sample
    state = _dosed_state(sample, caco3_mmol_l, mgo_mmol_l, equilibrium.EXACT)
    return dosed_ions(sample, caco3_mmol_l, mgo_mmol_l, state.pH)


def ph_after_dose(sample: Sample, caco3_mmol_l: float, mgo_mmol_l: float) -> float:
    """The pH of `dissolve` to about 0.003, in a third of the time: for curves and searches. Doses in [mmol/L]."""
    return _dosed_state(sample, caco3_mmol_l, mgo_mmol_l, equilibrium.QUICK).pH


def dosed_ions(sample: Sample, caco3_mmol_l: float, mgo_mmol_l: float, pH: float) -> Sample:
    """`sample` with the calcium, magnesium and alkalinity of dissolved CaCO3 and MgO [mmol/L], and the pH given."""
    return msgspec.structs.replace(
        sample,
        pH=pH,
        alkalinity_mg_l_caco3=sample.alkalinity_mg_l_caco3 + 2.0 * (caco3_mmol_l + mgo_mmol_l) * CACO3_MG_PER_MEQ,
        calcium_mg_l=sample.calcium_mg_l + caco3_mmol_l * CALCIUM_G_PER_MOL,
        magnesium_mg_l=sample.magnesium_mg_l + mgo_mmol_l * MAGNESIUM_G_PER_MOL,
    )


def dosed_totals(totals: Totals, caco3_mol_l: float, mgo_mol_l: float) -> Totals:
    """`totals` with dissolved CaCO3 and MgO [mol/L]."""
    return Totals(
        totals.calcium + caco3_mol_l,
        totals.magnesium + mgo_mol_l,
        totals.sulfate,
        totals.other_strength,
        totals.alkalinity + 2.0 * (caco3_mol_l + mgo_mol_l),
    )


def mix(a: Sample, b: Sample, share_b: float) -> Sample:
    """`a` and `b` mixed, `share_b` 0-1 of the volume being `b`.

    Ions, alkalinity, total carbon and temperature mix in proportion; then the pH is solved.
    Source: conservation of mass and of alkalinity, Stumm and Morgan 1996, Aquatic Chemistry (from memory).
    """
    share_a = 1.0 - share_b
    carbon = share_a * _state(a).total_carbon + share_b * _state(b).total_carbon
    fields = {
        name: share_a * getattr(a, name) + share_b * getattr(b, name)
        for name in Sample.__struct_fields__
        if name != "assumed"
    }
    assumed = a.assumed + tuple(name for name in b.assumed if name not in a.assumed)
    return with_total_carbon(Sample(**fields, assumed=assumed), carbon * 1e3)


def aerated_ph(sample: Sample, co2_ppm: float = AIR_CO2_PPM) -> float:
    """pH of `sample` in equilibrium with air of `co2_ppm` [ppm by volume, at 1 atm] at its own temperature.

    CO2(aq) = KH x ppm / 1e6; alkalinity stays; nothing precipitates. Range: 0-50 degC.
    Source: KH of Plummer and Busenberg 1982.
    """
    k = constants_at(sample.temperature_c)
    return equilibrium.at_gas(k, equilibrium.totals_of(sample), k.kh * co2_ppm * 1e-6).pH


def with_alkalinity(sample: Sample, new_alkalinity_mg_l_caco3: float, co2_mg_l: float | None = None) -> Sample:
    """`sample` with another alkalinity [mg/L as CaCO3] and its dissolved CO2 kept: what an RO membrane does.

    Change the ions first or last as it suits, but give `co2_mg_l` [mg/L] of the feed where `sample` already has the
    ions of the permeate; without it the CO2 is that of `sample`.
    Source: CO2 the same in feed and permeate, common practice, no source.
    """
    k = constants_at(sample.temperature_c)
    co2 = _state(sample).co2 if co2_mg_l is None else co2_mg_l / CO2_G_PER_MOL * 1e-3
    changed = msgspec.structs.replace(sample, alkalinity_mg_l_caco3=new_alkalinity_mg_l_caco3)
    return msgspec.structs.replace(changed, pH=equilibrium.at_co2(k, equilibrium.totals_of(changed), co2).pH)


def _state(sample: Sample) -> State:
    return equilibrium.at_ph(constants_at(sample.temperature_c), equilibrium.totals_of(sample), sample.pH)


def _dosed_state(sample: Sample, caco3_mmol_l: float, mgo_mmol_l: float, tolerance: float) -> State:
    k, totals = constants_at(sample.temperature_c), equilibrium.totals_of(sample)
    raw = equilibrium.at_ph(k, totals, sample.pH, tolerance)
    dosed = dosed_totals(totals, caco3_mmol_l * 1e-3, mgo_mmol_l * 1e-3)
    return equilibrium.at_carbon(k, dosed, raw.total_carbon + caco3_mmol_l * 1e-3, raw, tolerance)
