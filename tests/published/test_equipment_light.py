"""Ultraviolet: every cell of the dose table, the lamp, the sleeve and the water; the source of each row is its id."""

from __future__ import annotations

import pytest

from model.equipment.relations.lamp import (
    estimated_uvt_percent,
    lamp_output_share,
    mean_light_share,
    output_of_rating,
    sleeve_share,
    transmittance_of_rating,
)
from model.equipment.relations.peak_flow import peak_l_per_min
from model.equipment.relations.ultraviolet import log_inactivation

LOGS = (0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 4.0)
PRINTED = {
    "cryptosporidium": (1.6, 2.5, 3.9, 5.8, 8.5, 12, 15, 22),
    "giardia": (1.5, 2.1, 3.0, 5.2, 7.7, 11, 15, 22),
    "virus": (39, 58, 79, 100, 121, 143, 163, 186),
}
CELLS = [
    pytest.param(organism, dose, log, id=f"US EPA 2006 UV Disinfection Guidance Manual: {organism} {log:g} log")
    for organism, doses in PRINTED.items()
    for dose, log in zip(doses, LOGS, strict=True)
]


@pytest.mark.parametrize(("organism", "dose", "log"), CELLS)
def test_every_cell_of_the_dose_table(organism: str, dose: float, log: float) -> None:
    assert log_inactivation(float(dose))[organism] == log
    assert log_inactivation(dose - 0.01)[organism] == log - 0.5


def test_a_dose_of_40_gives_no_more_than_the_table() -> None:
    """40 mJ/cm2: both cysts 4 log, virus 0.5 (39): US EPA 2006, read by steps."""
    assert log_inactivation(40.0) == {"cryptosporidium": 4.0, "giardia": 4.0, "virus": 0.5}


@pytest.mark.parametrize(
    ("uvt", "mean"),
    [(95.0, 0.975), (85.0, 0.923), (75.0, 0.869)],
    ids=lambda value: f"Beer and Lambert over 1 cm by hand, regression only: {value}",
)
def test_mean_light_in_a_centimetre(uvt: float, mean: float) -> None:
    assert mean_light_share(uvt) == pytest.approx(mean, abs=0.001)


@pytest.mark.parametrize(
    ("hours", "end", "left"),
    [
        pytest.param(0.0, 0.6, 1.0, id="definition: a new lamp"),
        pytest.param(9000.0, 0.6, 0.6, id="common practice, no source: down 40 % at 9,000 h"),
        pytest.param(9000.0, 0.7, 0.7, id="from memory: 70 % at the end"),
        pytest.param(4500.0, 0.6, 0.8, id="straight line by hand: half its life"),
        pytest.param(13_500.0, 0.6, 0.4, id="straight line by hand: half a life too long"),
    ],
)
def test_light_of_an_old_lamp(hours: float, end: float, left: float) -> None:
    assert lamp_output_share(hours, 9000.0, end) == pytest.approx(left)


def test_ageing_counts_once() -> None:
    """60 % left at the end: a rating for a new lamp loses 40 %, one for an old lamp nothing. Definition."""
    assert output_of_rating(0.6, 0.6, rated_at_end_of_life=False) == pytest.approx(0.6)
    assert output_of_rating(0.6, 0.6, rated_at_end_of_life=True) == pytest.approx(1.0)
    assert output_of_rating(1.0, 0.6, rated_at_end_of_life=True) == 1.0
    assert output_of_rating(0.3, 0.6, rated_at_end_of_life=True) == pytest.approx(0.5)


def test_water_clearer_than_rated_earns_nothing() -> None:
    assert transmittance_of_rating(95.0, 75.0) == 1.0
    assert transmittance_of_rating(65.0, 75.0) < 1.0


def test_iron_at_its_limit_takes_six_percent_of_the_light() -> None:
    """0.3 mg/L of ferric iron, 4,716 L/(mol cm) at 254 nm (from memory): 10^-0.0253 = 0.943 by hand."""
    assert estimated_uvt_percent(0.3, 0.0) / estimated_uvt_percent(0.0, 0.0) == pytest.approx(0.943, abs=0.001)


def test_water_at_one_limit_takes_two_percent_a_month() -> None:
    """Owner's default, by hand: three months at 120 mg/L of hardness, 0.98^3."""
    assert sleeve_share(91.2, 120.0, 0.0, 0.0, 0.02) == pytest.approx(0.98**3, abs=1e-4)


@pytest.mark.parametrize(
    ("people", "pump", "litres"),
    [
        pytest.param(3.0, None, 9.5 + 8.3 + 9.5, id="from memory, by hand: one shower, a tap, a toilet"),
        pytest.param(4.0, None, 2 * 9.5 + 8.3 + 9.5, id="from memory, by hand: two showers"),
        pytest.param(2.0, 45.0, 45.0, id="definition: a pump that gives more"),
        pytest.param(0.0, None, 27.3, id="from memory: nobody at home counts as one"),
    ],
)
def test_peak_flow(people: float, pump: float | None, litres: float) -> None:
    assert peak_l_per_min(people, pump) == pytest.approx(litres)
