"""The quick answer: equilibrium waves, each blurred by film and bead diffusion over its own constant pattern."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import exp, sqrt

import msgspec

from model.water.exchange.curve import Curve
from model.water.exchange.kinetic import Bed
from model.water.exchange.roots import fractions_of
from model.water.exchange.waves import Elution, Wave, spread_bv

_SPACING = 0.35
_LEVELS = tuple(1.0 / (1.0 + exp(-_SPACING * k)) for k in range(-20, 21))
"""Progress through a front at which its shape is kept, evenly spaced in the logit."""

_BARELY, _MOSTLY = 14, 26
"""Levels of about a tenth and nine tenths."""

_LEAST_SHARP = 0.999
_POINTS = 16


class Front(msgspec.Struct, frozen=True):
    """A blurred shock: its levels of progress are reached at `bed_volumes`, `change` [equivalent fractions] in all."""

    wave: Wave
    bed_volumes: tuple[float, ...]
    change: tuple[float, ...]

    def progress(self, bed_volumes: float) -> float:
        """How far the front has passed, 0-1, after `bed_volumes` [L of water per L of bed]."""
        at = self.bed_volumes
        if not at[0] < bed_volumes < at[-1]:
            return 0.0 if bed_volumes <= at[0] else 1.0
        k = next(k for k in range(1, len(at)) if bed_volumes <= at[k])
        share = (bed_volumes - at[k - 1]) / (at[k] - at[k - 1])
        return _LEVELS[k - 1] + share * (_LEVELS[k] - _LEVELS[k - 1])


def quick_curve(sharp: Elution, bed: Bed, ion: int) -> tuple[Curve, bool]:
    """What leaves the column when every shock of `sharp` is blurred by the transfer rates of `bed`; do fronts overlap.

    `bed` is the same column in dimensionless numbers, with the coefficients of its divalent ions. Blurred fronts are
    laid over one another by their changes of concentration; where `ion` is pushed out by a later front also by their
    roots, and the one that passes more of it counts, so that where fronts overlap nitrate comes early rather than
    late. Spreading waves stay sharp. Source: as `front_bv`; the laying over is our own, checked against the numerical
    column.
    """
    fronts = _fronts(sharp, bed)
    at = sorted({0.0, *_places(sharp), *(bv for front in fronts for bv in front.bed_volumes)})
    at.append(at[-1] * 1.2 + 1.0)
    overlap = any(one.bed_volumes[_MOSTLY] > later.bed_volumes[_BARELY] for one, later in pairwise(fronts))
    return Curve(tuple(at), tuple(_blurred(sharp, fronts, bv, ion) for bv in at)), overlap


def _places(sharp: Elution) -> list[float]:
    spreading = [wave for wave in sharp.waves if not wave.is_shock]
    return [spread_bv(wave, k / _POINTS, sharp.porosity) for wave in spreading for k in range(_POINTS + 1)]


def _blurred(sharp: Elution, fronts: Sequence[Front], bed_volumes: float, ion: int) -> tuple[float, ...]:
    roots = list(sharp.roots_at(bed_volumes))
    found = fractions_of(roots, sharp.b)
    for front in fronts:
        share, wave = front.progress(bed_volumes), front.wave
        ahead = share - (bed_volumes >= wave.first_bv)
        roots[wave.index] = wave.root_before + share * (wave.root_after - wave.root_before)
        found = tuple([x + ahead * change for x, change in zip(found, front.change, strict=True)])
    found = tuple([max(0.0, x) for x in found])
    if any(front.change[ion] < 0.0 for front in fronts):
        found = max(fractions_of(roots, sharp.b), found, key=lambda row: row[ion] / sum(row))
    return tuple([x / sum(found) for x in found])


def _fronts(sharp: Elution, bed: Bed) -> list[Front]:
    states = sharp.states()
    passed = zip(sharp.waves, states, states[1:], strict=False)
    return [_front(wave, before, after, bed) for wave, before, after in passed if wave.is_shock]


def _front(wave: Wave, before: Sequence[float], after: Sequence[float], bed: Bed) -> Front:
    ratio = min(_preference(before, bed) / _preference(after, bed), _LEAST_SHARP)
    shape = front_bv(wave.first_bv - bed.porosity, ratio, bed)
    return Front(wave, shape, tuple(x - y for x, y in zip(after, before, strict=True)))


def _preference(fractions: Sequence[float], bed: Bed) -> float:
    """Sum of factor x fraction, the factors of divalent ions at this water's own composition."""
    linear = square = 0.0
    for x, factor, valence in zip(fractions, bed.factors, bed.valences, strict=True):
        linear, square = (linear, square + x * factor) if valence == 2 else (linear + x * factor, square)
    return 0.5 * (linear + sqrt(linear * linear + 4.0 * square))


def front_bv(volume: float, ratio: float, bed: Bed) -> tuple[float, ...]:
    """Bed volumes at which a shock has reached each of a set of levels, its mean where equilibrium puts it.

    Constant pattern: with u the loading at the bead's surface and s the progress in the water, both 0-1,
    ds/dV = film (s - s*(u)) / V0 = 15 bead (u - s), s*(u) = r u / (1 - (1 - r) u). `volume` V0 [bed volumes] of the
    shock without pore water, above 0; `ratio` r, 0 to 1, that of sum(factor x fraction) before over after. A bed too
    short for the pattern to form blurs less: the width is joined with that of a linear front, V0 sqrt(2 / N), as
    1/W^2 = 1/a^2 + 1/b^2. Source: constant pattern of a binary exchange, Vermeulen, Adv. Chem. Eng. 2 (1958), from
    memory, exact for many ions too since constant factors keep straight lines straight; the joining of the two
    widths is common practice, no source.
    """
    rho = bed.film_units / (volume * 15.0 * bed.bead_rate)
    speeds = [bed.film_units / volume * _drive(level, ratio, rho) for level in _LEVELS]
    shape = _integral([level * (1.0 - level) / speed for level, speed in zip(_LEVELS, speeds, strict=True)])
    units = 1.0 / (1.0 / bed.film_units + 1.0 / (15.0 * bed.bead_rate * volume))
    variance = sum(share * t * t for share, t in zip(_SHARES, shape, strict=True))
    shrink = 1.0 / sqrt(1.0 + variance * units / (2.0 * volume * volume))
    return _rising([max(0.0, bed.porosity + volume + shrink * t) for t in shape])


def _rising(values: Sequence[float]) -> tuple[float, ...]:
    """The values, each at least a little above the one before, so that shares between them are defined."""
    found: list[float] = []
    for value in values:
        found.append(max(value, found[-1] * (1.0 + 1e-12) + 1e-12) if found else value)
    return tuple(found)


def _drive(level: float, ratio: float, rho: float) -> float:
    """s - s*(u) where film and bead carry the same flux; rho is film over bead."""
    bend = 1.0 - ratio
    middle = 1.0 + bend * (1.0 + rho) * level + rho * ratio
    root = sqrt(max(0.0, middle * middle - 4.0 * bend * (1.0 + rho) * level))
    surface = 2.0 * (1.0 + rho) * level / (middle + root)
    return level - ratio * surface / (1.0 - bend * surface)


def _integral(slopes: Sequence[float]) -> list[float]:
    """Running integral by trapezoids in the logit of the level, moved so that its mean over the levels is zero."""
    found = [0.0]
    for a, b in pairwise(slopes):
        found.append(found[-1] + 0.5 * _SPACING * (a + b))
    mean = sum(share * t for share, t in zip(_SHARES, found, strict=True))
    return [t - mean for t in found]


_EDGES = (0.0, *((a + b) / 2.0 for a, b in pairwise(_LEVELS)), 1.0)
_SHARES = tuple(b - a for a, b in pairwise(_EDGES))
"""The share of a front around each level."""
