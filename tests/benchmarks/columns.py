"""Nitrate columns: the h-transform against PHREEQC's column of mixed cells, and columns that others bring in a file.

`python -m tests.benchmarks columns FILE --json`: FILE holds a JSON list of columns. Names of one column:

* needed: `feed_meq_l`, an object of concentrations by ion [meq/L], such as
  `{"HCO3": 4.0, "Cl": 0.6, "NO3": 1.43, "SO4": 0.6}` (any names; NO3 above 0, Cl is 0 if left out);
  `separation_factors` against chloride by ion (Cl is 1), or `selectivity_coefficients` by ion, or some ions in the one
  and some in the other; `capacity_eq_l` or `capacity_meq_l` per litre of bed; `porosity`;
* `valences` by ion: the charge for a selectivity coefficient. Left out: 2 for SO4, 1 for the rest. A divalent
  coefficient is q_i c_Cl^2 / (q_Cl^2 c_i) on equivalents per litre of bead and of water; a monovalent one is a
  separation factor. Ions under `separation_factors` keep that factor whatever their charge;
* `resin_fractions` by ion: what the resin holds at the start; pure chloride if left out;
* for the blurred front all of `bead_radius_cm` [cm], `surface_diffusion_cm2_s` [cm2/s], `flow_l_per_min` [L/min], a bed
  size (`bed_l` [L], or `bed_diameter_cm` and `bed_depth_cm` [cm]) and `film_cm_s` [cm/s]; with diameter and depth the
  film may be left out and comes from a correlation (Gnielinski); `contact_s`, the empty-bed contact time [s], may
  stand for bed and flow;
* `label` (text) for the reader.

The answer is a JSON list in the same order. Each has `method` ("kinetic" where the front is blurred, otherwise
"equilibrium") and by it `bv_at_10_percent_of_feed`, `bv_at_50_percent_of_feed`, `bv_at_half_plateau` (bed volumes,
pore water counted, at half of the plateau that nitrate first reaches; null where never), `plateau_over_feed` (that
plateau; where blur keeps it from being reached, the highest level) and `peak_over_feed`. A blurred column also has the
same under `equilibrium` and `quick`.
"""

from __future__ import annotations

import json
from functools import partial
from math import isfinite, pi
from pathlib import Path
from time import perf_counter

from model.errors import BadInput
from model.water.exchange.columns import (
    Column,
    Transfer,
    equilibrium_passage,
    kinetic_passage,
    quick_passage,
)
from model.water.exchange.curve import Passage
from model.water.exchange.film import film_coefficient_cm_s
from tests.benchmarks.measure import Measure
from tests.exchange import phreeqc_columns as phreeqc

_OBJECTS = ("feed_meq_l", "separation_factors", "selectivity_coefficients", "valences", "resin_fractions")
_SIZES = ("bed_l", "bed_diameter_cm", "bed_depth_cm", "flow_l_per_min", "contact_s")
_RATES = ("bead_radius_cm", "surface_diffusion_cm2_s", "film_cm_s")
_NUMBERS = ("capacity_eq_l", "capacity_meq_l", "porosity", *_RATES, *_SIZES)
WITHIN = 0.03
_CASE = ("standard", 0)

Numbers = dict[str, float]
Answer = dict[str, object]


def answers(path: Path) -> list[Answer]:
    """What the module's text says, for each column of the file. Raises BadInput that names the row and the fault."""
    try:
        rows = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise BadInput(f"{path} cannot be read as JSON: {error}.", "Give a JSON list of columns.") from error
    if not isinstance(rows, list):
        raise BadInput(f"{path} holds no list.", "Give a JSON list of columns.")
    return [_named(row, number) for number, row in enumerate(rows, start=1)]


def _named(row: object, number: int) -> Answer:
    try:
        return answer(row)
    except BadInput as error:
        raise BadInput(f"Row {number}: {error.what}", error.now) from error


def answer(row: object) -> Answer:
    """The answer for one column. Raises BadInput."""
    if not isinstance(row, dict):
        raise BadInput("It is not an object with names.", "Give feed_meq_l, separation_factors and so on.")
    objects, numbers = _objects(row), _numbers(row)
    unknown = [name for name in row if name not in (*_OBJECTS, *_NUMBERS, "label")]
    if unknown:
        raise BadInput(f"{unknown[0]!r} is not known.", f"Names: {', '.join((*_OBJECTS, *_NUMBERS, 'label'))}.")
    asked, ion = _column(objects, numbers)
    rates = _transfer(numbers)
    even = _shown(equilibrium_passage(asked, ion))
    if rates is None:
        return {"method": "equilibrium", **even}
    shown = _shown(kinetic_passage(asked, rates, ion))
    return {"method": "kinetic", **shown, "equilibrium": even, "quick": _shown(quick_passage(asked, rates, ion))}


def _shown(seen: Passage) -> Answer:
    return {
        "bv_at_10_percent_of_feed": seen.tenth_of_feed_bv,
        "bv_at_50_percent_of_feed": seen.half_of_feed_bv,
        "bv_at_half_plateau": seen.half_plateau_bv,
        "plateau_over_feed": seen.plateau_over_feed,
        "peak_over_feed": seen.peak_over_feed,
    }


def _objects(row: dict[str, object]) -> dict[str, Numbers]:
    found: dict[str, Numbers] = {}
    for name in _OBJECTS:
        value = row.get(name, {})
        if not isinstance(value, dict):
            raise BadInput(f"{name} is not an object of numbers by ion.")
        found[name] = {str(ion): _number(f"{name} of {ion}", amount) for ion, amount in value.items()}
    return found


def _numbers(row: dict[str, object]) -> Numbers:
    return {name: _number(name, row[name]) for name in _NUMBERS if row.get(name) is not None}


def _number(name: str, value: object) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not isfinite(value) or abs(value) > 1e300:
        raise BadInput(f"{name} is {value!r}, not a number.")
    return float(value)


def _column(objects: dict[str, Numbers], numbers: Numbers) -> tuple[Column, int]:
    feed, fixed, selective = (objects[name] for name in _OBJECTS[:3])
    if feed.get("NO3", 0.0) <= 0.0:
        raise BadInput("feed_meq_l has no NO3 above 0, so no nitrate front.")
    ions = sorted({"Cl", *feed})
    factors = {"Cl": 1.0, **fixed, **selective}
    lacking = [ion for ion in ions if ion not in factors]
    strangers = [ion for name in _OBJECTS[1:] for ion in objects[name] if ion not in ions]
    both = [ion for ion in fixed if ion in selective]
    if lacking or strangers or both or factors["Cl"] != 1.0:
        raise BadInput(
            "Each ion of the feed needs a factor or coefficient against chloride, one of the two, and no other ion may "
            f"have one; see {(lacking + strangers + both + ['Cl, which is 1'])[0]}."
        )
    if ("capacity_eq_l" in numbers) == ("capacity_meq_l" in numbers) or "porosity" not in numbers:
        raise BadInput("It needs porosity and one of capacity_eq_l and capacity_meq_l.")
    resin = objects["resin_fractions"] or {"Cl": 1.0}
    valences = {"SO4": 2.0, **objects["valences"]}
    if any(valences.get(ion, 1.0) not in (1.0, 2.0) for ion in selective):
        raise BadInput("A valence is 1 or 2.")
    asked = Column(
        feed_meq_l=tuple(feed.get(ion, 0.0) for ion in ions),
        resin_fractions=tuple(resin.get(ion, 0.0) for ion in ions),
        factors=tuple(factors[ion] for ion in ions),
        valences=tuple(int(valences.get(ion, 1.0)) if ion in selective else 1 for ion in ions),
        capacity_meq_l=numbers.get("capacity_meq_l", 1000.0 * numbers.get("capacity_eq_l", 0.0)),
        porosity=numbers["porosity"],
    )
    return asked, ions.index("NO3")


def _transfer(numbers: Numbers) -> Transfer | None:
    """Rates of the blurred front; None where none of its numbers is given. Raises BadInput where some are."""
    if not any(name in numbers for name in (*_RATES, *_SIZES)):
        return None
    for name in (name for name in (*_RATES, *_SIZES) if numbers.get(name, 1.0) <= 0.0):
        raise BadInput(f"{name} is {numbers[name]:g}, which cannot be.", "Give a number above 0.")
    area = pi / 4.0 * numbers.get("bed_diameter_cm", 0.0) ** 2
    bed_l = numbers.get("bed_l") or area * numbers.get("bed_depth_cm", 0.0) / 1000.0
    flow = numbers.get("flow_l_per_min", 0.0)
    contact = numbers.get("contact_s") or (60.0 * bed_l / flow if flow else 0.0)
    film = numbers.get("film_cm_s")
    if film is None and area and flow and "bead_radius_cm" in numbers:
        velocity = flow * 1000.0 / 60.0 / area
        film = film_coefficient_cm_s(velocity, numbers["bead_radius_cm"], numbers["porosity"])
    if not contact or not film or any(name not in numbers for name in _RATES[:2]):
        raise BadInput(
            "A blurred front needs bead_radius_cm, surface_diffusion_cm2_s, film_cm_s, a bed (bed_l, or "
            "bed_diameter_cm and bed_depth_cm) and flow_l_per_min; some are missing.",
            "Give all, or none for the equilibrium answer.",
        )
    return Transfer(
        film_cm_s=film,
        bead_radius_cm=numbers["bead_radius_cm"],
        surface_diffusion_cm2_s=numbers["surface_diffusion_cm2_s"],
        contact_s=contact,
    )


def nitrate_column() -> Measure:
    """Time of the whole breakthrough curve over that of one PHREEQC column. Fails if the two differ by over 3 %."""
    resin, number = _CASE
    feed = dict(zip(phreeqc.ANIONS, phreeqc.WATERS[number], strict=True))
    start = perf_counter()
    theirs = phreeqc.answer((resin, phreeqc.WATERS[number]))
    theirs_s = perf_counter() - start
    asked = Column(
        feed_meq_l=tuple(feed.values()),
        resin_fractions=(0.0, 1.0, 0.0, 0.0),
        factors=tuple(phreeqc.RESINS[resin][ion] for ion in feed),
        valences=(1, 1, 1, 1),
        capacity_meq_l=1000.0 * phreeqc.CAPACITY_EQ_L,
        porosity=phreeqc.POROSITY,
    )
    ours_s, ours = _timed(partial(equilibrium_passage, asked, phreeqc.ANIONS.index("NO3")))
    assert ours.half_plateau_bv is not None
    assert abs(ours.half_plateau_bv / theirs.half_plateau_bv - 1.0) <= WITHIN
    assert abs(ours.peak_over_feed / theirs.peak_over_feed - 1.0) <= WITHIN
    return Measure(
        "nitrate_column",
        theirs_s / ours_s,
        1e4,
        "faster than PHREEQC's column of 20 cells (phreeqpython)",
        at_least=True,
    )


def _timed(work: partial[Passage], rounds: int = 200) -> tuple[float, Passage]:
    times = []
    for _ in range(rounds):
        start = perf_counter()
        found = work()
        times.append(perf_counter() - start)
    return sorted(times)[rounds // 2], found
