"""Nitrate fronts blurred by film and bead diffusion, kept by: python -m tests.exchange.diffusion_columns

Reckoned by shells (the referee), over feeds, capacities, beads, films, diffusion and flows drawn from ranges that
hold a household's, and for the four columns of the US EPA's example.
"""

from __future__ import annotations

import json
from concurrent.futures import ProcessPoolExecutor
from math import exp, log
from pathlib import Path
from random import Random

import msgspec

from tests.exchange.referees import Array, Kinetics, diffusion_column

KEPT = Path(__file__).parent / "data" / "diffusion_columns.json"
RESINS = ((0.6, 5.0, 0.10), (0.37, 13.0, 0.028))
"""Bicarbonate, nitrate, and divalent coefficient of sulfate: US EPA, Water_Treatment_Models, examples."""

EPA_FEED = [1.51, 4.23, 0.74, 0.52]
BV_PER_H = {"5 gpm": 24.92, "1 gpm": 4.984}
"""Bed of 10.2 in by 34 in."""


class Kept(msgspec.Struct, frozen=True):
    """A case and where nitrate reaches a tenth and half of the feed [BV], with its peak over feed."""

    case: Kinetics
    tenth_bv: float
    half_bv: float
    peak_over_feed: float


def epa(resin: int, flow: str) -> Kinetics:
    """A column of the US EPA's example."""
    return _kinetics(RESINS[resin], EPA_FEED, 586.0, 0.0345, 2.2e-3, 5e-8, BV_PER_H[flow], 0.38)


def spread(count: int) -> list[Kinetics]:
    """Cases over the ranges, the two resins in turn."""
    draw = Random(77).uniform

    def logarithmic(low: float, high: float) -> float:
        return exp(draw(log(low), log(high)))

    return [
        _kinetics(
            RESINS[k % 2],
            [round(draw(*r), 3) for r in ((0.3, 2.5), (1.0, 6.0), (0.2, 2.0), (0.2, 1.2))],
            draw(350.0, 1300.0),
            draw(0.02, 0.045),
            logarithmic(1e-3, 6e-3),
            logarithmic(2e-8, 2e-7),
            logarithmic(4.0, 50.0),
            draw(0.33, 0.45),
        )
        for k in range(count)
    ]


def _kinetics(
    resin: tuple[float, float, float],
    feed: list[float],
    capacity: float,
    radius: float,
    film: float,
    diffusion: float,
    bv_per_h: float,
    porosity: float,
) -> Kinetics:
    return Kinetics(feed, *resin, capacity, porosity, radius, film, diffusion, 3600.0 / bv_per_h)


def crossing(at: Array, seen: Array, level: float) -> float:
    """Bed volumes at which a curve first reaches a level."""
    k = int((seen >= level).argmax())
    if k == 0:
        return float(at[0]) if seen[0] >= level else float("nan")
    return float(at[k - 1] + (level - seen[k - 1]) / (seen[k] - seen[k - 1]) * (at[k] - at[k - 1]))


def reckoned(case: Kinetics) -> Kept:
    """The referee's answer, run well past the last front."""
    chloride, bicarbonate, nitrate, sulfate = case.feed
    linear = chloride + case.bicarbonate * bicarbonate + case.nitrate * nitrate
    strength = case.coefficient * case.capacity / (1.0 - case.porosity)
    preference = 0.5 * (linear + (linear**2 + 4.0 * strength * sulfate) ** 0.5)
    last = case.capacity * max(case.nitrate, strength / preference) / preference
    at, seen = diffusion_column(case, 1.5 * last, places=100, shells=12)
    tenth, half = (round(crossing(at, seen, level), 2) for level in (0.1, 0.5))
    return Kept(case, tenth, half, round(float(seen.max()), 4))


def main() -> None:
    """Reckon all cases and keep them."""
    cases = [epa(resin, flow) for resin in (0, 1) for flow in BV_PER_H] + spread(32)
    with ProcessPoolExecutor(2) as pool:
        found = list(pool.map(reckoned, cases))
    KEPT.write_text(json.dumps(msgspec.to_builtins(found), indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
