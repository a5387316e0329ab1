"""The carbonate equilibrium solved on plain amounts: three ways to close it, one iteration.

Known are the alkalinity and the total calcium, magnesium and sulfate. The third thing known closes the system: pH,
total carbon or dissolved CO2. Activity coefficients are extended Debye-Huckel; the pairs CaHCO3+, CaCO3, MgHCO3+,
MgCO3, CaSO4, MgSO4 and MgOH+ are counted. Left out: pairs of sodium and potassium, CaOH+, silica, borate, phosphate
and ammonia. Meant for fresh water of pH 4-9.5 and ionic strength up to 0.05 mol/L.
Source of the method: Stumm and Morgan 1996, Aquatic Chemistry, ch. 4 (from memory).
"""

from __future__ import annotations

from collections.abc import Callable
from math import exp, log10, sqrt

import msgspec

from model.water.constants import (
    CACO3_MG_PER_MEQ,
    CALCIUM_G_PER_MOL,
    CHLORIDE_G_PER_MOL,
    IRON_G_PER_MOL,
    LN10,
    MAGNESIUM_G_PER_MOL,
    MANGANESE_G_PER_MOL,
    NITROGEN_G_PER_MOL,
    POTASSIUM_G_PER_MOL,
    SODIUM_G_PER_MOL,
    SULFATE_G_PER_MOL,
    Constants,
)
from model.water.sample import Sample

EXACT = 1e-11
"""Relative change of free ions and ionic strength at which an exact answer stops."""

QUICK = 0.03
"""The same for a quick answer: pH within 0.003 of the exact one up to pH 9.5, 0.01 above."""

_MOST_ROUNDS = 300
_MOST_STEPS = 200
_LEAST_ACTIVITY_PRODUCT = 1e-20
_LOW_H, _HIGH_H = 1e-15, 10.0

Weights = tuple[float, float, float, float, float]
"""CO2 = x a h, HCO3 = x b, CO3 = x d / h (pairs included) for bicarbonate activity x and hydrogen activity h;
OH + MgOH = w / h and H = v h. In the order a, b, d, w, v."""

Close = Callable[[float, float, float, float, float], tuple[float, float]]
"""Finds hydrogen and bicarbonate activity for given weights."""


class Totals(msgspec.Struct, frozen=True, gc=False):
    """What a water holds, before speciation: ions [mol/L], alkalinity [eq/L], and the ionic strength of the ions
    that form no pairs here [mol/L]."""

    calcium: float
    magnesium: float
    sulfate: float
    other_strength: float
    alkalinity: float


class State(msgspec.Struct, frozen=True, gc=False):
    """A solved water: activity of H+, free species, total carbon and ionic strength [mol/L], the product of the
    activities of calcium and carbonate, and where a similar water may start: free shares of calcium, magnesium and
    sulfate, what pairs and OH- change in the ionic strength, activity of carbonate."""

    hydrogen: float
    co2: float
    bicarbonate: float
    carbonate: float
    total_carbon: float
    ionic_strength: float
    calcite_product: float
    warm: tuple[float, float, float, float, float]

    @property
    def pH(self) -> float:
        """-log10 of the activity of H+."""
        return -log10(self.hydrogen)


def saturation_index(k: Constants, state: State) -> float:
    """Saturation index of calcite: log10 of the product of the activities of Ca++ and CO3-- over K.

    Below 0 calcite dissolves, above 0 it forms scale. Never below about -12: stands for no calcium or no carbonate.
    Source: Plummer and Busenberg 1982 for K.
    """
    return log10(max(state.calcite_product, _LEAST_ACTIVITY_PRODUCT) / k.calcite)


def totals_of(sample: Sample) -> Totals:
    """The amounts in `sample` [mol/L, eq/L]."""
    single = (
        sample.sodium_mg_l / SODIUM_G_PER_MOL
        + sample.potassium_mg_l / POTASSIUM_G_PER_MOL
        + sample.chloride_mg_l / CHLORIDE_G_PER_MOL
        + sample.nitrate_mg_l_n / NITROGEN_G_PER_MOL
    )
    double = sample.iron_mg_l / IRON_G_PER_MOL + sample.manganese_mg_l / MANGANESE_G_PER_MOL
    return Totals(
        sample.calcium_mg_l / CALCIUM_G_PER_MOL * 1e-3,
        sample.magnesium_mg_l / MAGNESIUM_G_PER_MOL * 1e-3,
        sample.sulfate_mg_l / SULFATE_G_PER_MOL * 1e-3,
        (0.5 * single + 2.0 * double) * 1e-3,
        sample.alkalinity_mg_l_caco3 / CACO3_MG_PER_MEQ * 1e-3,
    )


def strength_of(totals: Totals) -> float:
    """Ionic strength [mol/L] with all alkalinity as bicarbonate and no ion pairs: half the sum of c z^2."""
    divalent = totals.calcium + totals.magnesium + totals.sulfate
    return totals.other_strength + 2.0 * divalent + 0.5 * abs(totals.alkalinity)


def at_ph(k: Constants, totals: Totals, pH: float, tolerance: float = EXACT) -> State:
    """Speciation where the pH is known. Carbon is zero where the alkalinity leaves no room for bicarbonate."""
    h = 10.0**-pH
    alkalinity = totals.alkalinity

    def close(a: float, b: float, d: float, w: float, v: float) -> tuple[float, float]:
        return h, max(alkalinity - w / h + v * h, 0.0) / (b + 2.0 * d / h)

    return _iterate(k, totals, close, None, tolerance)


def at_carbon(
    k: Constants, totals: Totals, total_carbon: float, start: State | None = None, tolerance: float = EXACT
) -> State:
    """Speciation where the total carbon [mol/L] is known; `start` is a similar water already solved."""
    alkalinity, h = totals.alkalinity, 0.0
    step = min(tolerance, 1e-3)

    def close(a: float, b: float, d: float, w: float, v: float) -> tuple[float, float]:
        nonlocal h
        guess = h or _first_guess(alkalinity, total_carbon, a, b, d)
        h = hydrogen_of(alkalinity, total_carbon, (a, b, d, w, v), guess, step)
        return h, total_carbon / (a * h + b + d / h)

    return _iterate(k, totals, close, start, tolerance)


def at_gas(k: Constants, totals: Totals, co2_activity: float) -> State:
    """Speciation where the activity of dissolved CO2 [mol/L] is known: water open to a gas."""
    return _at_fixed_co2(k, totals, lambda a: k.k1 * co2_activity)


def at_co2(k: Constants, totals: Totals, co2: float) -> State:
    """Speciation where dissolved CO2 [mol/L] is known."""
    return _at_fixed_co2(k, totals, lambda a: co2 / a)


def _at_fixed_co2(k: Constants, totals: Totals, bicarbonate_times_h: Callable[[float], float]) -> State:
    h = 1e-8

    def close(a: float, b: float, d: float, w: float, v: float) -> tuple[float, float]:
        nonlocal h
        product = bicarbonate_times_h(a)
        h = _hydrogen_open(totals.alkalinity, product, (a, b, d, w, v), h)
        return h, product / h

    return _iterate(k, totals, close, None, EXACT)


def hydrogen_of(alkalinity: float, total_carbon: float, weights: Weights, start: float, tolerance: float) -> float:
    """Activity of H+ where `alkalinity` [eq/L] and `total_carbon` [mol/L] are known.

    Alkalinity = C (b + 2 d/h) / (a h + b + d/h) + w/h - v h falls all the way as h rises, so there is one root.
    Newton steps in ln h while each is well below the one before; else the bracket decides.
    """
    a, b, d, w, v = weights
    low, high, h, last = _LOW_H, _HIGH_H, start, 3.0
    for _ in range(_MOST_STEPS):
        p, q, oh, proton = a * h, d / h, w / h, v * h
        whole = p + b + q
        ratio = (b + 2.0 * q) / whole
        excess = total_carbon * ratio + oh - proton - alkalinity
        step = excess / (total_carbon * (2.0 * q + ratio * (p - q)) / whole + oh + proton)
        if -tolerance < step < tolerance:
            return h * (1.0 + step)
        low, high = (h, high) if excess > 0.0 else (low, h)
        if abs(step) < 0.7 * last:
            h, last = h * exp(step), abs(step)
        else:
            h, last = _bracketed(h, step, low, high)
    return h


def _hydrogen_open(alkalinity: float, bicarbonate_times_h: float, weights: Weights, start: float) -> float:
    """Activity of H+ of a water open to a gas: alkalinity = (k/h) (b + 2 d/h) + w/h - v h, falling as h rises."""
    _, b, d, w, v = weights
    low, high, h, last = _LOW_H, _HIGH_H, start, 3.0
    for _ in range(_MOST_STEPS):
        single, double = (bicarbonate_times_h * b + w) / h, 2.0 * bicarbonate_times_h * d / (h * h)
        excess = single + double - v * h - alkalinity
        step = excess / (single + 2.0 * double + v * h)
        if -EXACT < step < EXACT:
            return h * (1.0 + step)
        low, high = (h, high) if excess > 0.0 else (low, h)
        if abs(step) < 0.7 * last:
            h, last = h * exp(step), abs(step)
        else:
            h, last = _bracketed(h, step, low, high)
    return h


def _first_guess(alkalinity: float, total_carbon: float, a: float, b: float, d: float) -> float:
    """H+ where what carbon exceeds alkalinity is all CO2 (or, the other way, all CO3--)."""
    if alkalinity <= 0.0 or total_carbon <= 0.0:
        return 1e-7
    surplus = (total_carbon - alkalinity) / alkalinity
    if surplus > 0.01:
        return min(surplus * b / a, _HIGH_H)
    return sqrt(d / a) if surplus > -0.01 else d / (b * min(-surplus, 0.5))


def _bracketed(h: float, step: float, low: float, high: float) -> tuple[float, float]:
    """The next guess of h, and the size that its step counts as: the Newton step `step` in ln h if it stays in the
    bracket and is not wild, else the middle of the bracket."""
    if -3.0 < step < 3.0 and low < h * exp(step) < high:
        return h * exp(step), abs(step)
    return sqrt(low * high), 3.0


def _gammas(k: Constants, strength: float) -> tuple[float, ...]:
    """Activity coefficients at ionic strength `strength` [mol/L]: HCO3-, Ca++, Mg++, SO4--, uncharged, CaHCO3+,
    MgHCO3+, OH-, H+ (see constants.activity_coefficient; that of CO3-- is the fourth power of that of HCO3-).

    Held still beyond 0.5 mol/L: there an absurd reading gives an absurd answer, and no failure."""
    strength = min(strength, 0.5)
    root = sqrt(strength)
    x, y, z = -k.a_ln * root, k.b * root, LN10 * strength
    di = 4.0 * x / (1.0 + 5.0 * y)
    return (
        exp(x / (1.0 + 5.4 * y)),
        exp(di + 0.165 * z),
        exp(4.0 * x / (1.0 + 5.5 * y) + 0.2 * z),
        exp(di - 0.04 * z),
        exp(0.1 * z),
        exp(x / (1.0 + 6.0 * y)),
        exp(x / (1.0 + 4.0 * y)),
        exp(x / (1.0 + 3.5 * y)),
        exp(x / (1.0 + 9.0 * y)),
    )


def _iterate(k: Constants, totals: Totals, close: Close, start: State | None, tolerance: float) -> State:
    """Activities, pairs and pH in turn until free shares and ionic strength stand still."""
    ca, mg, so4, excess, co3 = start.warm if start else (1.0, 1.0, 1.0, 0.0, 0.0)
    total_ca, total_mg, total_so4 = totals.calcium, totals.magnesium, totals.sulfate
    plain = strength_of(totals)
    strength = max(plain + excess, 0.0)
    hco3 = max(totals.alkalinity, 0.0) * (1.0 - min(0.5, sqrt(strength)))
    for _ in range(_MOST_ROUNDS):
        g_hco3, g_ca, g_mg, g_so4, g_none, g_cah, g_mgh, g_oh, g_h = _gammas(k, strength)
        g_co3 = g_hco3 * g_hco3 * g_hco3 * g_hco3
        cah, mgh, cac, mgc = k.ca_hco3 / g_cah, k.mg_hco3 / g_mgh, k.ca_co3 / g_none, k.mg_co3 / g_none
        cas, mgs = k.ca_so4 / g_none, k.mg_so4 / g_none
        so4 = 1.0 / (1.0 + g_so4 * (cas * g_ca * ca * total_ca + mgs * g_mg * mg * total_mg))
        a_so4, moved = g_so4 * so4 * total_so4, ca + mg
        ca = 1.0 / (1.0 + g_ca * (cah * hco3 + cac * co3 + cas * a_so4))
        mg = 1.0 / (1.0 + g_mg * (mgh * hco3 + mgc * co3 + mgs * a_so4))
        a_ca, a_mg = g_ca * ca * total_ca, g_mg * mg * total_mg
        paired, v = cah * a_ca + mgh * a_mg, 1.0 / g_h
        w = k.kw / g_oh + k.mg_oh * a_mg / g_cah
        a, b = 1.0 / (k.k1 * g_none), 1.0 / g_hco3 + paired
        d = k.k2 * (1.0 / g_co3 + cac * a_ca + mgc * a_mg)
        h, new_hco3 = close(a, b, d, w, v)
        co3 = new_hco3 * k.k2 / h
        double = total_ca * ca + total_mg * mg + total_so4 * so4 + co3 / g_co3
        new_strength = totals.other_strength + 2.0 * double + 0.5 * (new_hco3 * b + w / h + v * h)
        still = abs(new_strength - strength) <= tolerance * new_strength
        still = still and abs(new_hco3 - hco3) <= tolerance * new_hco3 and abs(ca + mg - moved) <= tolerance
        strength, hco3 = new_strength, new_hco3
        if still:
            break
    carbon = hco3 * (a * h + b + d / h)
    warm = (ca, mg, so4, strength - plain, co3)
    return State(h, a * h * hco3, hco3 / g_hco3, co3 / g_co3, carbon, strength, a_ca * co3, warm)
