"""One anion column asked three ways: by equilibrium, quickly with blurred fronts, and by the numerical column."""

from __future__ import annotations

from functools import lru_cache
from math import ceil, sqrt

import msgspec

from model.errors import BadInput
from model.water.exchange.checks import all_within
from model.water.exchange.curve import Curve, Passage, first_plateau, passage
from model.water.exchange.fronts import quick_curve
from model.water.exchange.kinetic import Bed, column
from model.water.exchange.waves import Elution, elution, sharp_curve

_CELLS, _STEPS, _KEPT = (40, 90), 300, 16
_CELLS_PER_UNIT = 3.0
_BEYOND = 1.6
_STIRRED = 1e-3


class Column(msgspec.Struct, frozen=True, kw_only=True):
    """A bed of uniform composition and its constant feed.

    `feed_meq_l` [meq/L] and `resin_fractions` (equivalent fractions at the start) by ion; `factors` against the
    reference ion, or selectivity coefficients where `valences` is 2; the reference has factor 1 and valence 1.
    `capacity_meq_l` [meq per L of bed], `porosity` water per volume of bed.
    """

    feed_meq_l: tuple[float, ...]
    resin_fractions: tuple[float, ...]
    factors: tuple[float, ...]
    valences: tuple[int, ...]
    capacity_meq_l: float
    porosity: float


class Transfer(msgspec.Struct, frozen=True, kw_only=True):
    """How fast ions reach and enter the beads.

    `film_cm_s` film coefficient [cm/s], `bead_radius_cm` [cm], `surface_diffusion_cm2_s` [cm2/s], `contact_s`
    empty-bed contact time: bed over flow [s].
    """

    film_cm_s: float
    bead_radius_cm: float
    surface_diffusion_cm2_s: float
    contact_s: float


def equilibrium(asked: Column) -> Elution:
    """Waves by the h-transform; divalent coefficients enter as the factors they come to in the feed.

    With the feed's factors the place of the nitrate front of a bed in chloride form is exact, since shocks follow
    from the feed's side alone; plateaus ahead of the last front of a resin that holds nitrate over sulfate are
    approximate. Raises BadInput as `elution`.
    """
    check_column(asked)
    return elution(asked.feed_meq_l, _constant(asked), asked.capacity_meq_l, asked.porosity, asked.resin_fractions)


def dimensionless(asked: Column, rates: Transfer) -> Bed:
    """The column in dimensionless numbers. Raises BadInput for a value out of range."""
    check_column(asked)
    all_within("The film coefficient [cm/s]", [rates.film_cm_s], 1e-7, 10.0)
    all_within("The bead radius [cm]", [rates.bead_radius_cm], 1e-4, 1.0)
    all_within("The surface diffusion coefficient [cm2/s]", [rates.surface_diffusion_cm2_s], 1e-14, 1e-3)
    all_within("The contact time of water and bed [s]", [rates.contact_s], 1e-2, 1e8)
    total, held = sum(asked.feed_meq_l), sum(asked.resin_fractions)
    return Bed(
        feed=tuple(amount / total for amount in asked.feed_meq_l),
        resin=tuple(amount / held for amount in asked.resin_fractions),
        factors=_strengths(asked),
        valences=asked.valences,
        load_bv=asked.capacity_meq_l / total,
        film_units=rates.film_cm_s * 3.0 / rates.bead_radius_cm * (1.0 - asked.porosity) * rates.contact_s,
        bead_rate=rates.surface_diffusion_cm2_s * rates.contact_s / rates.bead_radius_cm**2,
        porosity=asked.porosity,
    )


def equilibrium_passage(asked: Column, ion: int) -> Passage:
    """How an ion comes through by equilibrium theory; it must be in the feed."""
    found = equilibrium(asked)
    return _passage(asked, ion, found, sharp_curve(found))


def quick_passage(asked: Column, rates: Transfer, ion: int) -> Passage:
    """How an ion comes through with each front blurred on its own: one to three milliseconds.

    Where the fronts stand apart the tenth of feed is within 5 % of the numerical column and half of feed within 3 %,
    over feeds, beds, beads and flows in a household's range. Where nitrate and sulfate overlap, the tenth comes too
    early, mostly by a few percent, at worst by three quarters, and the peak too high. Raises BadInput as
    `dimensionless`.
    """
    found = equilibrium(asked)
    return _passage(asked, ion, found, quick_curve(found, dimensionless(asked, rates), ion)[0])


def kinetic_passage(asked: Column, rates: Transfer, ion: int) -> Passage:
    """How an ion comes through by the numerical column: a tenth to half of a second, the last few kept.

    Raises BadInput as `dimensionless`.
    """
    found = equilibrium(asked)
    return _passage(asked, ion, found, kinetic_curve(asked, rates, passage_end_bv(found, ion)))


@lru_cache(maxsize=_KEPT)
def kinetic_curve(asked: Column, rates: Transfer, end_bv: float) -> Curve:
    """What leaves the column up to `end_bv` [L of water per L of bed], with cells by the number of transfer units."""
    bed = dimensionless(asked, rates)
    cells = min(max(ceil(_CELLS_PER_UNIT * bed.transfer_units), _CELLS[0]), _CELLS[1])
    return column(bed, end_bv, cells, _STEPS)


def check_column(asked: Column) -> None:
    """Raise BadInput where the lists do not fit one another or a valence is neither 1 nor 2."""
    if not len(asked.feed_meq_l) == len(asked.factors) == len(asked.valences) == len(asked.resin_fractions):
        raise BadInput("Feed, factors, valences and resin composition must name the same ions.")
    if any(valence not in (1, 2) for valence in asked.valences):
        raise BadInput("Only ions of one or two charges are reckoned with.")
    all_within("A concentration in the feed [meq/L]", asked.feed_meq_l, 0.0, 1e6)
    all_within("A fraction on the resin", asked.resin_fractions, 0.0, 1e6)
    all_within("A separation factor or selectivity coefficient", asked.factors, 1e-6, 1e6)
    all_within("The capacity [meq/L]", [asked.capacity_meq_l], 1e-3, 1e6)
    all_within("The porosity", [asked.porosity], 0.0, 0.95)
    if sum(asked.feed_meq_l) < 1e-6 or sum(asked.resin_fractions) < 1e-6:
        raise BadInput("The feed and the resin must each hold some ions.")


def _strengths(asked: Column) -> tuple[float, ...]:
    """Factors, those of divalent ions as coefficient x capacity of the bead over total concentration."""
    scale = asked.capacity_meq_l / (1.0 - asked.porosity) / sum(asked.feed_meq_l)
    return tuple(f * scale if z == 2 else f for f, z in zip(asked.factors, asked.valences, strict=True))


def _constant(asked: Column) -> tuple[float, ...]:
    """Constant factors: those of divalent ions as they are in the feed."""
    total, strengths = sum(asked.feed_meq_l), _strengths(asked)
    linear = square = 0.0
    for amount, strength, valence in zip(asked.feed_meq_l, strengths, asked.valences, strict=True):
        part = strength * amount / total
        linear, square = (linear, square + part) if valence == 2 else (linear + part, square)
    preference = 0.5 * (linear + sqrt(linear * linear + 4.0 * square))
    return tuple(s / preference if z == 2 else s for s, z in zip(strengths, asked.valences, strict=True))


def _passage(asked: Column, ion: int, found: Elution, curve: Curve) -> Passage:
    feed = asked.feed_meq_l[ion] / sum(asked.feed_meq_l)
    if feed < _STIRRED * 1e-3:
        raise BadInput("An ion that is not in the feed has no front.")
    return passage(curve, ion, feed, first_plateau([state[ion] for state in found.states()]))


def passage_end_bv(found: Elution, ion: int) -> float:
    """Bed volumes [L of water per L of bed] by which the last wave that stirs an ion has passed, with room for blur."""
    states = found.states()
    least = _STIRRED * max(state[ion] for state in states)
    after = zip(found.waves, states, states[1:], strict=False)
    stirring = [wave.last_bv for wave, before, behind in after if abs(behind[ion] - before[ion]) > least]
    return _BEYOND * max(stirring, default=found.porosity + found.load_bv)
