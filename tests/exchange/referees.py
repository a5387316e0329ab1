"""Columns reckoned in another way than the program does: mixed cells by mass balance, and diffusion by shells."""

from __future__ import annotations

from collections.abc import Callable, Sequence

import msgspec
import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


class Cells(msgspec.Struct, frozen=True):
    """Effluent [meq/L] by bed volumes, and what the cells hold at the end, water and resin [meq per L of bed]."""

    bed_volumes: list[float]
    effluent: list[list[float]]
    held: list[float]
    held_at_start: list[float]


def mixed_cells(
    feed: Sequence[float],
    factors: Sequence[float],
    capacity: float,
    porosity: float,
    resin: Sequence[float],
    cells: int,
    end_bv: float,
) -> Cells:
    """A row of stirred cells in equilibrium; a cell's pore water moves on each step, then the cell settles anew."""
    total = sum(feed)
    water = [[total * x for x in _water(resin, factors)] for _ in range(cells)]
    solid = [[capacity * y for y in resin] for _ in range(cells)]
    start = _held(water, solid, porosity, cells)
    out, at = list[list[float]](), list[float]()
    for step in range(round(end_bv * cells / porosity)):
        out.append(water[-1])
        at.append(step * porosity / cells)
        water = [list(feed), *water[:-1]]
        for k in range(cells):
            amounts = [porosity * c + q for c, q in zip(water[k], solid[k], strict=True)]
            guess = capacity / sum(a * c for a, c in zip(factors, water[k], strict=True))
            water[k], solid[k] = _settled(amounts, factors, porosity, total, guess)
    return Cells(at, out, _held(water, solid, porosity, cells), start)


def _water(resin: Sequence[float], factors: Sequence[float]) -> list[float]:
    parts = [y / a for y, a in zip(resin, factors, strict=True)]
    return [part / sum(parts) for part in parts]


def _held(water: list[list[float]], solid: list[list[float]], porosity: float, cells: int) -> list[float]:
    ions = range(len(water[0]))
    return [sum(porosity * c[i] + q[i] for c, q in zip(water, solid, strict=True)) / cells for i in ions]


def _settled(
    amounts: list[float], factors: Sequence[float], porosity: float, total: float, s: float
) -> tuple[list[float], list[float]]:
    """Water and resin in equilibrium: c_i = amount_i / (porosity + factor_i s), s by Newton's steps on sum c = total.

    The sum falls and bends upward in s, so the steps come in from the left, whatever the guess.
    """
    for _ in range(200):
        water = [m / (porosity + a * s) for m, a in zip(amounts, factors, strict=True)]
        slope = sum(c * a / (porosity + a * s) for c, a in zip(water, factors, strict=True))
        step = (sum(water) - total) / slope
        s = max(s + step, 0.0)
        if abs(step) <= 1e-15 * s:
            break
    water = [m / (porosity + a * s) for m, a in zip(amounts, factors, strict=True)]
    return water, [m - porosity * c for m, c in zip(amounts, water, strict=True)]


class Kinetics(msgspec.Struct, frozen=True):
    """A column with film and bead diffusion: meq/L, cm, s; `coefficient` of sulfate on bead and water, divalent."""

    feed: list[float]  # Cl, HCO3, NO3, SO4
    bicarbonate: float
    nitrate: float
    coefficient: float
    capacity: float
    porosity: float
    radius: float
    film: float
    diffusion: float
    contact: float


def diffusion_column(case: Kinetics, end_bv: float, places: int = 120, shells: int = 16) -> tuple[Array, Array]:
    """Bed volumes and nitrate over feed, by explicit steps over shells of equal thickness.

    The water along the bed is solved exactly between places for the surface loadings of the moment; the surface is
    extrapolated from the two outer shells.
    """
    feed = np.array(case.feed)
    held = case.capacity / (1.0 - case.porosity)
    thick = case.radius / shells
    edges = np.linspace(0.0, case.radius, shells + 1)
    volumes, areas = (edges[1:] ** 3 - edges[:-1] ** 3) / 3.0, edges[1:-1] ** 2
    q = np.zeros((4, places, shells))
    q[0] = held
    step = 0.2 * min(thick**2 / case.diffusion, thick * held / (case.film * feed.sum()) / 12.0)
    along = _along(case.film * 3.0 / case.radius * (1.0 - case.porosity) * case.contact / places, places)
    seen, at = list[float](), list[float]()
    for k in range(int(end_bv * case.contact / step)):
        surface = np.maximum(1.5 * q[:, :, -1] - 0.5 * q[:, :, -2], 0.0)
        meets = _meets(surface, case, feed.sum())
        water, leaving = along(feed, meets)
        flux = case.film * (water - meets)
        flux[0] = -flux[1:].sum(axis=0)
        inner = case.diffusion * np.diff(q, axis=2) / thick * areas
        q[:, :, :-1] += step * inner / volumes[:-1]
        q[:, :, 1:] -= step * inner / volumes[1:]
        q[:, :, -1] += step * flux * case.radius**2 / volumes[-1]
        at.append((k + 0.5) * step / case.contact + case.porosity)
        seen.append(float(leaving[2] / feed[2]))
    return np.array(at), np.array(seen)


def _meets(surface: Array, case: Kinetics, total: float) -> Array:
    """Water in equilibrium with the surface loading, with the total concentration of the feed."""
    chloride = np.maximum(surface[0], 1e-9)
    square = surface[3] / case.coefficient / chloride**2
    linear = 1.0 + (surface[1] / case.bicarbonate + surface[2] / case.nitrate) / chloride
    free = 2.0 * total / (linear + np.sqrt(linear**2 + 4.0 * square * total))
    ratio = free / chloride
    return np.stack([free, surface[1] / case.bicarbonate * ratio, surface[2] / case.nitrate * ratio, square * free**2])


def _along(units: float, places: int) -> Callable[[Array, Array], tuple[Array, Array]]:
    """Mean water at each place, and what leaves: c falls by exp(-units) towards what it meets, place by place."""
    kept = np.exp(-units)
    grown = np.exp(units * np.arange(1, places + 1))
    share = (1.0 - kept) / units

    def solve(feed: Array, meets: Array) -> tuple[Array, Array]:
        ends = (feed[:, None] + np.cumsum(meets * (1.0 - kept) * grown, axis=1)) / grown
        starts = np.concatenate([feed[:, None], ends[:, :-1]], axis=1)
        return meets + (starts - meets) * share, ends[:, -1]

    return solve
