"""Numbers in the answers against published figures and sums done by hand; the test id is the source."""

from __future__ import annotations

from datetime import timedelta

import pytest

from model.home import Home
from tests.forecast.homes import TODAY, home, raw_water, reading
from tests.guide.homes import ask, with_stage

FRESH = TODAY - timedelta(days=100)


def softened(hardness: float, sodium: float = 18.0, **changed: object) -> Home:
    """A softener alone, fed with raw water of that hardness [mg/L as CaCO3]; 5 mg/L pass it."""
    more = {"anion_resin_l": 0.0, "anion_type": "none", **changed}
    return with_stage("softener", raw_water(hardness=hardness, sodium=sodium), **more)


ROWS = [
    pytest.param("sodium", softened(105.0), "adds 46 mg/L of sodium", id="46 mg/L per 100: Connecticut DPH 29"),
    # 209 x 0.4594 = 96.0; a quarter of it is 24.
    pytest.param("sodium", softened(214.0), "96 mg/L of sodium: 24 mg a glass", id="glass of 250 mL, by hand"),
    pytest.param(
        "sodium", softened(5.0, 30.0), "30 mg/L in all, 60 mg in 2 L", id="30 mg/L is 60 mg/d: EPA 822-R-03-006"
    ),
    pytest.param(
        "sodium",
        softened(105.0, regenerant="potassium_chloride"),
        "78 mg/L of potassium",
        id="78.1 per 100, atomic weights IUPAC 2013",
    ),
    pytest.param("nitrate_40", home(raw_water(nitrate=11.3)), "raw 50", id="11.3 as N is 50 as NO3: WHO"),
    pytest.param("nitrate_40", home(raw_water(nitrate=10.0)), "raw 44", id="10 as N is 44.3 as NO3: common practice"),
    pytest.param("nitrate_40", home(), "40 as NO3 is 9.0 as N", id="40 / 4.427, by hand"),
    pytest.param(
        "air_charge",
        with_stage("pressure_tank", cut_in_bar=2.7579, cut_out_bar=4.1369),
        "38 psi, with the tank empty",
        id="cut-in 40 less 2 psi: common practice",
    ),
    pytest.param(
        "short_cycles",
        with_stage("pressure_tank", volume_l=321.76, precharge_bar=1.93053, cut_in_bar=2.06843, cut_out_bar=3.44738),
        "should give 25 gal",
        id="85 gal at 28/30/50 psi give 25.1: National Driller",
    ),
    pytest.param("waste", with_stage("reverse_osmosis", recovery=0.25), "3.0 parts", id="4 in, 1 out: UMass Extension"),
    pytest.param(
        "lamp_year",
        with_stage("ultraviolet", installed_on=FRESH),
        "2,400 of 9,000 hours",
        id="100 days x 24 h, by hand",
    ),
    pytest.param(
        "flooded",
        with_stage("well", depth_m=12.0),
        "12 m deep, under 15 m (50 ft)) is presumed",
        id="50 ft: US EPA Region VII",
    ),
    pytest.param(
        "stains",
        home(reading(TODAY, "copper", 1.5, "tap"), reading(TODAY, "lead", 0.004, "tap")),
        "Copper 1.5 mg/L on 25 Nov (action level 1.3 mg/L). Lead 0.004 mg/L on 25 Nov (action level 0.015 mg/L)",
        id="action levels: Wisconsin NR 809",
    ),
    # 20 dH and what passes the resin, 5 mg/L = 0.28 dH: (6 - 0.28) / (20 - 0.28) = 29.0 %.
    pytest.param("mix_6_dh", softened(356.96), "29% of the water", id="mass balance, by hand"),
    # 11.356 L are 3 gal.
    pytest.param(
        "brine_level", softened(200.0, brine_fill_l=11.356), "3 gal of fill dissolves 9 lb", id="3 lb a gallon"
    ),
    pytest.param("hardness_to_set", softened(150.0), ": 8.8 gpg after", id="150 mg/L is 8.8 gpg: Connecticut DPH 29"),
]


@pytest.mark.parametrize(("question", "asked", "told"), ROWS)
def test_number(question: str, asked: Home, told: str) -> None:
    assert told in ask(question, asked).said


def test_a_short_draw_down_is_said_with_how_short_it_is() -> None:
    # 25.1 gal (95.0 L) are to be expected; 19 gal (71.9 L) are 24 % less.
    tank = {"volume_l": 321.76, "precharge_bar": 1.93053, "cut_in_bar": 2.06843, "cut_out_bar": 3.44738}
    asked = with_stage("pressure_tank", reading(TODAY, "drawdown", 71.9, "pressure_tank"), **tank)
    assert "19 gal on 25 Nov, 24% short of the 25 gal" in ask("short_cycles", asked).said


def test_salt_that_stood_still_is_a_bridge_and_salt_that_fell_is_not() -> None:
    for then, now, hangs in ((40.0, 40.0, True), (40.0, 30.0, False)):
        first = reading(TODAY - timedelta(days=30), "salt_depth", then, "softener")
        asked = home(raw_water(), first, reading(TODAY, "salt_depth", now, "softener"))
        assert ask("bridge", asked).said.startswith("Perhaps a bridge") is hangs


def test_treated_nitrate_over_the_limit_is_not_left_without_a_word() -> None:
    for value, told in ((10.0, True), (9.9, False)):
        asked = home(raw_water(), reading(TODAY, "nitrate", value, "tap"), reading(TODAY, "nitrate", value, "ro"))
        for question in ("takes_nitrate", "resin_working", "all_nitrate"):
            assert ("do not drink it" in ask(question, asked).said) is told
