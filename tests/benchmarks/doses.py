"""pH of dosed waters: against PHREEQC, and for waters that others bring in a file.

`python -m tests.benchmarks doses FILE --json`: FILE holds a JSON list of analyses. Names of one analysis:

* needed: `pH`, `alkalinity_mg_l_caco3`, `caco3_mmol_l`, `mgo_mmol_l` (doses dissolved [mmol/L]);
* if known: `temperature_c` (11), `hardness_mg_l_caco3` or `calcium_mg_l` (0 without both), `magnesium_mg_l`,
  `sodium_mg_l`, `potassium_mg_l`, `chloride_mg_l`, `sulfate_mg_l` (as SO4), `nitrate_mg_l_n` (as N), `iron_mg_l`,
  `manganese_mg_l`; what is missing is filled in by charge balance;
* anything else may be there as text (a label), not as a number.

The answer is a JSON list in the same order, each `{"pH": ...}`: the pH of the closed water after both doses.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from functools import partial
from math import isfinite
from pathlib import Path
from random import Random

import msgspec

from model.errors import BadInput
from model.water.balance import charge_balance_error_percent, complete
from model.water.carbonate import dissolve, ph_after_dose
from model.water.sample import Sample
from tests.benchmarks.measure import Measure, ratio, seconds

_DOSES = ("caco3_mmol_l", "mgo_mmol_l")
_NAMES = frozenset((*(name for name in Sample.__struct_fields__ if name != "assumed"), "hardness_mg_l_caco3", *_DOSES))
_MOST = 1e4
_MOST_DOSE_MMOL_L = 20.0
MOST_CHARGE_ERROR_PERCENT = 30.0
WATERS = 40
WITHIN_PH = 0.03


class Question(msgspec.Struct, frozen=True):
    """A water and what is dissolved in it [mmol/L]."""

    sample: Sample
    caco3_mmol_l: float
    mgo_mmol_l: float


def answers(path: Path) -> list[dict[str, float]]:
    """The pH of each analysis in the file after its dose. Raises BadInput that names the row and what is wrong."""
    try:
        rows = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise BadInput(f"{path} cannot be read as JSON: {error}.", "Give a JSON list of analyses.") from error
    if not isinstance(rows, list):
        raise BadInput(f"{path} holds no list.", "Give a JSON list of analyses.")
    return [{"pH": _exact_ph(question(row, number))} for number, row in enumerate(rows, start=1)]


def question(row: object, number: int) -> Question:
    """One analysis of the file, checked and filled in."""
    if not isinstance(row, dict):
        raise BadInput(f"Row {number} is not an analysis.", "Give an object with names and numbers.")
    known = {name: _number(name, value, number) for name, value in row.items() if not _is_label(name, value)}
    missing = [name for name in ("pH", "alkalinity_mg_l_caco3", *_DOSES) if name not in known]
    if "hardness_mg_l_caco3" not in known:
        known.setdefault("calcium_mg_l", 0.0)
    sample = None if missing else complete({name: value for name, value in known.items() if name not in _DOSES})
    if sample is None:
        raise BadInput(f"Row {number} lacks {', '.join(missing)}.", "Add it.")
    _check(sample, number)
    return Question(sample, known["caco3_mmol_l"], known["mgo_mmol_l"])


def _is_label(name: object, value: object) -> bool:
    return name not in _NAMES and (value is None or isinstance(value, str))


def _number(name: str, value: object, number: int) -> float:
    if name not in _NAMES:
        raise BadInput(f"Row {number}: {name!r} is not known.", f"Names: {', '.join(sorted(_NAMES))}.")
    if isinstance(value, bool) or not isinstance(value, (int, float)) or not isfinite(value):
        raise BadInput(f"Row {number}: {name} is {value!r}, not a number.", "Give a number.")
    if not 0.0 <= value <= (_MOST_DOSE_MMOL_L if name in _DOSES else _MOST):
        raise BadInput(f"Row {number}: {name} is {value:g}, which cannot be.", "Check the number and its unit.")
    return float(value)


def _check(sample: Sample, number: int) -> None:
    if not 4.0 <= sample.pH <= 9.5:
        raise BadInput(f"Row {number}: pH {sample.pH:g} is outside 4 to 9.5.", "Check the pH.")
    if not 0.0 <= sample.temperature_c <= 50.0:
        raise BadInput(f"Row {number}: {sample.temperature_c:g} degC is outside 0 to 50.", "Check the temperature.")
    error = charge_balance_error_percent(sample)
    if abs(error) > MOST_CHARGE_ERROR_PERCENT:
        raise BadInput(f"Row {number}: cations and anions differ by {error:.0f} %.", "No such water can be.")


def _exact_ph(asked: Question) -> float:
    return dissolve(asked.sample, asked.caco3_mmol_l, asked.mgo_mmol_l).pH


def _spread(count: int) -> list[Question]:
    """Well waters in charge balance with doses, 3-25 degC, pH 5-8.5, alkalinity 5-250 mg/L."""
    draw = Random(41).uniform
    found = []
    for _ in range(count):
        known = {
            "pH": draw(5.0, 8.5),
            "temperature_c": draw(3.0, 25.0),
            "alkalinity_mg_l_caco3": 5.0 * 50.0 ** draw(0.0, 1.0),
            "hardness_mg_l_caco3": draw(2.0, 150.0),
            "sulfate_mg_l": draw(0.0, 40.0),
            "nitrate_mg_l_n": draw(0.0, 15.0),
            "caco3_mmol_l": draw(0.0, 0.5),
            "mgo_mmol_l": draw(0.0, 0.15),
        }
        found.append(question(known, 0))
    return [asked for asked in found if _exact_ph(asked) < 9.5]


def ph_dose() -> Measure:
    """pH of a dosed water against a warm PHREEQC: solution made, dosed, pH read, freed. Fails if they differ."""
    asked = _spread(WATERS)
    theirs_of = _phreeqc()
    for one in asked:
        ours = ph_after_dose(one.sample, one.caco3_mmol_l, one.mgo_mmol_l)
        assert abs(ours - theirs_of(one)) <= WITHIN_PH, one
    ours_s = partial(seconds, partial(_all_ours, asked))
    value = ratio(ours_s, partial(seconds, lambda: [theirs_of(one) for one in asked]), 9)
    return Measure(
        "ph_dose", 1.0 / value, 30.0, "faster than the same question to a warm PHREEQC (phreeqpython)", at_least=True
    )


def _all_ours(asked: list[Question]) -> list[float]:
    return [ph_after_dose(one.sample, one.caco3_mmol_l, one.mgo_mmol_l) for one in asked]


def _phreeqc() -> Callable[[Question], float]:
    """The same question to PHREEQC, which stays loaded."""
    from phreeqpython import PhreeqPython

    engine = PhreeqPython(database="phreeqc.dat")

    def answer(asked: Question) -> float:
        sample = asked.sample
        solution = engine.add_solution(
            {
                "units": "mg/l",
                "temp": sample.temperature_c,
                "pH": sample.pH,
                "Alkalinity": f"{sample.alkalinity_mg_l_caco3} as CaCO3",
                "Ca": sample.calcium_mg_l,
                "Mg": sample.magnesium_mg_l,
                "Na": sample.sodium_mg_l,
                "K": sample.potassium_mg_l,
                "Cl": sample.chloride_mg_l,
                "S(6)": f"{sample.sulfate_mg_l} as SO4",
                "N(5)": f"{sample.nitrate_mg_l_n} as N",
            }
        )
        solution.change({"CaCO3": asked.caco3_mmol_l, "MgO": asked.mgo_mmol_l})
        found = float(solution.pH)
        solution.forget()
        return found

    return answer
