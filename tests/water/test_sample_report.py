"""What an analysis says of itself."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from model.water.sample import Sample
from model.water.sample_report import allowed_difference_meq_l, charge_check, charge_in_words, findings

FULL = {
    # 2 Ca + 1 Mg + 1 Na = 4 meq/L against 2 alkalinity + 1 Cl + 0.5 SO4 + 0.5 NO3 (from the equivalent weights)
    "pH": 7.2,
    "alkalinity_mg_l_caco3": 100.09,
    "calcium_mg_l": 40.078,
    "magnesium_mg_l": 12.1525,
    "sodium_mg_l": 22.99,
    "potassium_mg_l": 0.0,
    "chloride_mg_l": 35.45,
    "sulfate_mg_l": 24.015,
    "nitrate_mg_l_n": 7.0035,
}


def texts(known: dict[str, float]) -> str:
    return " | ".join(one.text for one in findings(known))


@pytest.mark.parametrize(
    ("cations", "anions", "allowed"),
    [(1.0, 1.0, 0.2), (3.0, 3.0, 0.2), (5.0, 5.0, 0.2), (4.0, 3.5, 0.15), (20.0, 20.0, 2.0), (0.0, 0.0, 0.2)],
    ids="Standard Methods 1030 E, from memory; {}".format,
)
def test_the_usual_difference(cations: float, anions: float, allowed: float) -> None:
    assert allowed_difference_meq_l(cations, anions) == pytest.approx(allowed)


def test_above_800_meq_there_is_no_criterion() -> None:
    assert allowed_difference_meq_l(801.0, 801.0) is None


@pytest.mark.parametrize(
    ("extra_sodium_meq", "error", "verdict"),
    [
        (0.0, 0.0, "fits"),
        (0.1, 1.235, "fits"),
        (0.4, 4.762, "acceptable"),
        (1.0, 11.11, "doubtful"),
        (6.0, 42.86, "impossible"),
        (-0.9, -12.68, "doubtful"),
    ],
)
def test_verdicts_on_a_full_analysis(extra_sodium_meq: float, error: float, verdict: str) -> None:
    check = charge_check(FULL | {"sodium_mg_l": 22.99 * (1.0 + extra_sodium_meq)})
    assert check is not None
    assert check.error_percent == pytest.approx(error, abs=0.02)
    assert check.difference_meq_l == pytest.approx(extra_sodium_meq, abs=2e-3)
    assert check.verdict == verdict
    assert check.untested == ()


@pytest.mark.parametrize("missing", ["sodium_mg_l", "chloride_mg_l", "sulfate_mg_l", "nitrate_mg_l_n"])
def test_an_ion_filled_in_cannot_speak_for_the_balance(missing: str) -> None:
    check = charge_check({name: value for name, value in FULL.items() if name != missing})
    assert check is not None
    assert check.verdict == "not_judged"
    assert missing.partition("_")[0] in charge_in_words(check)


def test_hardness_stands_for_calcium_and_magnesium_and_potassium_is_no_matter() -> None:
    known = {name: value for name, value in FULL.items() if name[:3] not in ("cal", "mag", "pot")}
    check = charge_check(known | {"hardness_mg_l_caco3": 150.13})
    assert check is not None
    assert check.verdict == "fits"


def test_where_missing_potassium_may_explain_the_lack_it_is_named() -> None:
    known = {name: value for name, value in FULL.items() if name != "potassium_mg_l"} | {"sodium_mg_l": 1.0}
    check = charge_check(known)
    assert check is not None
    assert (check.verdict, check.untested) == ("not_judged", ("potassium_mg_l",))


def test_too_little_and_nothing_dissolved_are_not_judged() -> None:
    assert charge_check({"pH": 7.0}) is None
    assert charge_check({"pH": 7.0, "alkalinity_mg_l_caco3": 0.0, "hardness_mg_l_caco3": 0.0}) is None


def test_a_sound_analysis_says_nothing() -> None:
    assert findings(FULL | {"hardness_mg_l_caco3": 150.0, "tds_mg_l": 230.0}) == ()


@pytest.mark.parametrize(
    ("changed", "level", "says"),
    [
        ({"pH": 2.0}, "warning", "pH 2.0"),
        ({"pH": 12.0}, "warning", "pH 12.0"),
        ({"sodium_mg_l": 200.0}, "warning", "over 30 %"),
        ({"chloride_mg_l": 400.0}, "warning", "anions are over"),
        ({"sodium_mg_l": 50.0}, "note", "over 5 %"),
        ({"hardness_mg_l_caco3": 300.0}, "note", "Hardness"),
        ({"tds_mg_l": 500.0}, "note", "solids"),
    ],
)
def test_what_cannot_be_is_a_finding(changed: dict[str, float], level: str, says: str) -> None:
    (found,) = findings(FULL | changed)
    assert found.level == level
    assert says in found.text


def test_in_very_dilute_water_a_large_error_is_only_a_note() -> None:
    known = dict.fromkeys(FULL, 0.0) | {"pH": 6.0, "alkalinity_mg_l_caco3": 5.0, "sodium_mg_l": 5.75}
    (found,) = findings(known)
    assert found.level == "note"
    assert "over 30 %" in found.text


NAMES = [*(name for name in Sample.__struct_fields__ if name != "assumed"), "hardness_mg_l_caco3", "tds_mg_l"]


@given(st.dictionaries(st.sampled_from(NAMES), st.floats(0.0, 50_000.0)))
def test_any_numbers_are_judged_without_failing(known: dict[str, float]) -> None:
    check = charge_check(known)
    assert all(one.text.isprintable() for one in findings(known))
    if check is not None:
        assert -100.0 <= check.error_percent <= 100.0
        assert (check.verdict == "impossible") == (abs(check.error_percent) > 30.0)
        assert charge_in_words(check)
