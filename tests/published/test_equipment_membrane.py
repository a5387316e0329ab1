"""Membrane, tank and cartridge against printed figures; the source of each row is its id."""

from __future__ import annotations

import pytest

from model.equipment.relations.membrane import (
    concentrate_factor,
    fill_hours,
    mean_osmotic_bar,
    nitrate_passage,
    normalized_flow_ratio,
    normalized_salt_passage,
    osmotic_bar_of,
    permeate,
    reject,
)
from model.equipment.relations.pressure_tank import drawdown_l, shortest_run_s, shortfall_share
from model.equipment.relations.reverse_osmosis import feed_l
from model.equipment.relations.sediment_filter import drop_after_bar, drop_at_flow_bar, litres_left, share_used
from model.water.balance import charge_balance_error_percent, tds_mg_l
from model.water.carbonate import speciate
from tests.published.plain import plain
from tests.water.waters import water

PSI, GAL_L = 0.0689476, 3.785411784


def _salt_water(mg_l: float, celsius: float = 25.0) -> float:
    """Osmotic pressure of so much sodium chloride [bar]."""
    sodium = mg_l * 22.990 / 58.44
    sample = plain(sodium_mg_l=sodium, chloride_mg_l=mg_l - sodium, alkalinity_mg_l_caco3=0.0, temperature_c=celsius)
    return osmotic_bar_of(sample)


@pytest.mark.parametrize(
    ("mg_l", "psi"),
    [
        pytest.param(1000.0, 12.3, id="van't Hoff by hand: sodium chloride 1,000 mg/L, 25 degC"),
        pytest.param(750.0, 9.2, id="van't Hoff by hand: sodium chloride 750 mg/L, 25 degC"),
    ],
)
def test_osmotic_pressure(mg_l: float, psi: float) -> None:
    assert _salt_water(mg_l) / PSI == pytest.approx(psi, abs=0.05)


def test_osmotic_pressure_rule_is_lower_for_pure_salt() -> None:
    """1 psi per 100 mg/L, common practice: some 20 % under van't Hoff for sodium chloride."""
    assert 10.0 / (_salt_water(1000.0) / PSI) == pytest.approx(0.81, abs=0.02)


def test_mass_balance_of_a_plant() -> None:
    """Metcalf and Eddy: 4,000 m3/d, recovery 0.9, rejection 0.9, 400 g/m3 give 444 m3/d of 3,643 (exact 3,640)."""
    assert 400.0 * concentrate_factor(0.9, 0.1) == pytest.approx(3643.0, rel=0.002)
    assert feed_l(4000.0, 0.9) == pytest.approx(4444.0, abs=0.5)


def test_a_quarter_taken_thickens_the_rest_by_a_third() -> None:
    """4 gal in, 1 out: 1.33 at full rejection, UMass Extension."""
    assert concentrate_factor(0.25, 0.0) == pytest.approx(1.33, abs=0.004)


def test_mean_osmotic_pressure_by_hand() -> None:
    """1 bar, recovery 0.25, all kept back: (1 + 4/3) / 2."""
    assert mean_osmotic_bar(1.0, 0.25, 1.0) == pytest.approx(7.0 / 6.0)


def test_a_membrane_in_the_cold_that_is_sound() -> None:
    """26 of its 50 gal at 10 degC and 50 psi over a rating of 60 psi: 0.62 x 50/60 x 50 = 25.8, so it is at 1."""
    assert normalized_flow_ratio(25.83, 50.0, 60 * PSI, 50 * PSI, 10.0) == pytest.approx(1.0, abs=0.002)


def test_eight_gallons_at_60_fahrenheit() -> None:
    """8 gal a day at 60 F are 11.6 at 77 F by a factor of 0.69, an appliance manual; other tables 0.73 to 0.77."""
    at_77 = 8.0 * normalized_flow_ratio(8.0, 8.0, PSI, PSI, 15.6)
    assert at_77 == pytest.approx(11.6, rel=0.10)


def test_salt_passage_six_percent_a_degree() -> None:
    """+6 % a degree: Water Quality Association education kit."""
    warm, cool = (normalized_salt_passage(0.07, 4.1, 4.1, celsius) for celsius in (25.0, 24.0))
    assert warm == pytest.approx(0.07)
    assert cool / warm == pytest.approx(1.06)


@pytest.mark.parametrize("passage", [0.05, 0.07, 0.15, 0.4])
def test_the_product_holds_what_the_solids_reading_says(passage: float) -> None:
    fed = water(pH=7.2, alkalinity_mg_l_caco3=60.0, sodium_mg_l=40.0, chloride_mg_l=33.0)
    product = permeate(fed, passage, nitrate_passage(passage, 0.93, 0.85))
    assert tds_mg_l(product) / tds_mg_l(fed) == pytest.approx(passage)
    assert charge_balance_error_percent(product) == pytest.approx(charge_balance_error_percent(fed), abs=1e-6)


def test_carbon_dioxide_passes_and_the_ph_falls() -> None:
    """Nebraska Extension NebGuide G1490: carbon dioxide is not removed."""
    fed = water(pH=7.2, alkalinity_mg_l_caco3=60.0)
    product = permeate(fed, 0.07, 0.15)
    assert speciate(product).co2_mg_l == pytest.approx(speciate(fed).co2_mg_l, rel=1e-3)
    assert product.pH < fed.pH - 0.5


@pytest.mark.parametrize(
    ("rejection", "within"),
    [
        pytest.param(0.94, 0.001, id="US EPA/600/2-86/107: 94 % of nitrate, pilot polyamide"),
        pytest.param(0.92, 0.001, id="US EPA/600/2-86/107: 92 % at the low end"),
    ],
)
def test_nitrate_that_a_new_membrane_passes(rejection: float, within: float) -> None:
    assert 1.0 - nitrate_passage(0.03, 0.97, rejection) == pytest.approx(rejection, abs=within)


def test_nitrate_is_never_held_better_than_solids() -> None:
    assert nitrate_passage(0.07, 0.93, 0.99) == pytest.approx(0.07)
    assert nitrate_passage(0.14, 0.93, 0.85) == pytest.approx(0.30)


def test_reject_and_product_make_the_feed() -> None:
    fed = water(pH=7.2, alkalinity_mg_l_caco3=60.0)
    product = permeate(fed, 0.07, 0.15)
    waste = reject(fed, product, 0.22)
    for name in ("sodium_mg_l", "nitrate_mg_l_n", "alkalinity_mg_l_caco3"):
        again = 0.22 * getattr(product, name) + 0.78 * getattr(waste, name)
        assert again == pytest.approx(getattr(fed, name))


def test_filling_a_reservoir() -> None:
    """2 to 7 hours a gallon: UMass Extension. 10 L at 48 L a day are 5 h by hand."""
    assert fill_hours(10.0, 48.0) == pytest.approx(5.0)


def test_a_minute_of_15_gallons() -> None:
    """15 gpm for 1 minute at 40/60 takes 58 gal in all: Boyle's law by hand."""
    draw = drawdown_l(58 * GAL_L, 38 * PSI, 40 * PSI, 60 * PSI)
    assert shortest_run_s(draw, 15 * GAL_L) == pytest.approx(60.0, abs=0.5)


def test_a_tank_sunk_to_30_pounds_is_15_percent_short() -> None:
    """40/60: 25.8 % of the tank at 38 psi, 21.9 % at 30: Boyle's law by hand."""
    draws = [drawdown_l(100.0, charge * PSI, 40 * PSI, 60 * PSI) for charge in (30, 38)]
    assert shortfall_share(*draws) == pytest.approx(1.0 - 21.9 / 25.8, abs=0.003)


def test_a_straight_drop_is_the_exponent_one() -> None:
    """2 psi clean, half a psi a week, 10 psi at the end: 16 weeks, arithmetic."""
    used = share_used(4.0 * PSI, 2.0 * PSI, 10.0 * PSI, 1.0)
    assert 4.0 + litres_left(4.0, used) == pytest.approx(16.0)
    assert drop_after_bar(0.25, 2.0, 10.0, 1.0) == pytest.approx(4.0)


def test_the_last_third_is_the_shortest() -> None:
    """The square by hand: thirds of the rise end at 0.577, 0.816 and 1 of the litres."""
    ends = [share_used(2.0 + 8.0 * third / 3.0, 2.0, 10.0, 2.0) for third in (1, 2, 3)]
    assert ends == pytest.approx([0.5774, 0.8165, 1.0], abs=1e-4)


def test_twice_the_flow_is_twice_the_drop() -> None:
    """Darcy's law."""
    assert drop_at_flow_bar(0.2, 10.0, 20.0) == pytest.approx(0.4)
