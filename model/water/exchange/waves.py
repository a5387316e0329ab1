"""Waves through an ion-exchange column by equilibrium theory: when each arrives, and what leaves the column when."""

from __future__ import annotations

from collections.abc import Sequence
from math import exp, log, prod, sqrt

import msgspec

from model.errors import BadInput
from model.water.exchange.checks import all_within
from model.water.exchange.curve import Curve
from model.water.exchange.roots import fractions_of, h_roots, reciprocal_factors

_SAME = 1e-12


class Wave(msgspec.Struct, frozen=True):
    """One wave: root `index` goes from `root_before` to `root_after` at the outlet.

    Between `first_bv` and `last_bv` [bed volumes, pore water counted]; a shock has both the same.
    """

    index: int
    root_before: float
    root_after: float
    first_bv: float
    last_bv: float

    @property
    def is_shock(self) -> bool:
        """Whether the wave sharpens itself to a step."""
        return self.first_bv == self.last_bv


class Elution(msgspec.Struct, frozen=True):
    """What leaves a column of uniform composition under a constant feed.

    `b` reciprocal factors in the order of the ions, `roots_before` and `roots_after` of the water that leaves first
    and of the feed, `waves` in the order in which they arrive, `total_meq_l` concentration of feed [meq/L],
    `porosity` volume of water per volume of bed, `load_bv` capacity over feed [bed volumes].
    """

    b: tuple[float, ...]
    roots_before: tuple[float, ...]
    roots_after: tuple[float, ...]
    waves: tuple[Wave, ...]
    total_meq_l: float
    porosity: float
    load_bv: float

    def roots_at(self, bed_volumes: float) -> tuple[float, ...]:
        """The roots of the water that leaves after `bed_volumes` [L water per L of bed]."""
        roots = list(self.roots_before)
        for wave in self.waves:
            roots[wave.index] = self._root_at(wave, bed_volumes)
        return tuple(roots)

    def effluent_meq_l(self, bed_volumes: float) -> tuple[float, ...]:
        """The ions that leave after `bed_volumes` [L water per L of bed], in their order [meq/L]."""
        return tuple(self.total_meq_l * x for x in fractions_of(self.roots_at(bed_volumes), self.b))

    def _root_at(self, wave: Wave, bed_volumes: float) -> float:
        if bed_volumes < wave.first_bv:
            return wave.root_before
        if bed_volumes >= wave.last_bv:
            return wave.root_after
        slowness = (bed_volumes - self.porosity) / self.load_bv
        others = prod(self.roots_before[: wave.index]) * prod(self.roots_after[wave.index + 1 :])
        return sqrt(prod(self.b) / (slowness * others))

    def states(self) -> list[tuple[float, ...]]:
        """Equivalent fractions of the water between waves: what leaves first, then what follows each wave."""
        roots = list(self.roots_before)
        found = [fractions_of(roots, self.b)]
        for wave in self.waves:
            roots[wave.index] = wave.root_after
            found.append(fractions_of(roots, self.b))
        return found


def elution(
    feed_meq_l: Sequence[float],
    factors: Sequence[float],
    capacity_meq_l: float,
    porosity: float,
    resin_fractions: Sequence[float],
) -> Elution:
    """Waves through a bed of uniform composition under a constant feed, for any number of ions with constant factors.

    `feed_meq_l` each ion [meq/L], 0 or more and not all 0; `factors` separation factors against any one ion, above 0;
    `capacity_meq_l` exchange capacity [meq per L of bed], above 0; `porosity` 0 to below 1; `resin_fractions`
    equivalent fractions on the resin at the start, scaled to 1. Wave k takes root h_k from the resin's value to the
    feed's while the roots below still have the resin's and those above already the feed's; it arrives at
    porosity + (capacity / total) prod(b) / (h_k before x h_k after x prod of the others) where it is a shock (h_k
    rises), and at the same with the square of each h_k where it spreads. An ion absent from both does not matter.
    The water in the bed at the start is taken to have the feed's total and to stand in equilibrium with the resin.
    Raises BadInput outside those ranges. Source: Helfferich and Klein, Multicomponent Chromatography, 1970 (from
    memory).
    """
    _check(feed_meq_l, factors, capacity_meq_l, porosity, resin_fractions)
    total, held = sum(feed_meq_l), sum(resin_fractions)
    b = reciprocal_factors(factors)
    released = [fraction / held * one for fraction, one in zip(resin_fractions, b, strict=True)]
    before = h_roots([amount / sum(released) for amount in released], b)
    after = h_roots([amount / total for amount in feed_meq_l], b)
    load = capacity_meq_l / total
    indexes = [k for k in reversed(range(len(before))) if abs(after[k] - before[k]) > _SAME * before[k]]
    waves = tuple(_wave(k, before, after, prod(b) * load, porosity) for k in indexes)
    return Elution(b, before, after, waves, total, porosity, load)


def _wave(k: int, before: Sequence[float], after: Sequence[float], scale: float, porosity: float) -> Wave:
    scale = scale / (prod(before[:k]) * prod(after[k + 1 :]))
    if after[k] > before[k]:
        at = porosity + scale / (before[k] * after[k])
        return Wave(k, before[k], after[k], at, at)
    return Wave(k, before[k], after[k], porosity + scale / before[k] ** 2, porosity + scale / after[k] ** 2)


def sharp_curve(found: Elution, points: int = 25) -> Curve:
    """The curve of equilibrium theory: steps for shocks, `points` along each spreading wave."""
    at, rows = [0.0], [fractions_of(found.roots_before, found.b)]
    for wave, state in zip(found.waves, found.states()[1:], strict=True):
        at.append(wave.first_bv)
        rows.append(rows[-1])
        if not wave.is_shock:
            inner = [spread_bv(wave, k / points, found.porosity) for k in range(1, points)]
            at += inner
            rows += [fractions_of(found.roots_at(bv), found.b) for bv in inner]
        at.append(wave.last_bv)
        rows.append(state)
    return Curve((*at, at[-1] * 1.5 + 1.0), (*rows, rows[-1]))


def spread_bv(wave: Wave, share: float, porosity: float) -> float:
    """Bed volumes at which a spreading wave has gone `share` (0-1) of its way in log h; V - porosity goes as 1/h^2."""
    way = 2.0 * share * log(wave.root_before / wave.root_after)
    return porosity + (wave.first_bv - porosity) * exp(way)


def _check(
    feed: Sequence[float], factors: Sequence[float], capacity: float, porosity: float, resin: Sequence[float]
) -> None:
    if not len(feed) == len(factors) == len(resin) >= 1:
        raise BadInput("Feed, separation factors and resin composition must name the same ions.")
    all_within("A concentration in the feed", feed, 0.0, 1e6)
    all_within("A fraction on the resin", resin, 0.0, 1e6)
    all_within("A separation factor", factors, 1e-6, 1e6)
    all_within("The capacity", [capacity], 1e-6, 1e6)
    all_within("The porosity", [porosity], 0.0, 0.999)
    if sum(feed) < 1e-9:
        raise BadInput("A feed without ions has no front.", "Give at least one concentration above 0.")
    if sum(resin) < 1e-9:
        raise BadInput("The resin's composition is empty.", "Pure chloride form is 1 for chloride.")
