"""An ion-exchange column with film and bead diffusion, solved cell by cell along the bed."""

from __future__ import annotations

from collections.abc import Sequence
from math import expm1, sqrt

import msgspec

from model.water.exchange.curve import Curve

_BETAS = (4.493409457909064, 7.725251836937707, 10.904121659428899, 14.066193912831473)
"""The first roots of tan(beta) = beta: how a sphere evens out inside while nothing crosses its surface."""
_AT_REST = 0.1 - sum(1.0 / beta**2 for beta in _BETAS)
"""What the further modes hold: all 1/beta^2 sum to 1/10."""

_MOST_TRIES = 60
_SOLVED = 1e-10

Row = tuple[float, ...]
Floats = list[float]


class Bed(msgspec.Struct, frozen=True):
    """A column in dimensionless numbers.

    `feed`, `resin`: equivalent fractions of the feed, and on the resin at the start. `factors`: separation factors;
    for an ion whose place in `valences` is 2, selectivity coefficient x capacity of the bead over total
    concentration. `load_bv`: capacity over total concentration [bed volumes]. `film_units`: film coefficient x bead
    surface x empty-bed contact time. `bead_rate`: surface diffusion x empty-bed contact time over radius squared,
    the diffusion time that passes in one bed volume. `porosity`: water per volume of bed.
    """

    feed: Row
    resin: Row
    factors: Row
    valences: tuple[int, ...]
    load_bv: float
    film_units: float
    bead_rate: float
    porosity: float

    @property
    def transfer_units(self) -> float:
        """Film and bead in series: 1 / (1/film + 1/bead), the bead at its long-time 15 Ds/r^2."""
        return 1.0 / (1.0 / self.film_units + 1.0 / (15.0 * self.bead_rate * self.load_bv))


class _Step(msgspec.Struct, frozen=True):
    """What one cell needs for one step: factors, valences, and weights of the flux (in units of a cell's drop)."""

    factors: Row
    valences: tuple[int, ...]
    film: float  # resistance of the film, flux weighted along the cell
    gain: float  # mean loading gained by a unit of flux in a step
    rest: float  # surface loading above the mean held at once by a unit of flux
    ahead: float  # weight of the step's end
    kept: Row  # share of each mode kept over a step
    fed: Row  # each mode's gain by a unit of flux in a step


def column(bed: Bed, end_bv: float, cells: int, steps: int) -> Curve:
    """What leaves the bed up to `end_bv`, by `cells` along the bed and `steps` of equal length.

    Film: flux = k (c - c*), c* in equilibrium with the surface of the bead (constant factors, or coefficients for
    divalent ions) at the total concentration of the feed. Bead: homogeneous diffusion with one coefficient, as the
    mean loading plus the sphere's own modes, of which the first four move and the rest are at rest. Along the bed
    and in time the flux is weighted so that a column that relaxes exponentially is met exactly. Time runs from the
    passing of the water front, so that the pore water needs no balance of its own.
    Source: film and homogeneous surface diffusion as in the US EPA's open Water_Treatment_Models; modes of a sphere
    from Crank, The Mathematics of Diffusion, 1975 (from memory).
    """
    length = end_bv / steps
    step = _step_of(bed, length, cells)
    at_start = _in_equilibrium(bed)
    flow: list[Row] = [bed.feed] * (steps + 1)
    for _ in range(cells):
        flow = _passed(step, bed.resin, at_start, flow)
    return Curve(tuple(bed.porosity + length * k for k in range(steps + 1)), tuple(flow))


def far_weight(units: float) -> float:
    """Weight of the far end of an interval of `units` relaxation lengths that makes exponential decay exact.

    1/(1 - exp(-n)) - 1/n: a half for short intervals, one for long. Source: exponential fitting (from memory).
    """
    return 0.5 + units / 12.0 if units < 1e-3 else -1.0 / expm1(-units) - 1.0 / units


def _step_of(bed: Bed, length_bv: float, cells: int) -> _Step:
    drop = cells / bed.load_bv
    units = bed.film_units / cells
    rates = tuple(beta**2 * bed.bead_rate for beta in _BETAS)
    return _Step(
        factors=bed.factors,
        valences=bed.valences,
        film=1.0 / units + far_weight(units),
        gain=length_bv * drop,
        rest=drop * 2.0 / 3.0 * _AT_REST / bed.bead_rate,
        ahead=far_weight(bed.transfer_units / bed.load_bv * length_bv),
        kept=tuple(1.0 + expm1(-rate * length_bv) for rate in rates),
        fed=tuple(-expm1(-rate * length_bv) / rate * drop * 2.0 / 3.0 for rate in rates),
    )


def _in_equilibrium(bed: Bed) -> Row:
    """Fractions in water that stands in equilibrium with the resin at the start."""
    held = list(zip(bed.resin, bed.factors, bed.valences, strict=True))
    square = sum(y / factor for y, factor, valence in held if valence == 2)
    linear = sum(y / factor for y, factor, valence in held if valence == 1)
    free = 2.0 / (linear + sqrt(linear * linear + 4.0 * square))
    return tuple(y * (free * free if valence == 2 else free) / factor for y, factor, valence in held)


def _passed(step: _Step, resin: Row, at_start: Row, inflow: Sequence[Row]) -> list[Row]:
    """What leaves one cell, step by step, when `inflow` enters it."""
    still = next((t for t, row in enumerate(inflow) if _differ(row, at_start)), len(inflow))
    out: list[Row] = [at_start] * still
    if still == len(inflow):
        return out
    mean = list(resin)
    a = b = c = d = [0.0] * len(resin)
    k1, k2, k3, k4 = step.kept
    f1, f2, f3, f4 = step.fed
    gain, whole = step.gain, step.gain + f1 + f2 + f3 + f4
    free, flux = _flux(step, inflow[still], mean, step.rest, 1.0)
    out.append(tuple([x - f for x, f in zip(inflow[still], flux, strict=True)]))
    for row in inflow[still + 1 :]:
        old, ahead = flux, step.ahead
        kept = [y + k1 * p + k2 * q + k3 * r + k4 * s for y, p, q, r, s in zip(mean, a, b, c, d, strict=True)]
        base = [y + (1.0 - ahead) * whole * f for y, f in zip(kept, old, strict=True)]
        if min(base) < 0.0:  # too long a step for the old flux to count: the new one alone
            ahead, base = 1.0, kept
        free, flux = _flux(step, row, base, ahead * whole + step.rest, free)
        through = [(1.0 - ahead) * f + ahead * g for f, g in zip(old, flux, strict=True)]
        mean = [y + gain * g for y, g in zip(mean, through, strict=True)]
        a = [k1 * p + f1 * g for p, g in zip(a, through, strict=True)]
        b = [k2 * p + f2 * g for p, g in zip(b, through, strict=True)]
        c = [k3 * p + f3 * g for p, g in zip(c, through, strict=True)]
        d = [k4 * p + f4 * g for p, g in zip(d, through, strict=True)]
        out.append(tuple([x - f for x, f in zip(row, flux, strict=True)]))
    return out


def _differ(row: Row, other: Row) -> bool:
    return any(abs(x - y) > 1e-12 for x, y in zip(row, other, strict=True))


def _flux(step: _Step, inflow: Row, base: Floats, slope: float, free: float) -> tuple[float, Floats]:
    """Flux of each ion into the bead, with the surface loading base + slope x flux, so that the fluxes sum to zero.

    `free` is the water over resin of the reference ion, from the step before; Newton's method.
    """
    film, kinds = step.film, list(zip(inflow, base, step.factors, step.valences, strict=True))
    for _ in range(_MOST_TRIES):
        total = fall = 0.0
        flux: Floats = []
        for x, y, factor, valence in kinds:
            if valence == 1:
                steep = 1.0 / factor
                ratio = free * steep
            else:
                ratio = free * free / factor
                steep = 2.0 * free / factor
            bottom = film + slope * ratio
            one = (x - y * ratio) / bottom
            flux.append(one)
            total += one
            fall += (y + slope * one) * steep / bottom
        change = total / fall if fall > 0.0 else -0.5 * free
        if abs(change) <= _SOLVED * free:
            return free, flux
        free = free + change if free + change > 0.1 * free else 0.1 * free
    return free, flux
