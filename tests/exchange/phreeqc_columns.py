"""Nitrate columns by the USGS program PHREEQC; its answers are kept by: python -m tests.exchange.phreeqc_columns

The four anions are made species of their own that form no complexes, all counted in equivalents, with activity
coefficients of one by a huge ion size, so that the separation factors stay constant. The exchanger is a cation Y+
whose association constants are the factors. Twenty mixed cells, no dispersion, one cell's pore water a shift.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from itertools import pairwise
from math import log10
from pathlib import Path

import msgspec

ANIONS = ("HCO3", "Cl", "NO3", "SO4")
ELEMENTS = {"HCO3": "Bic", "Cl": "Hal", "NO3": "Nit", "SO4": "Sul"}
RESINS = {
    "standard": {"HCO3": 0.30, "Cl": 1.0, "NO3": 3.2, "SO4": 9.1},
    "selective": {"HCO3": 0.25, "Cl": 1.0, "NO3": 14.0, "SO4": 0.15},
}
"""Separation factors against chloride, from memory."""

# Feeds [meq/L] in the order of ANIONS: the well of the facts, then soft, hard, salty, gypsum and manured waters.
WATERS = (
    (4.0, 0.6, 1.43, 0.6),
    (2.0, 0.5, 0.7, 0.4),
    (1.0, 0.8, 1.0, 0.5),
    (5.5, 1.2, 0.9, 1.5),
    (4.2, 1.5, 0.74, 0.52),
    (0.6, 2.5, 1.2, 0.8),
    (3.0, 4.0, 1.0, 1.0),
    (6.0, 0.5, 2.5, 1.0),
    (2.5, 0.4, 0.36, 0.8),
    (3.5, 1.0, 1.6, 2.5),
    (1.5, 0.3, 3.0, 0.5),
    (4.5, 2.0, 0.5, 3.5),
    (0.8, 0.3, 0.5, 0.3),
)
CAPACITY_EQ_L, POROSITY, CELLS = 1.0, 0.4, 20
KEPT = Path(__file__).parent / "data" / "phreeqc_columns.json"


class Answer(msgspec.Struct, frozen=True):
    """One column: nitrate at half of the plateau first reached [BV], that plateau and the peak over feed."""

    resin: str
    feed_meq_l: dict[str, float]
    half_plateau_bv: float
    plateau_over_feed: float
    peak_over_feed: float
    tenth_of_feed_bv: float
    half_of_feed_bv: float


def definitions(factors: dict[str, float]) -> str:
    """Masters and species of the four anions and of the exchanger."""
    masters = "".join(f" {e} {e}- 0 50 50\n" for e in ELEMENTS.values())
    ions = "".join(f" {e}- = {e}-\n log_k 0\n -gamma 1e10 0\n" for e in ELEMENTS.values())
    held = "".join(f" Y+ + {ELEMENTS[ion]}- = Y{ELEMENTS[ion]}\n log_k {log10(factors[ion])!r}\n" for ion in ANIONS)
    return (
        f"SOLUTION_MASTER_SPECIES\n{masters}SOLUTION_SPECIES\n{ions}"
        f"EXCHANGE_MASTER_SPECIES\n Y Y+\nEXCHANGE_SPECIES\n Y+ = Y+\n log_k 0\n{held}"
    )


def column(
    feed: dict[str, float], factors: dict[str, float], end_bv: float, capacity_eq_l: float = CAPACITY_EQ_L
) -> list[tuple[float, float]]:
    """Bed volumes and nitrate [meq/L] at the outlet of a column in chloride form, up to `end_bv`."""
    from phreeqpython import PhreeqPython

    total, cells = sum(feed.values()), CELLS
    shifts = round(end_bv * cells / POROSITY)
    every = max(1, shifts // 4000)
    water = "".join(f" {ELEMENTS[ion]} {amount!r}\n" for ion, amount in feed.items() if amount > 0)
    text = f"""{definitions(factors)}
SOLUTION 0
 units mmol/kgw
 pH 7
 Na {total!r}
{water}SOLUTION 1-{cells}
 units mmol/kgw
 pH 7
 Na {total!r}
 Hal {total!r}
EXCHANGE 1-{cells}
 -equilibrate 1
 Y {capacity_eq_l / POROSITY!r}
END
SELECTED_OUTPUT 1
 -reset false
USER_PUNCH 1
 -headings shift nitrate
 10 PUNCH STEP_NO, TOT("Nit") * 1000
TRANSPORT
 -cells {cells}
 -shifts {shifts}
 -flow_direction forward
 -boundary_conditions flux flux
 -lengths {cells}*1
 -dispersivities {cells}*0
 -diffusion_coefficient 0
 -punch_cells {cells}
 -punch_frequency {every}
 -print_frequency {shifts}
END
"""
    engine = PhreeqPython(database="phreeqc.dat").ip
    engine.run_string(text)
    rows = engine.get_selected_output_array()[1:]
    return [(float(row[0]) * POROSITY / cells, float(row[1])) for row in rows]


def first_above(curve: Sequence[tuple[float, float]], level: float) -> float:
    """Bed volumes at which a curve first reaches a level, by straight lines between its points."""
    for (bv, value), (next_bv, next_value) in pairwise(curve):
        if next_value >= level > value:
            return bv + (next_bv - bv) * (level - value) / (next_value - value)
    raise ValueError(f"the curve does not reach {level}")


def plateau(curve: Sequence[tuple[float, float]]) -> float:
    """The level a curve first rises to: its largest value, since nitrate only falls again once sulfate comes."""
    return max(value for _, value in curve)


def answer(case: tuple[str, tuple[float, ...]]) -> Answer:
    """One column run to the end of its last wave."""
    resin, water = case
    feed = dict(zip(ANIONS, water, strict=True))
    factors = RESINS[resin]
    # The most preferred ion leaves last, at capacity over (total x its share on the resin); a sixth more for the tail.
    weighted = sum(factors[ion] * feed[ion] for ion in ANIONS)
    end_bv = 1.17 * max(factors[ion] for ion in ANIONS if feed[ion] > 0) * 1000.0 * CAPACITY_EQ_L / weighted
    curve = column(feed, factors, end_bv)
    top = plateau(curve)
    return Answer(
        resin,
        feed,
        round(first_above(curve, top / 2.0), 2),
        round((top if resin == "standard" else curve[-1][1]) / feed["NO3"], 5),
        round(top / feed["NO3"], 5),
        round(first_above(curve, 0.1 * feed["NO3"]), 2),
        round(first_above(curve, 0.5 * feed["NO3"]), 2),
    )


def main() -> None:
    """Run every water on both resins and keep the answers."""
    cases = [(resin, water) for water in WATERS for resin in RESINS]
    with ProcessPoolExecutor(2) as pool:
        found = list(pool.map(answer, cases))
    KEPT.write_text(json.dumps(msgspec.to_builtins(found), indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
