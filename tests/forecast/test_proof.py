"""The simulator and the score of the forecasts' proof, against hand counts and published sums."""

from __future__ import annotations

import ast
import json
from itertools import accumulate, repeat
from pathlib import Path
from random import Random

import pytest

from tests.benchmarks.forecast import brine, every, rules, scores, wear
from tests.benchmarks.forecast.every import run
from tests.benchmarks.forecast.homefile import HOMES, HomeFile, Misfit, read_home, read_homes
from tests.benchmarks.forecast.household import household
from tests.benchmarks.forecast.notes import HABITS
from tests.benchmarks.forecast.run import Outcome, Score
from tests.benchmarks.forecast.stock import Stock
from tests.benchmarks.forecast.table import Summary, as_json, lines

TRUTH = ("homefile", "household", "brine", "wear", "notes", "rules", "stock", "world")


@pytest.mark.parametrize("name", TRUTH)
def test_the_truth_shares_no_code_with_the_program(name: str) -> None:
    tree = ast.parse((HOMES.parent / f"{name}.py").read_text(encoding="utf-8"))
    asked = {node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    asked |= {alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names}
    own = {one for one in asked if one.startswith("tests.")}
    assert not {"model", "tui"} & {one.partition(".")[0] for one in asked}
    assert own <= {"tests.benchmarks.forecast", *(f"tests.benchmarks.forecast.{one}" for one in TRUTH)}


@pytest.mark.parametrize(
    ("override", "mornings"),
    # 300 L a day, away for days 5 to 9: 1,000 L have passed on the fourth day, then on the third after coming back.
    [(None, [4, 13]), (5, [4, 9, 14])],
)
def test_regenerations_by_hand(override: int | None, mornings: list[int]) -> None:
    litres = [300.0] * 5 + [0.0] * 5 + [300.0] * 5
    valve = brine.Valve(1000.0, 3.0, override)
    found = brine.schedule(litres, valve, repeat(1.0))
    assert [one.day for one in found] == mornings
    assert {one.kg for one in found} == {3.0}


@pytest.mark.parametrize("seed", range(5))
def test_salt_is_neither_made_nor_lost(seed: int) -> None:
    """Against a tank walked through day by day."""
    rng, days = Random(seed), 400
    planned = [brine.Regeneration(day, rng.uniform(2.0, 4.0)) for day in range(1, days) if rng.random() < 0.2]
    wanted = {one.day: one.kg for one in planned}
    stock = Stock(brine.taken_before(planned, days), repeat(30.0), line=4.0, tops_up=True, by_dose=True)
    kg, put_in, taken, short = 30.0, 30.0, 0.0, list[int]()
    fails, out = stock.fails_on, stock.out_on
    for day in range(1, days):
        dose = min(wanted.get(day, 0.0), kg)
        kg, taken = kg - dose, taken + dose
        short += [day] if dose < wanted.get(day, 0.0) else []
        assert stock.left(day) == pytest.approx(kg, abs=1e-6)
        assert (out is not None and day >= out) == (kg <= 4.0)
        assert (fails is not None and day >= fails) == bool(short)
        if rng.random() < 0.02:
            put_in += stock.renew(day)
            kg, short = 30.0, []
            fails, out = stock.fails_on, stock.out_on
    assert put_in == pytest.approx(kg + taken)


# Raw pH 6.0, alkalinity 20 mg/L as CaCO3, 10 degC, to each pH: from Tucker's table of carbon dioxide and stoichiometry.
@pytest.mark.parametrize(("out_pH", "calcite"), [(7.0, 65.9), (7.2, 79.3), (7.4, 90.2)])
def test_calcite_by_mass_balance(out_pH: float, calcite: float) -> None:
    assert wear.calcite_g_per_m3(20.0, 6.0, 10.0, out_pH) == pytest.approx(calcite, rel=0.02)


def test_a_household_uses_what_it_is_said_to_use() -> None:
    lived = household(HomeFile("plain", "family", 4, (400.0,) * 365), seed=3, days=800, known_days=700)
    assert lived.before == tuple(accumulate(lived.litres, initial=0.0))
    assert lived.trips
    assert all(lived.litres[day] == 0.0 for trip in lived.trips for day in range(trip.first, trip.last + 1))
    at_home = [litres for day, litres in enumerate(lived.litres) if not lived.away(day)]
    assert 100.0 < min(at_home) < max(at_home) < 900.0


def test_rules_by_hand() -> None:
    # 4 people x 284 L x 3.6 kg / 4,000 L = 1.0224 kg a day.
    assert rules.sized_days(4, 30.0, 3.6 / 4000.0) == 29
    past = [rules.Took(50, 0.1), rules.Took(20, 0.5), rules.Took(30, 1.0), rules.Took(45, 0.9)]
    assert rules.last_three(29)(past) == 40  # (40 + 30 + 50) / 3
    assert rules.last_three(29, 0.8)(past) == 32
    assert rules.last_three(29)([]) == 29


def _score(true: int, low: float | None, high: float | None) -> Score:
    return Score("salt", "weekly", "family", "settled", True, true, low, 14.0, high, (30, 10, 12))


def test_windows_and_errors_by_hand() -> None:
    found = [_score(14, 10, 20), _score(10, 10, 20), _score(9, 10, 20), _score(21, 10, 20), _score(14, None, None)]
    seen = scores.by_class(found)[0]
    assert (seen.scored, seen.share, seen.sooner, seen.later, seen.width_days, seen.without) == (
        4,
        0.5,
        0.25,
        0.25,
        10,
        1,
    )
    (error,) = scores.errors(found, 14)
    assert (error.scored, error.ours, error.rules) == (2, 0.0, (16, 4, 2))
    assert [one.of for one in scores.too_narrow(scores.by_class(found * 25))][:2] == ["all", "salt"]
    assert not scores.too_narrow(scores.by_class(found))


def test_run_outs_over_none_are_at_least_over_one() -> None:
    ours, fixed = scores.totals([Outcome("salt", None, "ours", 50, 0, 365), Outcome("salt", None, "fixed", 20, 4, 365)])
    assert scores.times_fewer(fixed, ours) == pytest.approx(10.0)


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("day,litres\n0,1\n", "home.csv: the header must be"),
        ("day,litres,peak_l_per_s,people,type\n0,1,1,1,x\n", "home.csv: 1 days, at least 365"),
        ("day,litres,peak_l_per_s,people,type\n" + "0,1,1,1,x\n" * 364 + "0,nan,1,1,x\n", "home.csv, line 366: 'nan'"),
    ],
)
def test_a_file_that_does_not_fit_is_named(tmp_path: Path, text: str, fault: str) -> None:
    (tmp_path / "home.csv").write_text(text)
    with pytest.raises(Misfit, match=fault):
        read_home(tmp_path / "home.csv")


def test_one_home_from_end_to_end(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(every, "HABITS", HABITS[:1])
    homes = [one for one in read_homes(HOMES) if one.name == "home18"]
    told = Summary(run(homes, seeds=1, slow_seeds=0, workers=1))
    shown = json.loads(json.dumps(as_json(told), allow_nan=False))
    (everything, *_) = shown["windows"]
    assert everything["scored"] > 20
    assert everything["width_days"] > 0
    assert {row["policy"] for row in shown["refills"]} >= {"fixed", "sized", "last three", "wellward"}
    assert all(row["renewals"] > 0 for row in shown["refills"])
    assert any("windows of 80 %" in line for line in lines(told))
