"""How far a bed of calcite and magnesia brings the water in the time it has: the limestone-contactor relation.

Calcium closes on its limit as d(Ca)/dz = K a (Ca_limit - Ca) / v, with 1/K = 1/k + 1/film: release at the surface and
transport from it act one after the other. Source of the relation: Letterman, Hadad and Driscoll 1991, "Limestone
contactors: steady-state design relationships", J. Environ. Eng. 117(3), and Letterman and others 1986,
EPA/600/2-86/099. There large stones below pH 9.5 were held back by transport alone; household grains of about 1 mm are
not, so the release is that of Plummer, Wigley and Parkhurst 1978, which changes along the bed. Hasson and Bendrihem
(Technion) found no published rate to fit their columns well, and that one the closest: a measured pH after the tank
should set `rate_factor`.
"""

from __future__ import annotations

from math import expm1, pi

import msgspec

from model.errors import BadInput
from model.water import equilibrium
from model.water.carbonate import dosed_totals
from model.water.constants import Constants, constants_at
from model.water.dissolution import (
    HIGHEST_REYNOLDS,
    LOWEST_REYNOLDS,
    MAGNESIA_ROUGHNESS,
    calcite_rate_mmol_cm2_s,
    film_cm_s,
    magnesia_rate_mmol_cm2_s,
    reynolds,
)
from model.water.equilibrium import State, Totals
from model.water.media import calcite_limit_mmol_l
from model.water.sample import Sample

STEPS = 16
"""Slices of the bed, each 1.15 times the one before."""

_GROWTH = 1.15
_TOLERANCE = 1e-7
_NUDGE_MOL_L = 2e-6
_COLD_C, _WARM_C = 5.0, 60.0


class Bed(msgspec.Struct, frozen=True, kw_only=True):
    """A bed in service.

    `bed_cm` depth and `tank_diameter_cm` [cm]; `flow_l_min` what the house draws [L/min]; `bypass_share` of it that
    goes round the bed, 0-1; `grain_mm` [mm]; `porosity` of the bed, 0-1; `magnesia_share` by mass, 0-1; bulk densities
    [kg/L]; `rate_factor` what calibration makes of the published rates (1: as published).
    """

    bed_cm: float
    tank_diameter_cm: float
    flow_l_min: float
    bypass_share: float = 0.0
    grain_mm: float = 1.0
    porosity: float = 0.45
    magnesia_share: float = 0.0
    calcite_kg_per_l: float = 1.44
    magnesia_kg_per_l: float = 1.2
    rate_factor: float = 1.0

    def __post_init__(self) -> None:
        for name in ("tank_diameter_cm", "flow_l_min", "grain_mm", "calcite_kg_per_l", "magnesia_kg_per_l"):
            _refuse_unless(0.0 < getattr(self, name) < 1e6, self, name, "above 0")
        _refuse_unless(0.0 < self.rate_factor < 1e6, self, "rate_factor", "above 0")
        _refuse_unless(0.0 <= self.bed_cm < 1e6, self, "bed_cm", "0 or more")
        _refuse_unless(0.0 < self.porosity < 1.0, self, "porosity", "between 0 and 1")
        for name in ("bypass_share", "magnesia_share"):
            _refuse_unless(0.0 <= getattr(self, name) <= 1.0, self, name, "from 0 to 1")

    @property
    def area_cm2(self) -> float:
        """Cross-section of the tank [cm2]."""
        return pi * self.tank_diameter_cm**2 / 4.0

    @property
    def velocity_cm_s(self) -> float:
        """Velocity of the water that passes the bed, through the empty tank [cm/s]."""
        return self.flow_l_min * (1.0 - self.bypass_share) * 1000.0 / 60.0 / self.area_cm2

    @property
    def magnesia_volume_share(self) -> float:
        """Share of the bed's volume that is magnesia, 0-1."""
        magnesia = self.magnesia_share / self.magnesia_kg_per_l
        return magnesia / (magnesia + (1.0 - self.magnesia_share) / self.calcite_kg_per_l)

    @property
    def grain_area_per_cm(self) -> float:
        """Surface of the grains, as smooth balls [cm2 per cm3 of bed]: 6 (1 - porosity) / diameter, times the factor.

        Source: geometry; crushed grains have more, and the factor takes that up.
        """
        return self.rate_factor * 6.0 * (1.0 - self.porosity) / (0.1 * self.grain_mm)


def contact_minutes(bed: Bed) -> float:
    """Empty-bed contact time of the water that passes the bed [min]; infinite where none does. Source: definition."""
    return bed.bed_cm / bed.velocity_cm_s / 60.0 if bed.velocity_cm_s > 0.0 else float("inf")


def bed_doses(raw: Sample, bed: Bed) -> tuple[float, float]:
    """CaCO3 and MgO [mmol/L] that the water passing `bed` dissolves on its way from the top to the bottom.

    In each slice calcite, then magnesia, closes on the limit that the water then has, by the exact exponential of the
    slope of its rate; one slice is weighed against two halves of it (Richardson). Neither goes back out of solution.
    Range: see `outside_range`. Source: the module's.
    """
    if bed.bed_cm == 0.0 or bed.velocity_cm_s == 0.0:
        return 0.0, 0.0
    column = _column(raw, bed)
    first = bed.bed_cm * (_GROWTH - 1.0) / (_GROWTH**STEPS - 1.0)
    at = (0.0, 0.0)
    for number in range(STEPS):
        at = _slice(column, at, first * _GROWTH**number)
    if bed.magnesia_share == 0.0 and _water(column, *at)[1].calcite_product > column.k.calcite:
        return calcite_limit_mmol_l(raw), 0.0
    return at[0] * 1e3, at[1] * 1e3


def approach_share(raw: Sample, bed: Bed) -> float:
    """How far calcite alone gets of the way to its limit in `bed`, 0-1; 1 where `raw` is already there.

    1 - (Ca_limit - Ca) / (Ca_limit - Ca_raw). Source: Letterman, Hadad and Driscoll 1991.
    """
    limit = calcite_limit_mmol_l(raw)
    alone = msgspec.structs.replace(bed, magnesia_share=0.0)
    return min(bed_doses(raw, alone)[0] / limit, 1.0) if limit > 0.0 else 1.0


def outside_range(raw: Sample, bed: Bed) -> tuple[str, ...]:
    """In words, where `raw` and `bed` leave the range of the sources; empty where they do not.

    Temperature 5 to 60 degC (the calcite rate), Reynolds number 0.0016 to 1500 (transport from the grains).
    """
    found = []
    if not _COLD_C <= raw.temperature_c <= _WARM_C:
        found.append(
            f"The rate of calcite was measured from 5 to 60 °C; at {raw.temperature_c:.0f} °C it is carried on."
        )
    if bed.velocity_cm_s > 0.0:
        number = reynolds(bed.velocity_cm_s, 0.1 * bed.grain_mm, raw.temperature_c)
        if not LOWEST_REYNOLDS <= number <= HIGHEST_REYNOLDS:
            found.append(
                f"This flow is outside what transport from grains was measured at (Reynolds number {number:.2g})."
            )
    if bed.magnesia_share > 0.0:
        found.append(
            "How fast magnesia dissolves is in doubt by ten times either way until a pH after the tank is read."
        )
    return tuple(found)


class _Column(msgspec.Struct, gc=False):
    """What does not change along the bed: the raw water, and per medium its area over velocity [s/cm2]."""

    k: Constants
    totals: Totals
    raw: State
    temperature_c: float
    film: float
    calcite_s_per_cm2: float
    magnesia_s_per_cm2: float


def _column(raw: Sample, bed: Bed) -> _Column:
    k, totals = constants_at(raw.temperature_c), equilibrium.totals_of(raw)
    velocity, magnesia = bed.velocity_cm_s, bed.magnesia_volume_share
    film = film_cm_s(velocity, 0.1 * bed.grain_mm, bed.porosity, raw.temperature_c)
    per_cm = bed.grain_area_per_cm / velocity
    state = equilibrium.at_ph(k, totals, raw.pH)
    return _Column(k, totals, state, raw.temperature_c, film, per_cm * (1.0 - magnesia), per_cm * magnesia)


def _slice(column: _Column, at: tuple[float, float], cm: float) -> tuple[float, float]:
    """The doses [mol/L] after a slice of `cm`, entered with the doses `at`."""
    calcite = _calcite_flux(column, *at)
    whole, half = _step(column, at, cm, calcite), _step(column, at, 0.5 * cm, calcite)
    halves = _step(column, half, 0.5 * cm, _calcite_flux(column, *half))
    return max(2.0 * halves[0] - whole[0], at[0]), max(2.0 * halves[1] - whole[1], at[1])


def _step(column: _Column, at: tuple[float, float], cm: float, calcite: tuple[float, float]) -> tuple[float, float]:
    caco3, mgo = at
    caco3 += _gain(*calcite, column.calcite_s_per_cm2 * cm)
    if column.magnesia_s_per_cm2 > 0.0:
        flux, slope = _magnesia_flux(column, caco3, mgo)
        mgo += _gain(flux, slope, column.magnesia_s_per_cm2 * cm)
    return caco3, mgo


def _gain(flux: float, slope: float, stretch: float) -> float:
    """Dose [mol/L] over `stretch` [s/cm] of a flux that falls by `slope` [cm/s] per dose: flux (1 - e^(-st)) / s."""
    if flux <= 0.0:
        return 0.0
    return flux * stretch if slope * stretch < 1e-9 else flux * -expm1(-slope * stretch) / slope


def _calcite_flux(column: _Column, caco3: float, mgo: float) -> tuple[float, float]:
    """Flux off calcite [mmol/(cm2 s)] through surface and film, its fall with the dose [cm/s]; 0 without calcite."""
    if column.calcite_s_per_cm2 == 0.0:
        return 0.0, 0.0
    k, t = column.k, column.temperature_c
    rate = calcite_rate_mmol_cm2_s(k, _water(column, caco3, mgo)[1], t)
    next_rate = calcite_rate_mmol_cm2_s(k, _water(column, caco3 + _NUDGE_MOL_L, mgo)[1], t)
    return _through_film(column.film, rate, next_rate)


def _magnesia_flux(column: _Column, caco3: float, mgo: float) -> tuple[float, float]:
    """The same off magnesia, per smooth area."""
    t = column.temperature_c
    rates = [magnesia_rate_mmol_cm2_s(*_water(column, caco3, mgo + nudge), t) for nudge in (0.0, _NUDGE_MOL_L)]
    return _through_film(column.film, MAGNESIA_ROUGHNESS * rates[0], MAGNESIA_ROUGHNESS * rates[1])


def _through_film(film: float, rate: float, next_rate: float) -> tuple[float, float]:
    """Rate and slope when release and transport act one after the other: both over 1 + slope / film."""
    slope = max((rate - next_rate) / _NUDGE_MOL_L, 0.0)
    return rate / (1.0 + slope / film), slope / (1.0 + slope / film)


def _water(column: _Column, caco3: float, mgo: float) -> tuple[Totals, State]:
    totals = dosed_totals(column.totals, caco3, mgo)
    carbon = column.raw.total_carbon + caco3
    return totals, equilibrium.at_carbon(column.k, totals, carbon, column.raw, _TOLERANCE)


def _refuse_unless(good: bool, bed: Bed, name: str, must: str) -> None:
    if not good:
        raise BadInput(
            f"{name} of the bed is {getattr(bed, name):g}; it must be {must}.", "Check the number and its unit."
        )
