"""Alerts against published limits."""

from __future__ import annotations

import math

import msgspec
import pytest

from model.errors import BadInput
from model.plan_types import Alert
from model.water.limits import limit_alerts, nitrate_mg_l_n
from tests.water.waters import water

CLEAN = water(pH=7.4)


def alerts(coliform: bool | None = None, drinking: bool = True, **fields: float) -> tuple[Alert, ...]:
    """Alerts of a clean water with some fields changed."""
    return limit_alerts("tap", water(**({"pH": 7.4} | fields)), coliform, drinking)


@pytest.mark.parametrize("coliform", [None, False])
def test_a_clean_water_has_no_alert(coliform: bool | None) -> None:
    assert limit_alerts("tap", CLEAN, coliform, True) == ()


@pytest.mark.parametrize(
    ("field", "below", "above", "level", "words"),
    [
        ("nitrate_mg_l_n", 4.99, 5.0, "warning", "your action level of 5"),
        ("nitrate_mg_l_n", 4.99, 10.0, "danger", "infants under 6 months"),
        ("pH", 6.5, 6.4, "warning", "40 CFR 143.3"),
        ("pH", 8.5, 8.6, "warning", "40 CFR 143.3"),
        ("iron_mg_l", 0.3, 0.31, "note", "Iron"),
        ("manganese_mg_l", 0.05, 0.06, "note", "Manganese"),
        ("sodium_mg_l", 20.0, 21.0, "note", "500 mg of sodium a day"),
        ("sulfate_mg_l", 250.0, 251.0, "note", "Sulfate"),
        ("chloride_mg_l", 250.0, 251.0, "note", "Chloride"),
        ("alkalinity_mg_l_caco3", 700.0, 760.0, "note", "Dissolved solids"),
    ],
)
def test_a_number_past_its_limit_is_told(field: str, below: float, above: float, level: str, words: str) -> None:
    assert limit_alerts("tap", water(**{"pH": 7.4, field: below}), None, True) == ()
    (alert,) = limit_alerts("tap", water(**{"pH": 7.4, field: above}), None, True)
    assert alert.level == level
    assert alert.point == "tap"
    assert words in alert.text


def test_nitrate_at_the_limit_warns_against_boiling_and_names_whom_to_ask() -> None:
    (alert,) = alerts(nitrate_mg_l_n=12.0)

    for words in ("12.0 mg/L as N", "boiling makes nitrate stronger", "certified lab", "health authority"):
        assert words in alert.text


def test_the_owner_sets_the_action_level() -> None:
    (alert,) = limit_alerts("ro", water(pH=7.4, nitrate_mg_l_n=2.5), None, True, nitrate_action_mg_l_n=2.0)

    assert "action level of 2 " in alert.text


def test_coliform_outranks_everything() -> None:
    found = alerts(coliform=True, nitrate_mg_l_n=15.0, pH=5.0, sodium_mg_l=90.0)

    assert "Coliform" in found[0].text
    assert [alert.level for alert in found] == ["danger", "danger", "warning", "note"]


def test_where_nobody_drinks_health_is_a_warning_and_taste_is_left_out() -> None:
    found = alerts(coliform=True, drinking=False, nitrate_mg_l_n=15.0, sodium_mg_l=90.0, chloride_mg_l=400.0)

    assert [alert.level for alert in found] == ["warning", "warning"]
    assert all("Not for drinking" in alert.text for alert in found)


def test_an_assumed_number_says_so() -> None:
    sample = water(pH=7.4, sodium_mg_l=45.0)
    (alert,) = limit_alerts("tap", msgspec.structs.replace(sample, assumed=("sodium_mg_l",)), None, True)

    assert "estimated, not tested" in alert.text


@pytest.mark.parametrize("basis", ["", "NO2", "n", "mg/L"])
def test_nitrate_without_a_basis_is_refused(basis: str) -> None:
    with pytest.raises(BadInput, match="basis"):
        nitrate_mg_l_n(10.0, basis)


@pytest.mark.parametrize("value", [-1.0, math.nan, math.inf])
def test_an_impossible_nitrate_is_refused(value: float) -> None:
    with pytest.raises(BadInput, match="not possible"):
        nitrate_mg_l_n(value, "N")
