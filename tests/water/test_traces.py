"""Bacteria, metals and nitrite against their limits; the source of each row is its id."""

from __future__ import annotations

import pytest

from model.water.limits import limit_alerts, sodium_mg_per_day, sodium_mg_per_glass
from model.water.traces import trace_alerts
from tests.water.waters import water

CLEAN = water(pH=7.4)


@pytest.mark.parametrize(
    ("quantity", "below", "at", "level"),
    [
        pytest.param("lead", 0.0149, 0.015, "danger", id="Wisconsin NR 809 footnote 12: lead 15 ug/L"),
        pytest.param("copper", 1.29, 1.3, "warning", id="Wisconsin NR 809 footnote 13: copper 1.3 mg/L"),
        pytest.param("arsenic", 0.0099, 0.010, "danger", id="40 CFR 141: arsenic 10 ug/L"),
        pytest.param("nitrite", 0.99, 1.0, "danger", id="Pontius, Opflow 1993: nitrite 1 mg/L as N"),
        pytest.param("uranium", 0.029, 0.030, "danger", id="from memory: uranium 30 ug/L"),
        pytest.param("fluoride", 3.9, 4.0, "danger", id="from memory: fluoride 4 mg/L"),
    ],
)
def test_a_measured_limit(quantity: str, below: float, at: float, level: str) -> None:
    def worst(value: float) -> list[str]:
        found = limit_alerts("tap", CLEAN, None, True, measured={quantity: value})
        return [alert.level for alert in found if quantity in alert.text.lower()]

    assert level not in worst(below)
    assert worst(at) == [level]


def test_lead_between_ten_and_fifteen_is_told_ahead() -> None:
    """10 ug/L from November 2027: 2024 US rule, from memory."""
    (alert,) = limit_alerts("tap", CLEAN, None, True, measured={"lead": 0.011})
    assert alert.level == "warning"
    assert "2027" in alert.text


@pytest.mark.parametrize("quantity", ["lead", "copper"])
def test_acid_water_is_named_with_lead_and_copper(quantity: str) -> None:
    acid = trace_alerts({quantity: 2.0}, 6.2, None, True)
    neutral = trace_alerts({quantity: 2.0}, 7.4, None, True)
    assert "acid (pH 6.2)" in acid[0][1]
    assert "acid" not in neutral[0][1]


def test_nitrate_and_nitrite_count_together() -> None:
    """10 mg/L as N in sum: Pontius, Opflow 1993."""
    (alert,) = trace_alerts({"nitrite": 0.6}, 7.4, 9.5, True)
    assert "together 10.1" in alert[1]
    assert trace_alerts({"nitrite": 0.4}, 7.4, 9.5, True) == []


def test_bacteria_outrank_metals_and_nitrate() -> None:
    found = limit_alerts(
        "tap",
        water(pH=6.0, nitrate_mg_l_n=15.0),
        True,
        True,
        measured={"lead": 0.1, "arsenic": 0.1},
        e_coli_present=True,
    )
    assert "E. coli" in found[0].text
    assert {alert.level for alert in found[:4]} == {"danger"}


@pytest.mark.parametrize("quantity", ["lead", "arsenic", "uranium", "nitrite", "copper"])
def test_each_health_alert_sends_to_lab_and_health_authority(quantity: str) -> None:
    (_, text), *_ = trace_alerts({quantity: 5.0}, 7.4, None, True)
    assert "certified lab" in text
    assert "health authority" in text


def test_where_nobody_drinks_a_metal_is_a_warning() -> None:
    assert trace_alerts({"arsenic": 0.05}, None, None, False)[0][0] == "warning"


@pytest.mark.parametrize(
    ("mg_l", "mg_day"),
    [
        pytest.param(30.0, 60.0, id="EPA sodium guidance: 30 mg/L at 2 L a day"),
        pytest.param(60.0, 120.0, id="EPA sodium guidance: 60 mg/L at 2 L a day"),
        pytest.param(200.0, 400.0, id="common practice, no source: WHO 200 mg/L at 2 L a day"),
    ],
)
def test_sodium_of_a_day(mg_l: float, mg_day: float) -> None:
    assert sodium_mg_per_day(mg_l) == mg_day
    assert sodium_mg_per_glass(mg_l) == pytest.approx(mg_day / 8.0)


def test_the_sodium_alert_counts_a_glass_and_a_day() -> None:
    (alert,) = limit_alerts("tap", water(pH=7.4, sodium_mg_l=80.0), None, True)
    assert "20 mg in a glass" in alert.text
    assert "160 mg in 2 L a day" in alert.text
    assert "ask your doctor" in alert.text
